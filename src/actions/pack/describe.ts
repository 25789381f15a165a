/** The pages that tell a stranger what an archive holds: table schemas, the crate, where everything comes from. */
import type { Json } from '../../study/index.ts';
import type { ColumnShape, Row, TableShape, Tables } from './archive-ports.ts';
import { NOTHING } from './safe-csv.ts';

export interface PackedFile {
  readonly path: string;
  readonly bytes: number;
  readonly sha256: string;
}

const fieldType = ({ type }: ColumnShape): { readonly type: string; readonly format?: string } => {
  if (type.endsWith('[]')) return { type: 'array' };
  if (type === 'uuid') return { type: 'string', format: 'uuid' };
  if (/^(double|real|numeric)/.test(type)) return { type: 'number' };
  if (/^(smallint|integer|bigint)$/.test(type)) return { type: 'integer' };
  if (type.startsWith('timestamp')) return { type: 'datetime' };
  if (type === 'jsonb' || type === 'json') return { type: 'any' };
  return { type: type === 'boolean' || type === 'date' ? type : 'string' };
};

/** `datapackage.json`: a tabular data package (Frictionless Data Package 1), one resource a table. */
export function dataPackage(name: string, title: string, shapes: readonly TableShape[]): string {
  const carried = new Set(shapes.map((shape) => shape.name));
  return pretty({
    profile: 'tabular-data-package',
    name: `retentate-${name}`,
    title,
    resources: shapes.map((shape) => ({
      profile: 'tabular-data-resource',
      name: shape.name,
      path: `records/${shape.name}.csv`,
      format: 'csv',
      mediatype: 'text/csv',
      encoding: 'utf-8',
      dialect: { delimiter: ',', lineTerminator: '\r\n', doubleQuote: true, header: true },
      schema: {
        fields: shape.columns.map((column) => ({
          name: column.name,
          ...fieldType(column),
          ...(column.nullable ? {} : { constraints: { required: true } }),
        })),
        missingValues: [NOTHING],
        ...(shape.columns.some(({ name: n }) => n === 'id') ? { primaryKey: 'id' } : {}),
        foreignKeys: shape.links
          .filter(({ table }) => carried.has(table))
          .map(({ column, table }) => ({
            fields: column,
            reference: { resource: table === shape.name ? '' : table, fields: 'id' },
          })),
      },
    })),
  });
}

export interface CrateFacts {
  readonly title: string;
  readonly description: string;
  readonly version: string;
  readonly at: string;
  readonly files: readonly PackedFile[];
  readonly tables: Tables;
}

const MEDIA: readonly (readonly [RegExp, string])[] = [
  [/\.csv$/, 'text/csv'],
  [/\.geojson$/, 'application/geo+json'],
  [/\.jsonld$/, 'application/ld+json'],
  [/\.json$/, 'application/json'],
  [/\.jpe?g$/, 'image/jpeg'],
  [/\.png$/, 'image/png'],
  [/\.tiff?$/, 'image/tiff'],
];
const mediaOf = (path: string): string =>
  MEDIA.find(([ending]) => ending.test(path))?.[1] ?? 'application/octet-stream';

/** `ro-crate-metadata.json` (RO-Crate 1.1): what the archive is, its files, the people named, how it was made. */
export function crate({ title, description, version, at, files, tables }: CrateFacts): string {
  const people = tables.get('person') ?? [];
  return pretty({
    '@context': 'https://w3id.org/ro/crate/1.1/context',
    '@graph': [
      {
        '@id': 'ro-crate-metadata.json',
        '@type': 'CreativeWork',
        about: { '@id': './' },
        conformsTo: { '@id': 'https://w3id.org/ro/crate/1.1' },
      },
      {
        '@id': './',
        '@type': 'Dataset',
        name: title,
        description,
        datePublished: at,
        license: { '@id': '#licence' },
        author: people.map(({ id }) => ({ '@id': `#person-${id}` })),
        hasPart: files.map(({ path }) => ({ '@id': path })),
        mentions: { '@id': '#packing' },
      },
      {
        '@id': '#licence',
        '@type': 'CreativeWork',
        name: 'No licence is given',
        description: 'Ask the laboratory before you pass it on.',
      },
      ...people.map(({ id, name }) => ({ '@id': `#person-${id}`, '@type': 'Person', name })),
      { '@id': '#retentate', '@type': 'SoftwareApplication', name: 'Retentate', version },
      {
        '@id': '#packing',
        '@type': 'CreateAction',
        name: 'Packing of the study',
        endTime: at,
        instrument: { '@id': '#retentate' },
        result: { '@id': './' },
      },
      ...files.map(({ path, bytes, sha256 }) => ({
        '@id': path,
        '@type': 'File',
        name: path.split('/').at(-1)!,
        contentSize: String(bytes),
        encodingFormat: mediaOf(path),
        sha256,
      })),
    ],
  });
}

