/** Makes the example study in a laboratory by the same deeds that people use. Everything in it is invented. */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import {
  addPerson,
  addPortion,
  addSpecimen,
  answerSafety,
  createStudy,
  findOnPhoto,
  importPhoto,
  layFilter,
  markParticles,
  recordDeviation,
  recordFraction,
  recordRun,
  reviseProcedure,
  setOptics,
  snapshotClaim,
  type Tools,
  writeProcedure,
} from '../../src/actions/index.ts';
import type { Edition, Filter, PersonId, Run, Specimen, Study } from '../../src/study/index.ts';
import type { Outcome } from '../../src/units/index.ts';
import type { PhotoTruth } from '../drawing/truth.ts';
import { type ExamplePhotograph, type ExampleRunKind, SPIKE } from '../photographs/index.ts';
import { addInventedEvidence } from './invented-evidence.ts';
import { inventedMarks } from './invented-marks.ts';
import {
  CARROT_G,
  CLOGGED,
  DAYS,
  editionOf,
  LIQUID_ML,
  OTHER_BOTTLE,
  PROCEDURES,
  QUESTION,
  runKindOf,
  SAFETY,
  SCORERS,
  STUDY_NAME,
} from './story.ts';

export interface ExampleOrder {
  /** Where the drawn photographs and the truth beside them lie. */
  readonly folder: string;
  readonly photographs: readonly ExamplePhotograph[];
  /** Version of the program, for the claim written down at the end. */
  readonly version: string;
  readonly progress?: (done: number, all: number, name: string) => void;
}

export interface ExampleMade {
  readonly study: Study;
  readonly worn: Specimen;
  readonly scorer: PersonId;
}

/** The example is made of figures that must fit; one that does not is a fault of the program. */
function must<T>(outcome: Outcome<T>): T {
  if (outcome.ok) return outcome.value;
  throw new Error(`the example laboratory: ${outcome.refusal.message}`);
}

export async function makeExampleLaboratory(tools: Tools, order: ExampleOrder): Promise<ExampleMade> {
  const scorers = [];
  for (const name of SCORERS) scorers.push(must(await addPerson(tools, { name })));
  const [mara, jonas] = scorers;
  const by = mara!.id;
  const study = must(await createStudy(tools, { name: STUDY_NAME, question: QUESTION, by, invented: true }));
  const editions = await writeProcedures(tools, study, by);
  must(await answerSafety(tools, { study: study.id, answers: SAFETY, by }));
  const { worn, fresh } = await addBoards(tools, study);
  const optics = must(
    await setOptics(tools, {
      study: study.id,
      name: 'stand, macro lens 1:1',
      lens: 'macro lens 1:1 on a stand (invented)',
      light: 'two lamps from the sides',
      umPerPx: 6,
      relativeUncertainty: 0.01,
      resolutionUm: 18,
      note: 'Invented.',
    }),
  );
  const runs = new Map<string, Run>();
  const all = order.photographs.length;
  const laid: { photograph: ExamplePhotograph; filter: Filter }[] = [];
  for (const photograph of order.photographs) {
    const run =
      runs.get(photograph.run) ??
      (await recordExampleRun(tools, {
        study,
        photograph,
        editions,
        specimen: photograph.kind === 'worn-board' ? worn : fresh,
        by,
      }));
    runs.set(photograph.run, run);
    laid.push({ photograph, filter: await layExampleFilter(tools, run, photograph) });
  }
  await recordDeviations(tools, runs, by);

  let done = 0;
  const truths = new Map<string, PhotoTruth>();
  // Photographs are brought in and searched side by side; the crew behind the tools takes them in turn.
  await Promise.all(
    laid.map(async ({ photograph, filter }) => {
      const source = { path: path.join(order.folder, photograph.file) };
      const { photo } = must(
        await importPhoto(tools, { filter: filter.id, source, name: photograph.file, by, optics: optics.id }),
      );
      const { finding } = must(await findOnPhoto(tools, { photo: photo.id }));
      const scorer = photograph.session === 2 ? jonas! : mara!;
      const truth = JSON.parse(
        await readFile(path.join(order.folder, photograph.truthFile), 'utf8'),
      ) as PhotoTruth;
      truths.set(photo.id, truth);
      const particles = await tools.records.look((look) => look.particles.ofFinding(finding.id));
      for (const mark of inventedMarks(particles, truth, scorer.name)) {
        must(await markParticles(tools, { photo: photo.id, ...mark, by: scorer.id }));
      }
      done += 1;
      order.progress?.(done, all, photograph.name);
    }),
  );
  await addInventedEvidence(tools, {
    study,
    edition: editions.get('procedural-blank')![0]!,
    optics: optics.id,
    people: [mara!, jonas!],
    folder: order.folder,
    truths,
  });
  must(await snapshotClaim(tools, { study: study.id, specimen: worn.id, by, version: order.version }));
  return { study, worn, scorer: by };
}

