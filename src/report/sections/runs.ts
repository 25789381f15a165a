import {
  coverageBand,
  figure,
  filterDisc,
  percent,
  type RunDot,
  runsAgainstBackground,
} from '../charts/index.ts';
import type { ReportFacts, ReportFilter, ReportRun } from '../facts.ts';
import { type Block, heading, list, paragraph, type Section } from '../tree.ts';
import { inWords, many, moment, RUN_WORDS, sentence, upper } from '../words.ts';

/** Runs and controls with what each counted; not looked is never nought. */
export function runsSection(facts: ReportFacts): Section {
  const { runs } = facts;
  if (runs.length === 0)
    return { id: 'runs', title: 'Runs and controls', blocks: [paragraph('No run is on record.')] };
  const shown = runs.filter((run) => run.kind !== 'spiked-run');
  const judged = facts.specimens[0]?.judged ?? null;
  const blocks: Block[] = [];
  if (shown.length > 0)
    blocks.push({
      kind: 'chart',
      svg: runsAgainstBackground({
        runs: [...shown].sort((a, b) => rank(a) - rank(b)).map(dot),
        background: judged && {
          expected: judged.controls.perRun.value,
          lower: judged.controls.perRun.lower,
          upper: judged.controls.perRun.upper,
        },
        threshold:
          // where the joint model decides, no one count does
          judged && judged.specimens.effort > 0 && judged.thresholds.decidingCount !== null
            ? judged.thresholds.decidingCount / judged.specimens.effort
            : null,
        unit: 'particles in the whole run',
        width: 680,
        name: 'runs',
      }),
      caption:
        'Runs as dots against the background band. Filled: specimen runs; hollow: controls. Each is divided by the shares that passed and were examined.',
      words: 'The figures are in the table below.',
    });
  blocks.push({
    kind: 'table',
    caption: 'Every run and control. “Not looked” means that nothing was counted, which is not none seen.',
    columns: [
      { head: 'run' },
      { head: 'kind' },
      { head: 'day', tight: true },
      { head: 'by' },
      { head: 'on', none: '' },
      { head: 'mass, g', numeric: true, none: '' },
      { head: 'passed', numeric: true, none: 'not recorded' },
      { head: 'examined', numeric: true, none: 'not looked' },
      { head: 'counted', numeric: true, none: 'not looked' },
      { head: 'undecided', numeric: true, none: '' },
      { head: 'part', none: '' },
    ],
    rows: runs.map((run) => [
      run.name,
      RUN_WORDS[run.kind],
      run.day,
      run.operator,
      run.specimen,
      run.massG,
      run.passed === null ? null : percent(run.passed),
      run.examined === null ? null : percent(run.examined),
      run.count,
      run.count === null ? null : run.unmarked,
      run.inBackground ? 'background' : run.leftOut ? 'left out' : null,
    ]),
  });
  const spiked = runs.filter((run) => run.added !== null);
  if (spiked.length > 0)
    blocks.push(heading('Recovery of known pieces'), {
      kind: 'table',
      caption: 'Known pieces added on purpose, and found again.',
      columns: [
        { head: 'run' },
        { head: 'added', numeric: true },
        { head: 'found again', numeric: true, none: 'not looked' },
      ],
      rows: spiked.map((run) => [run.name, run.added, run.recovered]),
    });
  return { id: 'runs', title: 'Runs and controls', blocks };
}

const rank = (run: ReportRun) => (run.kind === 'specimen' ? 0 : run.inBackground ? 1 : 2);

const dot = (run: ReportRun): RunDot => ({
  name: run.name,
  group: run.kind === 'specimen' ? (run.specimen ?? 'Specimen runs') : `${upper(RUN_WORDS[run.kind])}s`,
  kind: run.kind === 'specimen' ? 'specimen' : 'control',
  found:
    run.count === null || !run.examined || run.passed === 0
      ? null
      : run.count / ((run.passed ?? 1) * run.examined),
  counts: run.kind === 'specimen' ? !run.leftOut : run.inBackground,
  ...(run.count === null ? { because: 'nobody has looked yet' } : {}),
});

