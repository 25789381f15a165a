/** A small invented study, made through the deeds: two specimen runs, two act controls, a blank, a spiked run. */
import { addPerson } from '../../src/actions/add-person.ts';
import { addPortion, addSpecimen } from '../../src/actions/add-specimen.ts';
import { createStudy } from '../../src/actions/create-study.ts';
import { findOnPhoto } from '../../src/actions/find-on-photo.ts';
import { importPhoto } from '../../src/actions/import-photo.ts';
import type { Tools } from '../../src/actions/index.ts';
import { layFilter, recordFraction } from '../../src/actions/record-at-the-bench.ts';
import { recordRun } from '../../src/actions/record-run.ts';
import { writeProcedure } from '../../src/actions/write-procedure.ts';
import type { AsGiven, Filter, Photo, Question, Run, RunKind, Step } from '../../src/study/index.ts';
import type { Outcome } from '../../src/units/index.ts';

export function given<T>(outcome: Outcome<T>): T {
  if (!outcome.ok) throw new Error(`refused: ${outcome.refusal.why}: ${outcome.refusal.message}`);
  return outcome.value;
}

/** What somebody says of a piece under the heated needle, on a glass plate at 350 °C. */
export const underNeedle = (particle: string, by: string, value = 'melts') => ({
  ...{ particle, value, by, test: 'heated-needle', setting: 'tip-350' },
  ...{ before: null, after: null, onGlass: true, note: '' },
});

export const QUESTION: AsGiven<Question> = {
  product: 'worn chopping board',
  act: 'cut carrot',
  durationMin: 10,
  liquid: 'water',
  sizeFromUm: 50,
  sizeToUm: null,
  unit: 'particles per gram',
  countsAs: 'pieces that look made, 50 µm and larger',
  shapes: [],
  colours: [],
  decision: { confidence: 0.95, matters: null },
};

export const step = (key: string, kind: string, quantities: Record<string, number> = {}): AsGiven<Step> => ({
  key,
  kind,
  quantities,
  touches: {
    vessel: 'beaker',
    tool: null,
    liquid: null,
    reagentLot: null,
    place: 'bench',
    person: null,
    filterLot: null,
    optics: null,
  },
  minutesUncovered: 1,
  openings: null,
  note: '',
});

/** `more` adds specimen runs and act controls, since a claim needs four of each. */
export async function smallStudy(tools: Tools, name = 'Boards', more = 0) {
  const person = given(await addPerson(tools, { name: 'Ada Example' }));
  const study = given(await createStudy(tools, { name, question: QUESTION, by: person.id }));
  const specimen = given(
    await addSpecimen(tools, {
      study: study.id,
      name: 'worn board',
      role: 'product',
      maker: '',
      lot: '',
      age: 'five years',
      material: 'polyethylene',
      massG: null,
      note: '',
    }),
  );
  const { edition } = given(
    await writeProcedure(tools, {
      study: study.id,
      name: 'chop and filter',
      steps: [step('cut', 'cut', { times: 100 }), step('filter', 'filter', { volume_ml: 200, pore_um: 10 })],
      by: person.id,
    }),
  );
  const runs: Run[] = [];
  const filters: Filter[] = [];
  const plan: [string, RunKind][] = [
    ['S1', 'specimen'],
    ['S2', 'specimen'],
    ['C1', 'act-control'],
    ['C2', 'act-control'],
    ['B1', 'procedural-blank'],
    ['K1', 'spiked-run'],
    ...Array.from({ length: more }, (_, k) => [`S${k + 3}`, 'specimen'] as [string, RunKind]),
    ...Array.from({ length: more }, (_, k) => [`C${k + 3}`, 'act-control'] as [string, RunKind]),
  ];
  for (const [called, kind] of plan) {
    const portion =
      kind === 'specimen'
        ? given(
            await addPortion(tools, {
              specimen: specimen.id,
              name: `portion ${called}`,
              massG: 50,
              massIs: 'food-or-liquid',
              pieces: null,
              note: '',
            }),
          )
        : null;
    const run = given(
      await recordRun(tools, {
        study: study.id,
        edition: edition.id,
        kind,
        name: called,
        portion: portion?.id ?? null,
        spike: kind === 'spiked-run' ? { added: 10, colour: 'blue', material: 'known', sizeUm: null } : null,
        day: '2026-01-05',
        session: '1',
        by: person.id,
        note: '',
      }),
    );
    given(
      await recordFraction(tools, {
        run: run.id,
        kind: 'passed',
        volumeMl: called === 'S2' ? 150 : 200,
        place: '',
        fate: 'examined',
        note: '',
      }),
    );
    if (called === 'S2') {
      given(
        await recordFraction(tools, {
          run: run.id,
          kind: 'remainder',
          volumeMl: 50,
          place: 'cold shelf, bottle 2',
          fate: 'kept',
          note: 'the filter clogged',
        }),
      );
    }
    filters.push(
      given(
        await layFilter(tools, {
          run: run.id,
          fraction: null,
          name: `filter ${called}`,
          material: 'cellulose nitrate',
          poreUm: 10,
          effectiveDiameterMm: 9,
          pitchMm: 3.1,
          lot: 'L1',
          examinedStated: null,
          note: '',
        }),
      ),
    );
    runs.push(run);
  }
  return { person, study, specimen, edition, runs, filters };
}

/** Brings a photograph to a filter and searches it. */
export async function searchedPhoto(
  tools: Tools,
  wish: {
    readonly filter: { readonly id: string };
    readonly name: string;
    readonly bytes: Uint8Array;
    readonly by: { readonly id: string };
  },
): Promise<Photo> {
  const { filter, name, bytes, by } = wish;
  const { photo } = given(
    await importPhoto(tools, { filter: filter.id, name, source: { bytes }, by: by.id }),
  );
  given(await findOnPhoto(tools, { photo: photo.id }));
  return photo;
}