/** `provenance.jsonld`: originals, findings, marks and claims in terms of W3C PROV-O. */
export function provenance(tables: Tables, originalPath: (sha256: string) => string): string {
  const rows = (name: string): readonly Row[] => tables.get(name) ?? [];
  const ref = (kind: string, id: Json | undefined) => ({ '@id': `urn:uuid:${id}`, ...(kind ? {} : {}) });
  const when = (value: Json | undefined) => ({ '@value': String(value), '@type': 'xsd:dateTime' });
  const photos = new Map(rows('photo').map((photo) => [photo.id, photo]));
  return pretty({
    '@context': {
      prov: 'http://www.w3.org/ns/prov#',
      rdfs: 'http://www.w3.org/2000/01/rdf-schema#',
      xsd: 'http://www.w3.org/2001/XMLSchema#',
    },
    '@graph': [
      ...rows('person').map(({ id, name }) => ({
        ...ref('person', id),
        '@type': ['prov:Agent', 'prov:Person'],
        'rdfs:label': name,
      })),
      ...rows('photo').map((photo) => ({
        ...ref('photo', photo.id),
        '@type': 'prov:Entity',
        'rdfs:label': photo.name,
        'prov:atLocation': { '@id': originalPath(String(photo.sha256)) },
        'prov:wasAttributedTo': ref('person', photo.by),
        'prov:generatedAtTime': when(photo.at),
      })),
      ...rows('finding').flatMap((finding) => [
        {
          '@id': `urn:uuid:${finding.id}#search`,
          '@type': 'prov:Activity',
          'rdfs:label': `search for particles, ${finding.method} ${finding.version}`,
          'prov:used': ref('photo', finding.photo),
          'prov:endedAtTime': when(finding.at),
          'prov:wasAssociatedWith': { '@id': `urn:retentate:${finding.method}:${finding.version}` },
        },
        {
          ...ref('finding', finding.id),
          '@type': 'prov:Entity',
          'rdfs:label': `particles found on ${photos.get(finding.photo)?.name ?? 'a photograph'}`,
          'prov:wasDerivedFrom': ref('photo', finding.photo),
          'prov:wasGeneratedBy': { '@id': `urn:uuid:${finding.id}#search` },
        },
      ]),
      ...[...new Set(rows('finding').map((f) => `urn:retentate:${f.method}:${f.version}`))].map((id) => ({
        '@id': id,
        '@type': ['prov:Agent', 'prov:SoftwareAgent'],
      })),
      ...rows('mark').map((mark) => ({
        ...ref('mark', mark.id),
        '@type': 'prov:Activity',
        'rdfs:label': mark.undoes == null ? 'mark' : 'undoing of a mark',
        'prov:used': ref('photo', mark.photo),
        'prov:wasAssociatedWith': ref('person', mark.by),
        'prov:endedAtTime': when(mark.at),
        ...(mark.undoes == null ? {} : { 'prov:wasInformedBy': ref('mark', mark.undoes) }),
      })),
      ...rows('claim_snapshot').map((claim) => ({
        ...ref('claim', claim.id),
        '@type': 'prov:Entity',
        'rdfs:label': 'claim',
        'prov:wasAttributedTo': ref('person', claim.by),
        'prov:generatedAtTime': when(claim.at),
        'prov:wasDerivedFrom': rows('finding').map((f) => ref('finding', f.id)),
      })),
    ],
  });
}

/** Outlines of the particles of one photo as polygons in pixels of the upright photo (docs/formats.md). */
export function outlines(photo: Row, particles: readonly Row[]): string {
  const ring = (flat: readonly number[]): number[][] => {
    const points: number[][] = [];
    for (let k = 0; k + 1 < flat.length; k += 2) points.push([flat[k]!, flat[k + 1]!]);
    return points.length > 0 ? [...points, points[0]!] : [];
  };
  return JSON.stringify({
    type: 'FeatureCollection',
    format: 'retentate/outlines/1',
    axes: 'pixels of the upright full-size photo, origin top left, x to the right, y downwards',
    photo: {
      id: photo.id,
      sha256: photo.sha256,
      name: photo.name,
      width_px: photo.width_px,
      height_px: photo.height_px,
    },
    features: particles.map((p) => ({
      type: 'Feature',
      id: p.id,
      geometry: { type: 'Polygon', coordinates: [ring(p.outline_px as number[])] },
      properties: {
        finding: p.finding,
        number: p.number,
        standing: p.standing,
        counts_on: p.counts_on ?? null,
        shape: p.shape_now,
        colour: p.colour_now,
        feret_max_um: p.feret_max_um ?? null,
        area_um2: p.area_um2 ?? null,
      },
    })),
  });
}

const pretty = (value: unknown): string => `${JSON.stringify(value, null, 1)}\n`;