/** Filters as discs: what was photographed and searched of each. */
export function filtersSection({ runs, photos }: ReportFacts): Section {
  const filters = runs.flatMap((run) => run.filters.map((filter) => ({ run, filter })));
  if (filters.length === 0)
    return { id: 'filters', title: 'Filters', blocks: [paragraph('No filter is on record.')] };
  return {
    id: 'filters',
    title: 'Filters',
    lead: 'A disc for each filter. It is filled from the middle in proportion to what was photographed and searched, not square by square; the rest was not looked at, which is not none seen.',
    blocks: [
      {
        kind: 'charts',
        charts: filters.map(({ run, filter }, at) => {
          const own = photos.filter((photo) => photo.run === run.name && photo.filter === filter.name);
          const blind = own.length > 0 && own.every(({ refusal }) => refusal !== null);
          const found = blind
            ? 'photographed, nothing can be seen'
            : filter.count === null
              ? 'not looked'
              : `${many(filter.count, 'piece')}, ${percent(examinedOf(filter))} examined`;
          return {
            svg: examinedDisc(filter, `disc-${at}`, blind),
            caption: `${filter.name}${filter.name === run.name ? '' : ` (${run.name})`}: ${found}`,
          };
        }),
        words: filters
          .map(
            ({ run, filter }) =>
              `${filter.name} of ${run.name}: ${filter.count === null ? 'not looked' : filter.count}.`,
          )
          .join(' '),
      },
      {
        kind: 'table',
        caption: 'Filters.',
        columns: [
          { head: 'filter' },
          { head: 'run' },
          { head: 'material', none: 'not said' },
          { head: 'pore, µm', numeric: true },
          { head: 'wetted, mm', numeric: true },
          { head: 'lot', tight: true, none: 'not said' },
          { head: 'photographs', numeric: true },
          { head: 'searched', numeric: true },
          { head: 'examined', numeric: true },
          { head: 'counted', numeric: true, none: 'not looked' },
        ],
        rows: filters.map(({ run, filter }) => [
          filter.name,
          run.name,
          filter.material || null,
          filter.poreUm,
          filter.diameterMm,
          filter.lot || null,
          filter.photos,
          filter.searched,
          percent(examinedOf(filter)),
          filter.count,
        ]),
      },
    ],
  };
}

const discMm2 = (filter: ReportFilter) => (Math.PI / 4) * filter.diameterMm ** 2;
const examinedOf = (filter: ReportFilter) => Math.min(1, filter.searchedMm2 / discMm2(filter));

/** The share examined as filled squares, from the middle outwards; which squares they were is on the photographs. */
function examinedDisc(filter: ReportFilter, name: string, blind: boolean): string {
  const pitch = filter.pitchMm ?? filter.diameterMm / 11;
  const across = Math.ceil(filter.diameterMm / pitch);
  const middle = (across - 1) / 2;
  const squares = [];
  for (let row = 0; row < across; row++)
    for (let column = 0; column < across; column++) {
      const away = Math.hypot(column - middle, row - middle);
      if (away * pitch < filter.diameterMm / 2) squares.push({ column, row, away });
    }
  squares.sort((a, b) => a.away - b.away || a.row - b.row || a.column - b.column);
  const looked = Math.round(squares.length * examinedOf(filter));
  return filterDisc({
    label: filter.name,
    diameterMm: filter.diameterMm,
    pitchMm: pitch,
    squares: squares.map(({ column, row }, at) => ({
      column,
      row,
      state: blind ? 'cannot-be-seen' : filter.searched > 0 && at < looked ? 'looked' : 'not-looked',
      kept: null,
    })),
    columns: across,
    rows: across,
    size: 130,
    name,
  });
}

