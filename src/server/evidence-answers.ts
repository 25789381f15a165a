/** What the routes of the evidence do. */
import type { Context } from 'hono';
import Papa from 'papaparse';
import {
  addKnownSet,
  addTestPicture,
  answerBenchTest,
  answerDrill,
  confirmedBy,
  drawSubset,
  importResults,
  type ResultLine,
  undoEvidenceTogether,
} from '../actions/index.ts';
import type {
  DrillWish,
  EVIDENCE_ROUTES,
  KnownSetWish,
  ResultsWish,
  SubsetWish,
  TestAnswerWish,
  UndoWish,
} from '../api/index.ts';
import type { TestPictureId } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { type Answering, answered, part, valid } from './answers.ts';
import { answerJson, setJson, subsetJson } from './evidence-json.ts';
import { evidenceView, missing, namesOf, subsetDetail } from './evidence-views.ts';
import { fileAnswer } from './file-answer.ts';
import { pieceView } from './piece-view.ts';
import type { Served } from './served.ts';

/** Lines of a table; names of columns whatever their case, “particle” or “particle_id”. */
export function resultLines(csv: string): Outcome<readonly ResultLine[]> {
  const read = Papa.parse<Record<string, string>>(csv.replace(/^\uFEFF/, ''), {
    header: true,
    skipEmptyLines: 'greedy',
    transformHeader: (name) => name.trim().toLowerCase(),
  });
  const fields = read.meta.fields ?? [];
  const particle = fields.find((name) => name === 'particle' || name === 'particle_id');
  const material = fields.find((name) => name === 'material' || name === 'polymer');
  if (!particle || !material) {
    return refused({
      why: 'columns-missing',
      message: `The table needs the columns “particle” and “material” in its first line; it has ${fields.filter(Boolean).join(', ') || 'none'}.`,
    });
  }
  const lines = read.data.map((row, at) => ({
    line: at + 2,
    particle: (row[particle] ?? '').trim().toLowerCase(),
    material: (row[material] ?? '').trim(),
  }));
  // a line without a material is a piece that was not measured
  const named = lines.filter((line) => line.material !== '');
  const lost = named.find((line) => !/^[0-9a-f-]{36}$/.test(line.particle));
  if (lost) {
    return refused({
      why: 'not-an-id',
      message: `Line ${lost.line}: “${lost.particle.slice(0, 60)}” is no particle’s id; keep the column as the finder table gave it.`,
    });
  }
  return done(named);
}

async function* chunks(body: ReadableStream<Uint8Array>): AsyncGenerator<Uint8Array> {
  const reader = body.getReader();
  for (let some = await reader.read(); !some.done; some = await reader.read()) yield some.value;
}

async function showPicture(served: Served, c: Context): Promise<Response> {
  const id = part(c, 'picture');
  const picture = await served.records.look((look) => look.testPictures.get(id as TestPictureId));
  if (!picture) return answered(c, missing('picture', id));
  return served.files.withFile(picture.sha256, (path) =>
    fileAnswer(c, path, {
      'content-type': `image/${picture.format}`,
      'cache-control': 'private, max-age=31536000, immutable',
    }),
  );
}

export const evidenceAnswers = (
  served: Served,
): Readonly<Record<keyof typeof EVIDENCE_ROUTES, Answering>> => ({
  evidence: async (c) => answered(c, await evidenceView(served, part(c, 'study'))),
  undoEvidence: async (c) => {
    const { undoes } = valid<UndoWish>(c, 'json');
    return answered(
      c,
      await undoEvidenceTogether(served, {
        study: part(c, 'study'),
        undoes: typeof undoes === 'string' ? [undoes] : undoes,
        by: served.person,
      }),
      (made) => ({ id: made.at(-1)!.id }),
    );
  },
  answerTest: async (c) => {
    const { on_glass, ...wish } = valid<TestAnswerWish>(c, 'json');
    const made = await answerBenchTest(served, {
      ...wish,
      particle: part(c, 'particle'),
      onGlass: on_glass,
      by: served.person,
    });
    if (!made.ok) return answered(c, made);
    const shown = await served.records.look(async (look) => ({
      people: await namesOf(look),
      number: (await look.particles.get(made.value.particle))?.number ?? 1,
    }));
    return c.json(answerJson(made.value, { ...shown, undone: false }));
  },
  addTestPicture: async (c) => {
    const body = c.req.raw.body;
    const kept = await addTestPicture(served, {
      particle: part(c, 'particle'),
      name: valid<{ name: string }>(c, 'query').name,
      source: body ? { stream: chunks(body) } : { bytes: new Uint8Array() },
      by: served.person,
    });
    return answered(c, kept, ({ id }) => ({ id }));
  },
  testPicture: (c) => showPicture(served, c),
  addKnownSet: async (c) => {
    const { pieces, ...wish } = valid<KnownSetWish>(c, 'json');
    const made = await addKnownSet(served, {
      ...wish,
      study: part(c, 'study'),
      pieces: pieces.map(({ size_um, ...piece }) => ({ ...piece, sizeUm: size_um })),
      by: served.person,
    });
    const people = await served.records.look(namesOf);
    return answered(c, made, (set) => setJson(set, people));
  },
  answerDrill: async (c) =>
    answered(
      c,
      await answerDrill(served, { ...valid<DrillWish>(c, 'json'), set: part(c, 'set'), by: served.person }),
      (made) => ({ taken: made.length }),
    ),
  drawSubset: async (c) => {
    const made = await drawSubset(served, {
      ...valid<SubsetWish>(c, 'json'),
      study: part(c, 'study'),
      by: served.person,
    });
    const people = await served.records.look(namesOf);
    return answered(c, made, (subset) => subsetJson(confirmedBy(subset, [], null), people));
  },
  subset: async (c) =>
    answered(c, await served.records.look((look) => subsetDetail(look, part(c, 'subset')))),
  piece: async (c) => answered(c, await pieceView(served, part(c, 'particle'))),
  addResults: async (c) => {
    const { csv, setting } = valid<ResultsWish>(c, 'json');
    const lines = resultLines(csv);
    if (!lines.ok) return answered(c, lines);
    const study = part(c, 'study');
    const there = await served.records.look((look) => look.studies.get(study as never));
    if (!there) return answered(c, missing('study', study));
    return answered(
      c,
      await importResults(served, { lines: lines.value, setting, by: served.person }),
      (made) => ({ taken: made.length }),
    );
  },
});
