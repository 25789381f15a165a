import { and, asc, eq, inArray, isNotNull, sql } from 'drizzle-orm';
import type { Desk } from '../../actions/index.ts';
import type { Point } from '../../science/imaging/finding.ts';
import type { FindingId, Measure, Measured, ParticleRecord } from '../../study/index.ts';
import * as t from '../schema.ts';
import { type Database, first } from './database.ts';

type Row = typeof t.particle.$inferSelect;

const asParticle = ({ outlinePx: flat, ...row }: Row): ParticleRecord => {
  const outlinePx: Point[] = [];
  for (let at = 0; at + 1 < flat.length; at += 2) outlinePx.push([flat[at]!, flat[at + 1]!]);
  return {
    ...row,
    outlinePx,
    centroidPx: [row.centroidPx[0]!, row.centroidPx[1]!],
    lab: [row.lab[0]!, row.lab[1]!, row.lab[2]!],
    square: row.square ? [row.square[0]!, row.square[1]!] : null,
  };
};

/**
 * One row a finding, with a list of each measure: a row a particle takes ten times as long to carry over, for every field
 * of it is unpacked by itself. JSON keeps every digit of a double.
 */
async function measured<M extends Measure>(
  db: Database,
  findings: readonly FindingId[],
  measures: readonly M[],
): Promise<ReadonlyMap<FindingId, readonly Measured<M>[]>> {
  const lists = measures.map(
    (measure) =>
      sql`json_agg(${t.particle[measure]} order by ${t.particle.number}) as ${sql.identifier(measure)}`,
  );
  const answer = await db.execute(sql`
    select ${t.particle.finding} as of, count(*)::int as many, ${sql.join(lists, sql`, `)}
    from ${t.particle}
    where ${t.particle.finding} = any(${`{${findings.join(',')}}`}::uuid[])
    group by ${t.particle.finding}`);
  type Lists = { readonly of: FindingId; readonly many: number } & Record<M, ParticleRecord[M][]>;
  const out = new Map<FindingId, readonly Measured<M>[]>(findings.map((finding) => [finding, []]));
  for (const row of (answer as unknown as { rows: Lists[] }).rows) {
    const particles = Array.from({ length: row.many }, (_, at) => {
      const one = {} as Record<M, ParticleRecord[M]>;
      for (const measure of measures) one[measure] = row[measure][at]!;
      return one as Measured<M>;
    });
    out.set(row.of, particles);
  }
  return out;
}

/** As jsonb_populate_recordset reads it: the table's own column names. */
const asStored = (p: ParticleRecord) => ({
  id: p.id,
  finding: p.finding,
  photo: p.photo,
  number: p.number,
  drawn_by: p.drawnBy,
  standing: p.standing,
  counts_on: p.countsOn,
  shape_now: p.shapeNow,
  colour_now: p.colourNow,
  outline_px: p.outlinePx.flat(),
  centroid_px: p.centroidPx,
  area_px2: p.areaPx2,
  feret_max_px: p.feretMaxPx,
  feret_min_px: p.feretMinPx,
  area_um2: p.areaUm2,
  feret_max_um: p.feretMaxUm,
  feret_min_um: p.feretMinUm,
  equivalent_diameter_um: p.equivalentDiameterUm,
  perimeter_um: p.perimeterUm,
  circularity: p.circularity,
  solidity: p.solidity,
  fibre_length_um: p.fibreLengthUm,
  fibre_width_um: p.fibreWidthUm,
  shape: p.shape,
  shape_because: p.shapeBecause,
  colour: p.colour,
  lab: p.lab,
  touches_frame: p.touchesFrame,
  square: p.square,
  frame_weight: p.frameWeight,
  certainty: p.certainty,
});

/** So many go into one statement: one text of a few megabytes at most. */
const AT_ONCE = 2000;

export const particleShelf = (db: Database): Desk['particles'] => ({
  add: async (particles) => {
    for (let from = 0; from < particles.length; from += AT_ONCE) {
      const rows = particles.slice(from, from + AT_ONCE).map(asStored);
      // Named, so that a column added later keeps its default. None of the names comes from outside.
      const columns = sql.raw(Object.keys(rows[0]!).join(', '));
      await db.execute(sql`
        insert into particle (${columns})
        select ${columns} from jsonb_populate_recordset(null::particle, ${JSON.stringify(rows)}::jsonb)`);
    }
  },
  get: async (id) => {
    const row = first(await db.select().from(t.particle).where(eq(t.particle.id, id)));
    return row && asParticle(row);
  },
  ofFinding: async (finding) =>
    (
      await db
        .select()
        .from(t.particle)
        .where(eq(t.particle.finding, finding))
        .orderBy(asc(t.particle.number))
    ).map(asParticle),
  measured: (findings, measures) => measured(db, findings, measures),
  countOf: async (finding) =>
    first(
      await db
        .select({ n: sql<number>`count(*)::int` })
        .from(t.particle)
        .where(eq(t.particle.finding, finding)),
    )!.n,
  drawnBy: async (mark) =>
    (
      await db.select().from(t.particle).where(eq(t.particle.drawnBy, mark)).orderBy(asc(t.particle.number))
    ).map(asParticle),
  some: async (ids) =>
    (
      await db
        .select()
        .from(t.particle)
        .where(inArray(t.particle.id, [...ids]))
        .orderBy(asc(t.particle.number))
    ).map(asParticle),
  countOn: async (findings, pairs) => {
    await db
      .update(t.particle)
      .set({ countsOn: null })
      .where(and(inArray(t.particle.finding, [...findings]), isNotNull(t.particle.countsOn)));
    if (pairs.length === 0) return;
    const rows = pairs.map(([id, on]) => ({ id, on }));
    await db.execute(sql`
      update particle p set counts_on = n."on"
      from jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as n(id uuid, "on" uuid)
      where p.id = n.id`);
  },
  settle: async (settled) => {
    if (settled.length === 0) return;
    const rows = settled.map(({ id, standing, shapeNow, colourNow }) => ({
      id,
      standing,
      shape_now: shapeNow,
      colour_now: colourNow,
    }));
    await db.execute(sql`
      update particle p set standing = n.standing, shape_now = n.shape_now, colour_now = n.colour_now
      from jsonb_to_recordset(${JSON.stringify(rows)}::jsonb)
        as n(id uuid, standing text, shape_now text, colour_now text)
      where p.id = n.id`);
  },
});
