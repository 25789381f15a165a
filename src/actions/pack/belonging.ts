import type { TableShape } from './archive-ports.ts';

/** Tables that are not a study's own: carried only where a study's rows name them, never written over. */
export const SHARED: readonly string[] = ['person', 'step_kind'];

/** Tables that belong to no study and never leave the laboratory, each with the reason. */
export const NOT_OF_A_STUDY: Readonly<Record<string, string>> = {
  laboratory: 'the laboratory itself',
  account: 'who may sign in here',
  invitation: 'who may join here',
  session: 'who is signed in here',
  photo_search: 'where a search stands on this machine; it is made anew',
  journal: 'the diary of this laboratory, about all its studies',
  schema_step: 'the state of this database',
};

export interface Belonging {
  /** Table → the link that leads to the study; the study's own table has none. In an order that can be written. */
  readonly owned: ReadonlyMap<string, { readonly column: string; readonly table: string } | null>;
  /** Columns that are filled in after all rows are there, because two tables name each other. */
  readonly later: readonly { readonly table: string; readonly column: string }[];
  /** Tables that lead to no study and are in no list: a fault of the schema or of the lists. */
  readonly lost: readonly string[];
}

/**
 * Which tables belong to a study, by walking the schema: a table does that names the study or a table that does, by a
 * column that is always filled. A new table is carried without a change here.
 */
export function belonging(shapes: readonly TableShape[]): Belonging {
  const left = new Map(shapes.map((shape) => [shape.name, shape]));
  for (const name of [...SHARED, ...Object.keys(NOT_OF_A_STUDY)]) left.delete(name);
  const leads = new Map<string, { column: string; table: string } | null>();
  if (left.has('study')) leads.set('study', null);
  for (let grown = true; grown; ) {
    grown = false;
    for (const [name, shape] of left) {
      if (leads.has(name)) continue;
      const filled = (column: string) => shape.columns.some((c) => c.name === column && !c.nullable);
      const link =
        shape.links.find((l) => l.table === 'study' && filled(l.column)) ??
        shape.links.find((l) => l.table !== name && leads.has(l.table) && filled(l.column));
      if (link) {
        leads.set(name, link);
        grown = true;
      }
    }
  }
  const { order, later } = writingOrder([...leads.keys()].map((name) => left.get(name)!));
  return {
    owned: new Map(order.map((name) => [name, leads.get(name)!])),
    later,
    lost: [...left.keys()].filter((name) => !leads.has(name)),
  };
}

/** Tables after those that they name; a circle is opened at a column that may be empty. */
function writingOrder(shapes: readonly TableShape[]): Pick<Belonging, 'later'> & { order: string[] } {
  const order: string[] = [];
  const later: { table: string; column: string }[] = [];
  let waiting = [...shapes];
  while (waiting.length > 0) {
    const names = new Set(waiting.map(({ name }) => name));
    const open = (shape: TableShape) =>
      shape.links.filter(
        (l) =>
          l.table !== shape.name &&
          names.has(l.table) &&
          !later.some((x) => x.table === shape.name && x.column === l.column),
      );
    const ready = waiting.filter((shape) => open(shape).length === 0);
    if (ready.length === 0) {
      const circle = waiting
        .flatMap((shape) => open(shape).map((link) => ({ shape, link })))
        .find(({ shape, link }) => shape.columns.some((c) => c.name === link.column && c.nullable));
      if (!circle)
        throw new RangeError(`tables name each other in a circle that cannot be opened: ${[...names]}`);
      later.push({ table: circle.shape.name, column: circle.link.column });
      continue;
    }
    order.push(...ready.map(({ name }) => name));
    waiting = waiting.filter((shape) => !ready.includes(shape));
  }
  return { order, later };
}