type Editions = ReadonlyMap<ExampleRunKind, readonly Edition[]>;

async function writeProcedures(tools: Tools, study: Study, by: PersonId): Promise<Editions> {
  const editions = new Map<ExampleRunKind, readonly Edition[]>();
  for (const [kind, { name, editions: wanted }] of Object.entries(PROCEDURES)) {
    const [first, ...later] = wanted;
    const written = must(await writeProcedure(tools, { study: study.id, name, ...first!, by }));
    const made = [written.edition];
    for (const next of later) {
      made.push(must(await reviseProcedure(tools, { procedure: written.procedure.id, ...next, by })));
    }
    editions.set(kind as ExampleRunKind, made);
  }
  return editions;
}

async function addBoards(tools: Tools, study: Study): Promise<{ worn: Specimen; fresh: Specimen }> {
  const board = {
    study: study.id,
    maker: 'invented maker',
    material: 'polyethylene, white',
    massG: 640,
    note: 'Invented.',
  };
  const worn = must(
    await addSpecimen(tools, {
      ...board,
      name: 'Worn board',
      role: 'product',
      lot: 'B-2021',
      age: 'five years of use',
    }),
  );
  const fresh = must(
    await addSpecimen(tools, { ...board, name: 'New board', role: 'comparison', lot: 'B-2026', age: 'new' }),
  );
  return { worn, fresh };
}

async function recordExampleRun(
  tools: Tools,
  {
    study,
    photograph,
    editions,
    specimen,
    by,
  }: { study: Study; photograph: ExamplePhotograph; editions: Editions; specimen: Specimen; by: PersonId },
): Promise<Run> {
  const kind = runKindOf(photograph);
  const portion =
    kind === 'specimen'
      ? must(
          await addPortion(tools, {
            specimen: specimen.id,
            name: photograph.run,
            massG: CARROT_G,
            massIs: 'food-or-liquid',
            pieces: null,
            note: 'Mass of the carrot that was cut.',
          }),
        )
      : null;
  const added = SPIKE.small.pieces + SPIKE.large.pieces;
  return must(
    await recordRun(tools, {
      study: study.id,
      edition: editions.get(photograph.kind)![editionOf(photograph) - 1]!.id,
      kind,
      name: photograph.run,
      portion: portion?.id ?? null,
      spike:
        kind === 'spiked-run'
          ? { added, colour: 'orange', material: 'known orange pieces', sizeUm: null }
          : null,
      day: DAYS[photograph.session],
      session: `session ${photograph.session}`,
      by,
      note: '',
    }),
  );
}

async function layExampleFilter(tools: Tools, run: Run, photograph: ExamplePhotograph): Promise<Filter> {
  const liquid =
    run.kind === 'air-control'
      ? null
      : must(
          await recordFraction(tools, {
            run: run.id,
            kind: 'passed',
            volumeMl: photograph.passed * LIQUID_ML,
            place: photograph.clogged ? 'on the clogged filter, dish 4, cold shelf' : 'on the filter',
            fate: photograph.clogged ? 'kept' : 'examined',
            note: photograph.clogged ? 'Covered by pulp: kept for a second digestion, not counted.' : '',
          }),
        );
  return must(
    await layFilter(tools, {
      run: run.id,
      fraction: liquid?.id ?? null,
      name: photograph.name,
      material: 'cellulose nitrate, white, printed squares',
      poreUm: 20,
      effectiveDiameterMm: photograph.filteredDiameterMm,
      pitchMm: photograph.pitchMm,
      lot: 'F-7',
      examinedStated: null,
      note: '',
    }),
  );
}

async function recordDeviations(tools: Tools, runs: ReadonlyMap<string, Run>, by: PersonId): Promise<void> {
  const bottle = runs.get(OTHER_BOTTLE.run);
  if (bottle) {
    const edition = await tools.records.look((look) => look.editions.get(bottle.edition));
    const planned = edition!.steps.find((s) => s.key === OTHER_BOTTLE.stepKey)!;
    const asDone = { ...planned, touches: { ...planned.touches, reagentLot: OTHER_BOTTLE.lot } };
    const { stepKey, what, why } = OTHER_BOTTLE;
    must(
      await recordDeviation(tools, { runs: [bottle.id], kind: 'changed', stepKey, asDone, what, why, by }),
    );
  }
  const clogged = runs.get(CLOGGED.run);
  if (clogged) {
    const edition = await tools.records.look((look) => look.editions.get(clogged.edition));
    const asDone = edition!.steps.find((s) => s.key === 'filter')!;
    const { what, why } = CLOGGED;
    must(
      await recordDeviation(tools, {
        runs: [clogged.id],
        kind: 'changed',
        stepKey: 'filter',
        asDone,
        what,
        why,
        by,
      }),
    );
  }
}
