/** A report of a study: everything it says is read in one moment, and pictures are cut from the originals as they are. */
import {
  buildReport,
  type PiecePicture,
  pieceCounts,
  type Report,
  type ReportBehind,
  type ReportCoverage,
  type ReportEvidence,
  type ReportFacts,
  type ReportPhoto,
  type ReportPiece,
  type ReportProcedure,
  type ReportRun,
  scopeOf,
} from '../report/index.ts';
import {
  type Covered,
  changesNeeded,
  checkList,
  type Measured,
  mendSentence,
  type Photo,
  publishedScores,
  type RunId,
  type Study,
} from '../study/index.ts';
import { done, type Outcome } from '../units/index.ts';
import { photosOf } from './candidates.ts';
import { checklistFacts } from './check-study.ts';
import { type ClaimDetails, detailsBehind } from './claim-details.ts';
import { type CountedRun, countStudy } from './count-runs.ts';
import { falseFindsAsked } from './false-finds-asked.ts';
import { asId, known } from './known.ts';
import type { Look, Tools } from './ports.ts';
import { publishedOf } from './published-values.ts';
import { movesFacts, withdrawalFacts } from './report-record.ts';
import { roundsReported } from './report-rounds.ts';
import { type Standing, standingFrom } from './standing.ts';
import { UnsoundOriginal } from './trouble.ts';
import { type Evidence, evidenceOf } from './weigh-evidence.ts';

/** Cuts squares out of an original as small JPEGs, as data: addresses; null for one that lies outside it. */
export interface PieceCutter {
  cut(
    path: string,
    name: string,
    squares: readonly { readonly centrePx: readonly [number, number]; readonly widthPx: number }[],
  ): Promise<Outcome<readonly (string | null)[]>>;
}

export interface ReportWish {
  readonly study: string;
  /** Name and version of the program. */
  readonly program: string;
  /** Pictures of pieces for each run; 0 for none. */
  readonly picturesPerRun: number;
}

export interface StudyReport {
  readonly facts: ReportFacts;
  readonly report: Report;
}

interface Read {
  readonly facts: Omit<ReportFacts, 'pictures'>;
  readonly particles: ReadonlyMap<string, { readonly particle: PrintedParticle; readonly photo: Photo }>;
}

const PRINTED = [
  'id',
  'number',
  'standing',
  'countsOn',
  'shapeNow',
  'colourNow',
  'areaUm2',
  'feretMaxUm',
  'feretMinUm',
  'feretMaxPx',
  'centroidPx',
] as const;
type PrintedParticle = Measured<(typeof PRINTED)[number]>;

export async function reportStudy(
  tools: Pick<Tools, 'records' | 'files' | 'clock'> & { readonly cutter: PieceCutter },
  wish: ReportWish,
): Promise<Outcome<StudyReport>> {
  const read = await tools.records.look(async (look): Promise<Outcome<Read>> => {
    const study = await known(look.studies.get(asId(wish.study)), 'study', wish.study);
    return study.ok ? done(await readFacts(look, study.value, wish, tools.clock.now())) : study;
  });
  if (!read.ok) return read;
  const pictures = await cutPictures(tools, read.value, wish.picturesPerRun);
  const facts: ReportFacts = { ...read.value.facts, pictures };
  return done({ facts, report: buildReport(facts) });
}

const behindOf = ({
  categories,
  sizes,
  mass,
  balance,
  comparisons,
  counted,
  mine,
}: ClaimDetails): ReportBehind => ({
  categories,
  sizes,
  mass,
  balance,
  comparisons,
  history: counted.history.map((batch) => ({ ...batch, serves: batch.kind === mine.input.background })),
});

