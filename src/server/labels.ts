/** Labels: what stands at the bench under which short code, and what a code stands for. */
import type { Look } from '../actions/index.ts';
import type { LabelJson, LabelsAnswer } from '../api/index.ts';
import { hazardLine, type Id, labelCode, readLabelCode, type Step, type Study } from '../study/index.ts';
import { done, type Outcome, refused } from '../units/index.ts';
import { noSuch } from './run-deeds.ts';
import type { Served } from './served.ts';

/** Every labelled thing of a study: specimens, runs with their vessels, filters, kept remainders. */
async function labelsOf(look: Look, study: Study): Promise<LabelJson[]> {
  const at = `/studies/${study.id}`;
  const runs = await look.runs.ofStudy(study.id);
  const called = new Map(runs.map((run) => [run.id, run.name]));
  const editions = new Map((await look.editions.ofStudy(study.id)).map((edition) => [edition.id, edition]));
  const specimens = (await look.specimens.ofStudy(study.id)).map(
    (one): LabelJson => ({
      code: labelCode(one.id),
      what: 'specimen',
      name: one.name,
      lines: [study.name, one.lot === '' ? '' : `lot ${one.lot}`].filter(Boolean),
      path: `${at}/question`,
    }),
  );
  const ofRuns = runs.flatMap((run): LabelJson[] => {
    const code = labelCode(run.id);
    const path = `${at}/runs/${run.id}`;
    const facts = [
      study.name,
      `${run.order}. of ${/^session\b/i.test(run.session) ? run.session : `session ${run.session}`}`,
      run.day,
    ];
    const steps = editions.get(run.edition)?.steps ?? [];
    const vessels = new Set(steps.flatMap((step) => step.touches.vessel ?? []));
    const mind = (of: readonly Step[]): readonly string[] => {
      const line = hazardLine(of);
      return line === null ? [] : [line];
    };
    return [
      { code, what: 'run', name: run.name, lines: [...facts, ...mind(steps)], path },
      ...[...vessels].map(
        (vessel): LabelJson => ({
          code,
          what: 'vessel',
          name: `${run.name}: ${vessel}`,
          lines: [...facts, ...mind(steps.filter((step) => step.touches.vessel === vessel))],
          path,
        }),
      ),
    ];
  });
  const filters = (await look.filters.ofStudy(study.id)).map(
    (filter): LabelJson => ({
      code: labelCode(filter.id),
      what: 'filter',
      name: filter.name,
      lines: [
        called.get(filter.run) ?? '',
        `${filter.poreUm} µm${filter.lot === '' ? '' : `, lot ${filter.lot}`}`,
      ],
      path: `${at}/filters/${filter.id}`,
    }),
  );
  const kept = (await look.fractions.ofStudy(study.id))
    .filter((fraction) => fraction.fate === 'kept')
    .map(
      (fraction): LabelJson => ({
        code: labelCode(fraction.id),
        what: 'remainder',
        name: `${called.get(fraction.run) ?? ''}: ${fraction.kind}, ${fraction.volumeMl} mL`,
        lines: [fraction.place, fraction.at.slice(0, 10), fraction.note].filter(Boolean),
        path: `${at}/runs/${fraction.run}`,
      }),
    );
  return [...specimens, ...ofRuns, ...filters, ...kept];
}

export const labelsView = ({ records }: Served, id: string): Promise<Outcome<LabelsAnswer>> =>
  records.look(async (look) => {
    const study = await look.studies.get(id as Id<'study'>);
    return study ? done({ study: study.name, labels: await labelsOf(look, study) }) : noSuch('study', id);
  });

/** What a code stands for, in any study of the laboratory. */
export const codeView = ({ records }: Served, typed: string): Promise<Outcome<LabelJson>> =>
  records.look(async (look) => {
    const code = readLabelCode(typed);
    if (code === null) {
      return refused({
        why: 'not-a-code',
        message: `“${typed.slice(0, 20)}” is no code of a label: one sign is wrong or missing; look at it again.`,
      });
    }
    for (const study of await look.studies.list()) {
      const label = (await labelsOf(look, study)).find((one) => one.code === code);
      if (label) return done(label);
    }
    return refused({
      why: 'no-such-label',
      message: `Nothing in this laboratory has the code ${code}; the label may be of another laboratory.`,
    });
  });
