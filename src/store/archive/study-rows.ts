/** The rows of the schema's tables as they are, for packing a study out and bringing one in. */
import { sql } from 'drizzle-orm';
import type { Row, RowsWanted, StudyRows, TableShape, Tables } from '../../actions/index.ts';
import { done, refused } from '../../units/index.ts';
import type { Database } from '../shelves/database.ts';

const rowsOf = <T>(result: unknown): T[] =>
  (Array.isArray(result) ? result : (result as { rows: unknown[] }).rows) as T[];

/** The tables of the schema, from the database's own catalogue. */
async function shapesOf(db: Database): Promise<readonly TableShape[]> {
  const columns = rowsOf<{
    name: string;
    column: string;
    type: string;
    nullable: boolean;
    generated: boolean;
  }>(
    await db.execute(sql`
        select c.relname as name, a.attname as column, format_type(a.atttypid, a.atttypmod) as type,
          not a.attnotnull as nullable, a.attidentity <> '' as generated
        from pg_class c join pg_namespace n on n.oid = c.relnamespace
          join pg_attribute a on a.attrelid = c.oid
        where n.nspname = 'public' and c.relkind = 'r' and a.attnum > 0 and not a.attisdropped
        order by c.relname, a.attnum`),
  );
  const links = rowsOf<{ name: string; column: string; table: string }>(
    await db.execute(sql`
        select c.relname as name, a.attname as column, f.relname as table
        from pg_constraint k join pg_class c on c.oid = k.conrelid join pg_class f on f.oid = k.confrelid
          join pg_namespace n on n.oid = c.relnamespace
          join pg_attribute a on a.attrelid = c.oid and a.attnum = k.conkey[1]
        where k.contype = 'f' and n.nspname = 'public' and cardinality(k.conkey) = 1
        order by c.relname, a.attname`),
  );
  return [...new Set(columns.map(({ name }) => name))].map((name) => ({
    name,
    columns: columns
      .filter((c) => c.name === name)
      .map(({ column, type, nullable, generated }) => ({ name: column, type, nullable, generated })),
    links: links.filter((l) => l.name === name).map(({ column, table }) => ({ column, table })),
  }));
}

export function studyRows(db: Database): StudyRows {
  return {
    shapes: () => shapesOf(db),
    schema: async () =>
      rowsOf<{ name: string }>(
        await db.execute(sql`select name from schema_step order by number desc limit 1`),
      )[0]!.name,
    collect: (tables) =>
      db.transaction(
        async (tx) => {
          // On the transaction's own connection: the embedded database has no second one.
          const all = new Map((await shapesOf(tx)).map((shape) => [shape.name, shape]));
          const collected = new Map<string, readonly Row[]>();
          for (const { name, where } of tables) {
            const order = all.get(name)!.columns.find((c) => c.generated)?.name ?? 'id';
            const sorted = all.get(name)!.columns.some((c) => c.name === order)
              ? sql` order by t.${sql.identifier(order)}`
              : sql``;
            const found = await tx.execute(
              sql`select to_jsonb(t) as row from ${sql.identifier(name)} t${condition(where, collected)}${sorted}`,
            );
            collected.set(
              name,
              rowsOf<{ row: Row | string }>(found).map(({ row }) =>
                typeof row === 'string' ? (JSON.parse(row) as Row) : row,
              ),
            );
          }
          return collected;
        },
        { accessMode: 'read only', isolationLevel: 'repeatable read' },
      ),
    bringIn: async (tables, order, shared) => {
      const all = new Map((await shapesOf(db)).map((shape) => [shape.name, shape]));
      try {
        await db.transaction(async (tx) => {
          for (const name of [...shared, ...order]) {
            await insertRows(
              tx,
              all.get(name)!,
              tables.get(name) ?? [],
              shared.includes(name),
              laterColumns(all, order, name),
            );
          }
          for (const name of order) await fillLater(tx, name, laterColumns(all, order, name), tables);
        });
        return done(undefined);
      } catch (failure) {
        const told = toldFailure(failure);
        if (told === null) throw failure;
        return refused({ why: 'does-not-fit', message: `The study cannot be brought in: ${told}.` });
      }
    },
  };
}

/** Columns that name a table written later; filled in when all rows are there. */
const laterColumns = (
  all: ReadonlyMap<string, TableShape>,
  order: readonly string[],
  name: string,
): string[] =>
  all
    .get(name)!
    .links.filter((l) => order.indexOf(l.table) > order.indexOf(name) && order.includes(name))
    .map(({ column }) => column);

const CHUNK = 500;

async function insertRows(
  tx: Database,
  shape: TableShape,
  rows: readonly Row[],
  shared: boolean,
  later: readonly string[],
): Promise<void> {
  const columns = shape.columns.filter((c) => !c.generated);
  const list = sql.join(
    columns.map((c) => sql.identifier(c.name)),
    sql`, `,
  );
  const picked = sql.join(
    columns.map((c) => (later.includes(c.name) ? sql`null` : sql`r.${sql.identifier(c.name)}`)),
    sql`, `,
  );
  for (let at = 0; at < rows.length; at += CHUNK) {
    const part = JSON.stringify(rows.slice(at, at + CHUNK));
    await tx.execute(sql`insert into ${sql.identifier(shape.name)} (${list})
      select ${picked} from jsonb_populate_recordset(null::${sql.identifier(shape.name)}, ${part}::jsonb) with ordinality r
      order by r.ordinality ${shared ? sql`on conflict do nothing` : sql``}`);
  }
}

async function fillLater(
  tx: Database,
  name: string,
  later: readonly string[],
  tables: Tables,
): Promise<void> {
  for (const column of later) {
    const rows = (tables.get(name) ?? []).filter((row) => row[column] != null);
    for (let at = 0; at < rows.length; at += CHUNK) {
      const part = JSON.stringify(rows.slice(at, at + CHUNK).map((row) => ({ id: row.id, of: row[column] })));
      await tx.execute(sql`update ${sql.identifier(name)} t set ${sql.identifier(column)} = r.of
        from jsonb_to_recordset(${part}::jsonb) as r(id uuid, of uuid) where t.id = r.id`);
    }
  }
}

function condition(where: RowsWanted, collected: Tables) {
  if ('all' in where) return sql``;
  if ('is' in where) return sql` where t.${sql.identifier(where.column)} = ${where.is}`;
  const ids = [
    ...new Set(
      (collected.get(where.among.table) ?? [])
        .map((row) => row[where.among.column])
        .filter((id) => id != null),
    ),
  ];
  return sql` where t.${sql.identifier(where.column)} in (select v::uuid from jsonb_array_elements_text(${JSON.stringify(ids)}::jsonb) v)`;
}

/** What a constraint of the schema says against the rows, in words; null where the machine failed. */
function toldFailure(failure: unknown): string | null {
  const cause = (failure as { cause?: unknown }).cause ?? failure;
  const { code, detail, message } = cause as { code?: string; detail?: string; message?: string };
  if (code === undefined || !/^2[23]/.test(code)) return null;
  return `${message ?? 'a rule of the records is broken'}${detail ? ` (${detail.replace(/\.$/, '').slice(0, 200)})` : ''}`;
}