async function readFacts(look: Look, study: Study, wish: ReportWish, madeAt: string): Promise<Read> {
  const counted = await countStudy(look, study);
  const stands = standingFrom(counted);
  const checked = await checklistFacts(look, study, counted, stands);
  const people = new Map((await look.people.list()).map((person) => [person.id, person.name]));
  const editions = await look.editions.ofStudy(study.id);
  const procedures = new Map((await look.procedures.ofStudy(study.id)).map((one) => [one.id, one.name]));
  const names = new Map([...counted.runs, ...counted.withdrawn].map(({ run }) => [run.id, run.name]));
  const called = (id: string) => {
    const edition = editions.find((one) => one.id === id);
    return edition ? `${procedures.get(edition.procedure) ?? 'procedure'}, edition ${edition.number}` : null;
  };
  const filterOf = new Map(
    counted.runs.flatMap((run) => run.filters.map((filter) => [filter.id, { run, filter }] as const)),
  );
  const photos: ReportPhoto[] = [];
  const pieces: ReportPiece[] = [];
  const particles = new Map<string, { particle: PrintedParticle; photo: Photo }>();
  const shown = await photosOf(look, study);
  const found = await look.particles.measured(
    shown.flatMap(({ finding }) => finding?.id ?? []),
    PRINTED,
  );
  for (const { photo, finding } of shown) {
    const home = filterOf.get(photo.filter);
    photos.push({
      name: photo.name,
      run: home?.run.run.name ?? '',
      filter: home?.filter.name ?? '',
      sha256: photo.sha256,
      widthPx: photo.widthPx,
      heightPx: photo.heightPx,
      umPerPx: finding?.scale?.umPerPx ?? null,
      floorUm: finding?.scale ? finding.floorPx * finding.scale.umPerPx : null,
      refusal: finding?.refusal?.message ?? null,
      method: finding ? `${finding.method} ${finding.version}` : null,
    });
    if (!finding) continue;
    for (const particle of found.get(finding.id)!) {
      if (particle.standing === 'replaced' || particle.countsOn !== null) continue;
      particles.set(particle.id, { particle, photo });
      pieces.push({
        id: particle.id,
        run: home?.run.run.name ?? '',
        filter: home?.filter.name ?? '',
        photo: photo.name,
        number: particle.number,
        feretMaxUm: particle.feretMaxUm,
        feretMinUm: particle.feretMinUm,
        areaUm2: particle.areaUm2,
        shape: particle.shapeNow,
        colour: particle.colourNow,
        standing: particle.standing,
      });
    }
  }
  const [first] = stands.specimens;
  const details = first?.judged.ok ? await detailsBehind(look, counted, first, stands.specimens) : null;
  return {
    particles,
    facts: {
      robustness: details?.robustness ?? null,
      behind: details && behindOf(details),
      laboratory: (await look.laboratory.get()).name,
      program: wish.program,
      madeAt,
      study,
      sizeFromUm: counted.sizeFromUm,
      falseFinds: details?.falseFinds ?? (await falseFindsAsked(look, study)),
      specimens: stands.specimens.map(({ specimen, claim, judged, input, facts }) => ({
        specimen,
        claim,
        judged: judged.ok ? judged.value : null,
        input,
        facts,
      })),
      heldBack: stands.heldBack,
      published: (await publishedOf(look, study, stands)).comparisons
        .filter(({ published }) => published.stands)
        .map((one) => ({ ...one, value: one.published, by: people.get(one.published.by) ?? '' })),
      evidence: evidenceFacts(await evidenceOf(look, study)),
      rounds: await roundsReported(look, study, people),
      checklist: checkList(checked),
      scores: publishedScores(checked),
      runs: counted.runs.map((run) => runFacts(run, stands, people.get(run.run.by), called(run.run.edition))),
      coverage: coverageFacts(stands, names),
      procedures: editions.map((edition): ReportProcedure => {
        const followed = counted.runs.filter(({ run }) => run.edition === edition.id);
        return {
          name: procedures.get(edition.procedure) ?? 'procedure',
          number: edition.number,
          because: edition.because,
          steps: edition.steps,
          runs: followed.map(({ run }) => run.name),
          kinds: followed.map(({ run }) => run.kind),
        };
      }),
      withdrawals: await withdrawalFacts(look, counted, people),
      moves: await movesFacts(look, study, people),
      deviations: (await look.deviations.ofStudy(study.id)).map((one) => ({
        at: one.at,
        runs: one.runs.map((id) => names.get(id) ?? id),
        kind: one.kind,
        step: one.stepKey,
        what: one.what,
        why: one.why,
      })),
      photos,
      pieces,
    },
  };
}

const evidenceFacts = ({ rates, confirmed }: Evidence): ReportEvidence => ({
  drills: [...rates].map(([test, { plastic, others }]) => ({
    test,
    plastic: { k: plastic.k, n: plastic.n, rate: plastic.rate },
    others: { k: others.k, n: others.n, rate: others.rate },
  })),
  confirmed: confirmed.flatMap(({ confirmation, specimens, controls }) =>
    (['specimens', 'controls'] as const).flatMap((side) => {
      const found = side === 'specimens' ? specimens : controls;
      return found === null
        ? []
        : [{ test: confirmation.test, side, tested: found.tested, passed: found.passed, share: found.share }];
    }),
  ),
});

function runFacts(
  counted: CountedRun,
  { specimens, counted: { filterCounts } }: Standing,
  operator: string | undefined,
  edition: string | null,
): ReportRun {
  const { run, portion, specimen } = counted;
  return {
    id: run.id,
    name: run.name,
    kind: run.kind,
    day: run.day,
    operator: operator ?? '',
    specimen: specimen?.name ?? null,
    massG: portion?.massG ?? null,
    massIs: portion?.massIs ?? null,
    edition,
    passed: counted.passed,
    examined: counted.examined,
    extent: counted.extent,
    count: counted.count,
    kept: counted.kept,
    unmarked: counted.unmarked,
    dropped: counted.dropped,
    floorUm: counted.floorUm,
    added: run.spike?.added ?? null,
    recovered: counted.recovered,
    inBackground: specimens[0]?.input.serving.includes(run.id) ?? false,
    leftOut: specimens.some(({ input }) => input.leftOut.includes(run.id)),
    note: run.note,
    filters: counted.filters.map((filter) => {
      const seen = filterCounts.get(filter.id);
      return {
        id: filter.id,
        name: filter.name,
        material: filter.material,
        poreUm: filter.poreUm,
        diameterMm: filter.effectiveDiameterMm,
        pitchMm: filter.pitchMm,
        lot: filter.lot,
        count: seen?.count ?? null,
        photos: seen?.photos ?? 0,
        searched: seen?.searched ?? 0,
        searchedMm2: seen?.searchedMm2 ?? 0,
      };
    }),
    fractions: counted.fractions.map(({ kind, volumeMl, place, fate, note }) => ({
      kind,
      volumeMl,
      place,
      fate,
      note,
    })),
  };
}

