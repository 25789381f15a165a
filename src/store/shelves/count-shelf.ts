import { type SQL, sql } from 'drizzle-orm';
import type { FilterCount, Look, Scope } from '../../actions/index.ts';
import type { Database } from './database.ts';
import { runCounts } from './withdrawal-shelf.ts';

/**
 * Counts for many runs in one statement; `which` says of a run “r” whether it is one of them. A photo counts through its
 * newest finding; one that was refused or has no scale was not looked at, and a filter with no photo looked at has no count
 * (null), which is not a count of none. A piece that overlapping photographs show counts on one of them, and the area that
 * they share is taken once.
 */
async function countsOf(db: Database, which: SQL, scope: Scope): Promise<readonly FilterCount[]> {
  const shapes = sql`array[${sql.join(
    scope.shapes.map((s) => sql`${s}`),
    sql`, `,
  )}]::text[]`;
  const colours = sql`array[${sql.join(
    scope.colours.map((c) => sql`${c}`),
    sql`, `,
  )}]::text[]`;
  const to = scope.sizeToUm === null ? sql`` : sql`and pa.feret_max_um < ${scope.sizeToUm}`;
  // Materialized: without statistics the planner would work the sums out anew for every filter.
  const answer = await db.execute(sql`
      with shown as materialized (
        select distinct on (p.id) p.id as photo, p.filter, p.width_px::float8 * p.height_px as area_px2,
          f.id as finding, f.um_per_px, (f.scale->>'relativeUncertainty')::float8 as unsure,
          f.searched_fraction, f.floor_px, f.refusal is not null as refused
        from run r
        join filter fi on fi.run = r.id
        join photo_now p on p.filter = fi.id and not p.aside
        left join finding f on f.photo = p.id
        where ${which}
        order by p.id, f.turn desc
      ), together as materialized (
        select distinct on (j.filter) j.placed, j.once, j.apart
        from run r
        join filter fi on fi.run = r.id
        join joining j on j.filter = fi.id
        where ${which}
        order by j.filter, j.turn desc
      ), looked as materialized (
        select filter, count(*)::int as photos,
          (count(*) filter (where um_per_px is not null and not refused))::int as searched,
          coalesce(sum(area_px2 * searched_fraction * um_per_px * um_per_px / 1e6
            * coalesce((select t.once from together t where not t.apart and s.finding = any(t.placed)), 1))
            filter (where not refused), 0) as searched_mm2,
          max(floor_px * um_per_px) filter (where not refused) as floor_um,
          max(unsure) filter (where not refused) as unsure
        from shown s group by filter
      ), on_squares as materialized (
        select s.filter,
          count(*) filter (where pa.standing = 'kept' and pa.counts_on is null) as kept,
          count(*) filter (where pa.standing = 'unmarked' and pa.counts_on is null) as unmarked,
          count(*) filter (where pa.standing = 'dropped' and pa.counts_on is null) as dropped,
          count(*) filter (where pa.counts_on is not null) as again
        from shown s
        join particle pa on pa.finding = s.finding
        where s.um_per_px is not null and not s.refused
          and pa.standing <> 'replaced'
          and pa.feret_max_um >= ${scope.sizeFromUm} ${to}
          and (cardinality(${shapes}) = 0 or pa.shape_now = any(${shapes}))
          and (cardinality(${colours}) = 0 or pa.colour_now = any(${colours}))
        group by s.filter, s.photo, pa.square
      ), seen as materialized (
        select filter, sum(kept)::int as kept, sum(unmarked)::int as unmarked, sum(dropped)::int as dropped,
          sum(again)::int as again, (count(*) filter (where kept + unmarked > 0))::int as holding,
          sum((kept + unmarked) ^ 2)::float8 as of_squares
        from on_squares group by filter
      )
      select fi.id as filter, fi.run, coalesce(l.photos, 0) as photos, coalesce(l.searched, 0) as searched,
        coalesce(l.searched_mm2, 0) as "searchedMm2", l.floor_um as "floorUm",
        case when coalesce(l.searched, 0) > 0 then coalesce(s.kept, 0) + coalesce(s.unmarked, 0) end as count,
        coalesce(s.kept, 0) as kept, coalesce(s.unmarked, 0) as unmarked, coalesce(s.dropped, 0) as dropped,
        coalesce(s.again, 0) as again, l.unsure as "scaleUncertainty",
        case when coalesce(l.searched, 0) > 0 then json_build_object(
          'holding', coalesce(s.holding, 0), 'totalOfSquares', coalesce(s.of_squares, 0)) end as squares
      from run r
      join filter fi on fi.run = r.id
      left join looked l on l.filter = fi.id
      left join seen s on s.filter = fi.id
      where ${which}
      order by r."order", fi.id`);
  return (answer as unknown as { rows: FilterCount[] }).rows;
}

const listed = (ids: readonly string[]): SQL =>
  sql`array[${sql.join(
    ids.map((id) => sql`${id}`),
    sql`, `,
  )}]::uuid[]`;

export const countShelf = (db: Database): Look['counts'] => ({
  ofStudy: (study, scope) => countsOf(db, sql`r.study = ${study} and ${runCounts(sql`r.id`)}`, scope),
  ofRuns: async (runs, scope) =>
    runs.length === 0 ? [] : countsOf(db, sql`r.id = any(${listed(runs)})`, scope),
  floorOfStudy: async (study) => {
    const answer = await db.execute(sql`
      select max(floor_px * um_per_px) filter (where not refused) as floor from (
        select distinct on (p.id) f.um_per_px, f.floor_px, f.refusal is not null as refused
        from run r
        join filter fi on fi.run = r.id
        join photo_now p on p.filter = fi.id and not p.aside
        join finding f on f.photo = p.id
        where r.study = ${study} and ${runCounts(sql`r.id`)}
        order by p.id, f.turn desc
      ) shown`);
    return (answer as unknown as { rows: { floor: number | null }[] }).rows[0]?.floor ?? null;
  },
});
