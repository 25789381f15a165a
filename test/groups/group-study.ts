/** A small study in a group, made over HTTP by whoever may, with filters that photographs can be brought to. */
import sharp from 'sharp';
import { expect } from 'vitest';
import type { Person } from './group.ts';

export interface GroupStudy {
  readonly id: string;
  readonly filters: readonly string[];
}

/** `filters` blanks with a filter each, then `portions` runs of a product with one each. */
export async function makeStudy(
  bench: Person,
  name: string,
  filters: number,
  portions = 0,
): Promise<GroupStudy> {
  const done = async (method: string, route: string, body: unknown) => {
    const { status, json } = await bench.ask(method, route, body);
    expect(status, `${route} ${JSON.stringify(json)}`).toBe(200);
    return json;
  };
  const { id } = await done('POST', '/api/studies', {
    name,
    question: { product: 'worn chopping board', act: 'cut carrot', size_from_um: 50 },
  });
  const touches = {
    vessel: 'beaker',
    tool: null,
    liquid: null,
    reagent_lot: null,
    place: 'bench',
    person: null,
    filter_lot: null,
    optics: null,
  };
  const written = await done('POST', `/api/studies/${id}/procedures`, {
    name: 'filter water',
    because: '',
    steps: [
      {
        key: 'filter',
        kind: 'filter',
        quantities: { volume_ml: 200, pore_um: 10 },
        touches,
        minutes_uncovered: 1,
        openings: null,
        note: '',
      },
    ],
  });
  const edition = written.edition?.id ?? written.editions?.at(-1)?.id ?? written.id;
  const on = '2026-01-05';
  const runs: object[] = Array.from({ length: filters }, (_, k) => ({
    name: `blank ${k + 1}`,
    kind: 'procedural-blank',
    edition,
    on,
  }));
  if (portions > 0) {
    const board = await done('POST', `/api/studies/${id}/specimens`, { name: 'board' });
    for (let k = 1; k <= portions; k++) {
      const wish = { name: `portion ${k}`, mass_g: 1 };
      const { id: portion } = await done('POST', `/api/specimens/${board.id}/portions`, wish);
      runs.push({ name: `run ${k}`, kind: 'specimen-run', portion, edition, on });
    }
  }
  const made = await done('POST', `/api/studies/${id}/runs`, { runs });
  const laid: string[] = [];
  for (const run of made.runs as { id: string; name: string }[]) {
    const filter = await done('POST', `/api/runs/${run.id}/filters`, {
      name: `filter ${run.name}`,
      pore_um: 10,
      effective_diameter_mm: 40,
      pitch_mm: 3.1,
    });
    laid.push(filter.id);
  }
  return { id, filters: laid };
}

/** A picture of nothing, the same each time: read in full, and quickly known to be no filter. `k` makes each its own. */
export async function noise(k: number, width = 320, height = 240): Promise<Uint8Array> {
  const data = new Uint8Array(width * height * 3);
  let state = (k + 1) * 2654435761;
  for (let at = 0; at < data.length; at++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    data[at] = state >>> 24;
  }
  return new Uint8Array(
    await sharp(data, { raw: { width, height, channels: 3 } })
      .png()
      .toBuffer(),
  );
}

export async function bring(bench: Person, filter: string, bytes: Uint8Array, name: string): Promise<string> {
  const { status, json } = await bench.ask(
    'PUT',
    `/api/filters/${filter}/photos?name=${encodeURIComponent(name)}`,
    bytes,
  );
  expect(status, JSON.stringify(json)).toBe(200);
  return json.photo.id;
}

export interface Search {
  readonly photo: string;
  readonly state: string;
  readonly reason: string | null;
  readonly tries: number;
  readonly worker: string;
}
/** Whether nothing is left to be done: what was found in the photograph is not these tests' matter. */
export const isOver = ({ state }: Search): boolean => state === 'searched' || state === 'refused';

export const searches = async (person: Person): Promise<Search[]> =>
  (await person.ask('GET', '/api/searches')).json.searches;