const inWords = (list: readonly string[]): string =>
  list.length < 2 ? list.join('') : `${list.slice(0, -1).join(', ')} and ${list[list.length - 1]}`;

/** Runs that did the same together, each control a thread across their steps. */
function coverageFacts({ counted }: Standing, names: ReadonlyMap<RunId, string>): ReportCoverage[] {
  const groups = new Map<string, { one: Covered; runs: RunId[] }>();
  for (const [run, one] of counted.covered) {
    const key = JSON.stringify([one.steps.map(({ step }) => step), one.background]);
    const there = groups.get(key);
    groups.set(key, { one, runs: [...(there?.runs ?? []), run] });
  }
  const called = (ids: readonly RunId[]) => ids.map((id) => names.get(id) ?? id);
  return [...groups.values()].map(({ one, runs }) => {
    const serving = one.background.serving.map(({ control }) => control);
    return {
      runs: called(runs),
      judged: serving.length > 0,
      sentence:
        serving.length > 0
          ? `${inWords(called(runs))}: judged against ${inWords(called(serving))}, which went through the same steps.`
          : mendSentence(called(runs), one.background),
      steps: one.steps.map(({ step }) => step.key),
      threads: one.controls.map(({ runs: ids, comparison }) => ({
        control: inWords(called(ids)),
        grades: comparison.steps.map(({ grade }) => grade),
        serves: ids.some((id) => serving.includes(id)),
        changes: changesNeeded(comparison).map(({ words }) => words),
      })),
      open: one.gaps.map(({ leavesOpen }) => leavesOpen),
    };
  });
}

/** So many pictures a report holds at most; a study of many runs shows fewer of each. Project choice. */
const MOST_PICTURES = 240;

/** The largest counted pieces of every run, photo by photo; one that cannot be cut is left out, the figures stay. */
async function cutPictures(
  { files, cutter }: Pick<Tools, 'files'> & { readonly cutter: PieceCutter },
  { facts, particles }: Read,
  perRun: number,
): Promise<PiecePicture[]> {
  const scope = scopeOf(facts);
  const each = Math.min(perRun, Math.floor(MOST_PICTURES / Math.max(1, facts.runs.length)) || 1);
  const ofRun = new Map<string, ReportPiece[]>(facts.runs.map((run) => [run.name, []]));
  for (const piece of facts.pieces) if (pieceCounts(piece, scope)) ofRun.get(piece.run)?.push(piece);
  const wanted = facts.runs.flatMap((run) =>
    ofRun
      .get(run.name)!
      .sort((a, b) => (b.feretMaxUm ?? 0) - (a.feretMaxUm ?? 0))
      .slice(0, perRun === 0 ? 0 : each),
  );
  const squareOf = (piece: ReportPiece) => {
    const { particle } = particles.get(piece.id)!;
    return { centrePx: particle.centroidPx, widthPx: Math.max(24, Math.ceil(particle.feretMaxPx * 1.7)) };
  };
  const byPhoto = new Map<Photo, ReportPiece[]>();
  for (const piece of wanted) {
    const { photo } = particles.get(piece.id)!;
    byPhoto.set(photo, [...(byPhoto.get(photo) ?? []), piece]);
  }
  const images = new Map<string, string>();
  for (const [photo, pieces] of byPhoto) {
    const made = await files
      .withFile(photo.sha256, (path) => cutter.cut(path, photo.name, pieces.map(squareOf)))
      .catch((failure: unknown) => {
        if (failure instanceof UnsoundOriginal) return null;
        throw failure;
      });
    if (!made?.ok) continue;
    for (const [at, image] of made.value.entries()) if (image !== null) images.set(pieces[at]!.id, image);
  }
  return wanted.flatMap((piece): PiecePicture[] => {
    const image = images.get(piece.id);
    const { particle } = particles.get(piece.id)!;
    const umPerPx = (particle.feretMaxUm ?? 0) / Math.max(1e-9, particle.feretMaxPx);
    return image === undefined ? [] : [{ piece, image, widthUm: squareOf(piece).widthPx * umPerPx }];
  });
}