/** Coverage: which control repeats which step. */
export function controlsSection({ coverage, heldBack }: ReportFacts): Section {
  if (coverage.length === 0)
    return {
      id: 'controls',
      title: 'Do the controls match?',
      blocks: [paragraph('No specimen run has steps on record: whether controls match cannot be told.')],
    };
  const blocks: Block[] = coverage.flatMap((group, at): Block[] => [
    heading(inWords(group.runs)),
    paragraph(group.sentence),
    {
      kind: 'chart',
      svg: coverageBand({
        steps: group.steps,
        threads: group.threads.map(({ control, grades }) => ({ control, grades })),
        width: 680,
        name: `band-${at}`,
      }),
      caption: '',
      words: group.threads
        .map(
          ({ control, changes }) =>
            `${control}: ${changes.length === 0 ? 'repeats every step' : changes.join('; ')}.`,
        )
        .join(' '),
    },
    ...(group.open.length > 0 ? [paragraph(`Left open: ${inWords([...new Set(group.open)])}.`)] : []),
  ]);
  if (heldBack.length > 0)
    blocks.push(heading('What holds the claim back'), list(heldBack.map(({ message }) => sentence(message))));
  return {
    id: 'controls',
    title: 'Do the controls match?',
    lead: 'A run is judged only against controls that went through the same steps. Each control is a thread across the steps of the runs: whole where it repeats the step, thin where it is scaled, broken where it was done otherwise, dotted where it is not recorded, absent where there is no such step.',
    blocks,
  };
}

/** What was done otherwise, and where every millilitre went. */
export function recordSection({ deviations, moves, withdrawals, runs }: ReportFacts): Section {
  const fractions = runs.flatMap((run) => run.fractions.map((fraction) => ({ run, fraction })));
  const notes = runs.filter((run) => run.note !== '');
  return {
    id: 'record',
    title: 'Deviations, fractions, notes',
    blocks: [
      deviations.length === 0
        ? paragraph('No deviation from the procedures is on record.')
        : {
            kind: 'table',
            caption: 'Deviations, as they were recorded.',
            columns: [
              { head: 'when' },
              { head: 'runs', tight: true },
              { head: 'step', tight: true, none: 'at the start' },
              { head: 'what' },
              { head: 'why', none: 'not said' },
            ],
            rows: deviations.map((one) => [
              moment(one.at),
              inWords(one.runs),
              one.step,
              `${one.kind.replaceAll('-', ' ')}: ${one.what}`,
              one.why || null,
            ]),
          },
      ...(withdrawals.length === 0
        ? []
        : [
            {
              kind: 'table' as const,
              caption:
                'Withdrawn and put back, as it was recorded. A run that is withdrawn is in no other figure of this report. “After” means that what it counted could be read when it was said: the reason must then hold whatever was counted.',
              columns: [
                { head: 'when' },
                { head: 'what' },
                { head: 'was' },
                { head: 'why', wide: true },
                { head: 'its count', none: '' },
                { head: 'counts', numeric: true, none: '' },
                { head: 'who', tight: true },
              ],
              rows: withdrawals.map((one) => [
                moment(one.at),
                `${one.what} ${one.name}`,
                one.withdrawn ? 'withdrawn' : 'put back',
                one.why,
                one.what === 'procedure' ? null : one.countOpen ? 'after' : 'before',
                one.counted,
                one.by,
              ]),
            },
          ]),
      ...(moves.length === 0
        ? []
        : [
            {
              kind: 'table' as const,
              caption: 'Photographs moved to the filter that they show, or set aside, as it was recorded.',
              columns: [
                { head: 'when' },
                { head: 'photograph' },
                { head: 'to', none: 'set aside' },
                { head: 'why' },
                { head: 'who', tight: true },
              ],
              rows: moves.map(({ at, photo, to, why, by }) => [moment(at), photo, to, why, by]),
            },
          ]),
      fractions.length === 0
        ? paragraph(
            'No fraction of a liquid is on record: how much passed each filter is taken as all of it, and that is said where it matters.',
          )
        : {
            kind: 'table',
            caption: 'Fractions: where the liquid of each run went.',
            columns: [
              { head: 'run' },
              { head: 'fraction' },
              { head: 'volume, mL', numeric: true },
              { head: 'fate' },
              { head: 'place', none: '' },
              { head: 'note', none: '' },
            ],
            rows: fractions.map(({ run, fraction }) => [
              run.name,
              fraction.kind,
              fraction.volumeMl,
              fraction.fate,
              fraction.place || null,
              fraction.note || null,
            ]),
          },
      ...(notes.length > 0 ? [heading('Notes'), list(notes.map((run) => `${run.name}: ${run.note}`))] : []),
    ],
  };
}

export const sizeWords = (um: number | null): string =>
  um === null ? 'no size' : `${figure(Math.round(um))} µm`;
