import type { Interval } from '../../science/counting/index.ts';
import { pieceCounts, type ReportFacts, scopeOf } from '../facts.ts';

export type CsvCell = string | number | boolean | null;

export interface CsvFile {
  readonly name: string;
  readonly text: string;
}

/**
 * One cell as RFC 4180 has it. A text that a spreadsheet would run as a formula gets an apostrophe before it; numbers do not need
 * one. Null is an empty cell.
 */
export function csvCell(cell: CsvCell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') {
    if (!Number.isFinite(cell)) throw new RangeError(`CSV: a finite number is needed, given ${cell}`);
    return String(cell);
  }
  if (typeof cell === 'boolean') return cell ? 'true' : 'false';
  const safe = /^\s*[=+\-@\t\r|%]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n;]/.test(safe) || safe !== safe.trim() ? `"${safe.replaceAll('"', '""')}"` : safe;
}

export const csvText = (head: readonly string[], rows: readonly (readonly CsvCell[])[]): string =>
  `${[head, ...rows].map((row) => row.map(csvCell).join(',')).join('\r\n')}\r\n`;

/** The records of a report as tables, one file each; units are in the names, and an empty cell is not nought. */
export function csvFiles(facts: ReportFacts): readonly CsvFile[] {
  const scope = scopeOf(facts);
  const file = (name: string, head: readonly string[], rows: readonly (readonly CsvCell[])[]): CsvFile => ({
    name: `${name}.csv`,
    text: csvText(head, rows),
  });
  return [
    file(
      'claims',
      [
        'specimen',
        'state',
        'identified_by',
        'attributed',
        'net_per_gram',
        'net_lower',
        'net_upper',
        'confidence',
        'upper_limit_per_gram',
        'sentence',
      ],
      facts.specimens.map(({ specimen, claim }) => [
        specimen.name,
        claim.state,
        claim.identifiedBy,
        claim.attributed,
        claim.netPerGram?.value ?? null,
        claim.netPerGram?.lower ?? null,
        claim.netPerGram?.upper ?? null,
        claim.netPerGram?.confidence ?? null,
        claim.upperLimitPerGram,
        claim.sentence,
      ]),
    ),
    file(
      'runs',
      [
        'run',
        'kind',
        'day',
        'operator',
        'specimen',
        'mass_g',
        'mass_is',
        'edition',
        'passed',
        'examined',
        'looked',
        'count',
        'kept',
        'undecided',
        'dropped',
        'floor_um',
        'added',
        'recovered',
        'in_background',
        'left_out',
        'note',
      ],
      facts.runs.map((run) => [
        run.name,
        run.kind,
        run.day,
        run.operator,
        run.specimen,
        run.massG,
        run.massIs,
        run.edition,
        run.passed,
        run.examined,
        run.count !== null,
        run.count,
        run.count === null ? null : run.kept,
        run.count === null ? null : run.unmarked,
        run.count === null ? null : run.dropped,
        run.floorUm,
        run.added,
        run.recovered,
        run.inBackground,
        run.leftOut,
        run.note || null,
      ]),
    ),
    file(
      'filters',
      [
        'filter',
        'run',
        'material',
        'pore_um',
        'effective_diameter_mm',
        'pitch_mm',
        'lot',
        'photos',
        'searched',
        'searched_mm2',
        'looked',
        'count',
      ],
      facts.runs.flatMap((run) =>
        run.filters.map((filter) => [
          filter.name,
          run.name,
          filter.material || null,
          filter.poreUm,
          filter.diameterMm,
          filter.pitchMm,
          filter.lot || null,
          filter.photos,
          filter.searched,
          filter.searchedMm2,
          filter.count !== null,
          filter.count,
        ]),
      ),
    ),
    file(
      'particles',
      [
        'particle',
        'run',
        'filter',
        'photo',
        'number',
        'feret_max_um',
        'feret_min_um',
        'area_um2',
        'shape',
        'colour',
        'decision',
        'counts',
      ],
      facts.pieces.map((piece) => [
        piece.id,
        piece.run,
        piece.filter,
        piece.photo,
        piece.number,
        piece.feretMaxUm,
        piece.feretMinUm,
        piece.areaUm2,
        piece.shape,
        piece.colour,
        piece.standing === 'unmarked' ? 'undecided' : piece.standing,
        pieceCounts(piece, scope),
      ]),
    ),
    file(
      'photos',
      [
        'photo',
        'run',
        'filter',
        'sha256',
        'width_px',
        'height_px',
        'um_per_px',
        'floor_um',
        'method',
        'refusal',
      ],
      facts.photos.map((photo) => [
        photo.name,
        photo.run,
        photo.filter,
        photo.sha256,
        photo.widthPx,
        photo.heightPx,
        photo.umPerPx,
        photo.floorUm,
        photo.method,
        photo.refusal,
      ]),
    ),
    file(
      'fractions',
      ['run', 'fraction', 'volume_ml', 'fate', 'place', 'note'],
      facts.runs.flatMap((run) =>
        run.fractions.map((one) => [
          run.name,
          one.kind,
          one.volumeMl,
          one.fate,
          one.place || null,
          one.note || null,
        ]),
      ),
    ),
    file(
      'deviations',
      ['at', 'runs', 'kind', 'step', 'what', 'why'],
      facts.deviations.map((one) => [
        one.at,
        one.runs.join(' '),
        one.kind,
        one.step,
        one.what,
        one.why || null,
      ]),
    ),
    file(
      'withdrawals',
      ['at', 'what', 'name', 'withdrawn', 'why', 'count_open', 'counted', 'by'],
      facts.withdrawals.map((one) => [
        one.at,
        one.what,
        one.name,
        one.withdrawn,
        one.why,
        one.countOpen,
        one.counted,
        one.by,
      ]),
    ),
    file(
      'coverage',
      ['runs', 'control', 'serves', 'step', 'grade'],
      facts.coverage.flatMap((group) =>
        group.threads.flatMap((thread) =>
          group.steps.map((step, i) => [
            group.runs.join(' '),
            thread.control,
            thread.serves,
            step,
            thread.grades[i] ?? null,
          ]),
        ),
      ),
    ),
    ...behindFiles(facts).map(({ name, head, rows }) => file(name, head, rows)),
  ];
}

interface Table {
  readonly name: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly CsvCell[])[];
}

/** The parts of the product's claim, other questions and earlier controls; none where nothing was judged. */
function behindFiles({ behind }: ReportFacts): Table[] {
  if (behind === null) return [];
  const { categories, sizes, comparisons, history } = behind;
  const net = ['net_per_gram', 'net_lower', 'net_upper', 'confidence'];
  const ends = (of: Interval | null): CsvCell[] =>
    of === null ? [null, null, null, null] : [of.value, of.lower, of.upper, of.confidence];
  return [
    {
      name: 'kinds',
      head: ['kind', 'on_specimens', 'on_controls', 'expected', ...net],
      rows: categories.ok
        ? categories.value.rows.map((row) => [
            row.path.join(' / '),
            row.specimens,
            row.controls,
            row.expected,
            ...ends(row.perGram),
          ])
        : [],
    },
    {
      name: 'sizes',
      head: [
        'scheme',
        'from_um',
        'to_um',
        'seen',
        'on_specimens',
        'on_controls',
        'chance_of_finding',
        ...net,
      ],
      rows: (sizes.ok ? sizes.value : []).flatMap(({ scheme, bands }) =>
        bands.map((band) => {
          const counted = band.seen.kind === 'counted';
          return [
            scheme.id,
            band.fromUm,
            band.toUm,
            band.seen.kind,
            counted ? band.specimens : null,
            counted ? band.controls : null,
            band.chanceOfFinding,
            ...ends(band.perGram),
          ];
        }),
      ),
    },
    {
      name: 'other-questions',
      head: ['kind', 'title', 'value', 'lower', 'upper', 'confidence', 'p', 'unit', 'sentence', 'source'],
      rows: comparisons.map((one) => [
        one.kind,
        one.title,
        one.value,
        one.lower,
        one.upper,
        one.confidence,
        one.p,
        one.unit || null,
        one.sentence,
        one.source,
      ]),
    },
    {
      name: 'earlier-controls',
      head: ['study', 'kind', 'run', 'count', 'passed', 'examined', 'in_the_number'],
      rows: history.flatMap((batch) =>
        batch.runs.map((run) => [
          batch.study,
          batch.kind,
          run.name,
          run.count,
          run.passed,
          run.examined,
          batch.serves,
        ]),
      ),
    },
  ];
}
