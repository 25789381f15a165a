import { ofKind, specimenRuns } from './facts.ts';
import { either, type Item, no, notHere, times, yes } from './item.ts';

const COWGER = 'Cowger et al. 2020, Appl. Spectrosc. 74:1066 (item wording from memory)';
const OURS = 'common practice, no source';

/** By code points: the pure floors know no locale. */
const before = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

export const QUESTION_ITEMS: readonly Item[] = [
  {
    id: 'Q1',
    asks: 'The question names product, act, duration, liquid, sizes and unit.',
    severity: 'blocks',
    anchor: COWGER,
    place: 'question',
    judge: ({ study: { question } }) => {
      const open = [
        question.durationMin === null ? 'duration' : '',
        question.liquid === '' ? 'liquid' : '',
      ].filter((field) => field !== '');
      return either(open.length === 0, 'All of them are filled.', `Say under Question: ${open.join(', ')}.`);
    },
  },
  {
    id: 'Q2',
    asks: 'What counts as microplastic is written down.',
    severity: 'blocks',
    anchor: `${COWGER}; ISO 24187 (scope seen)`,
    place: 'question',
    judge: ({ study }) =>
      either(
        study.question.countsAs !== '',
        study.question.countsAs,
        'Say what counts, and whether wax, rubber and viscose do.',
      ),
  },
  {
    id: 'Q3',
    asks: 'The decision rule was fixed before the first count.',
    severity: 'weakens',
    anchor: 'Holman et al. 2015, PLoS Biol. (abstract seen)',
    place: 'question',
    judge: ({ questionChangedLate: changed, study }) => {
      const rule = `Above the controls at ${Math.round(1000 * study.question.decision.confidence) / 10} % confidence.`;
      if (changed === null) return yes(`${rule} No photograph has come in yet.`);
      return either(
        !changed,
        rule,
        'The question was changed after photographs had come in: say so with the result.',
      );
    },
  },
  {
    id: 'Q4',
    asks: 'The number of runs is justified by what it can find.',
    severity: 'weakens',
    anchor: 'field checklist after Cowger (excerpt seen)',
    place: 'procedure',
    judge: ({ planned }) =>
      either(
        planned,
        'The study was planned with its expected limits.',
        'Plan the study, or say why so many runs.',
      ),
  },
  {
    id: 'Q5',
    asks: 'Each run is a unit of its own: a piece, an act, a day.',
    severity: 'blocks',
    anchor: OURS,
    place: 'runs',
    judge: (facts) => {
      const runs = specimenRuns(facts);
      if (runs.length === 0) return no('No specimen run is recorded.');
      const portions = new Set(runs.map(({ run }) => run.portion));
      return either(
        portions.size === runs.length,
        `${times(runs.length, 'specimen run')} on as many portions.`,
        'Two runs share a portion: give each its own.',
      );
    },
  },
  {
    id: 'S1',
    asks: 'The product is described: maker or material, lot, age, mass.',
    severity: 'blocks',
    anchor: COWGER,
    place: 'question',
    judge: ({ specimens, portions }) => {
      const product = specimens.find((specimen) => specimen.role === 'product') ?? specimens[0];
      if (!product) return no('Enter the product under Question.');
      const open = [
        product.material === '' && product.maker === '' ? 'material or maker' : '',
        product.lot === '' ? 'lot' : '',
        product.age === '' ? 'age' : '',
        portions.length === 0 ? 'mass of a portion' : '',
      ].filter((field) => field !== '');
      return either(
        open.length === 0,
        `${product.name}, lot ${product.lot}.`,
        `Say of ${product.name}: ${open.join(', ')}.`,
      );
    },
  },
  {
    id: 'P1',
    asks: 'Every run follows a written edition of a procedure.',
    severity: 'blocks',
    anchor: COWGER,
    place: 'procedure',
    judge: ({ runs, editions }) => {
      if (runs.length === 0) return no('No run is recorded yet.');
      const known = new Set(editions.map((edition) => edition.id));
      const stray = runs.filter(({ run }) => !known.has(run.edition));
      return either(
        stray.length === 0,
        `${times(editions.length, 'edition')} on record.`,
        'Some runs name no edition.',
      );
    },
  },
  {
    id: 'P2',
    asks: 'What was done otherwise is on record, with the reason.',
    severity: 'blocks',
    anchor: `${COWGER}; good laboratory practice`,
    place: 'runs',
    judge: ({ deviations: { all, reasoned } }) =>
      all === 0
        ? yes('No deviation is on record.')
        : either(
            reasoned === all,
            `${times(all, 'deviation')}, each with its reason.`,
            `${times(all - reasoned, 'deviation')} without a reason: add it.`,
          ),
  },
  {
    id: 'P3',
    asks: 'Runs and controls were done by turns, not one after the other.',
    severity: 'weakens',
    anchor: OURS,
    place: 'runs',
    judge: (facts) => {
      const order = facts.runs
        .filter(
          ({ run }) =>
            run.kind === 'specimen' || ['act-control', 'matrix-blank', 'procedural-blank'].includes(run.kind),
        )
        .sort((a, b) => before(a.run.day, b.run.day) || a.run.order - b.run.order)
        .map(({ run }) => run.kind === 'specimen');
      const controls = order.filter((specimen) => !specimen).length;
      if (order.length < 4 || controls < 2) return notHere('Too few runs to be done by turns.');
      const turns = order.filter((one, at) => at > 0 && one !== order[at - 1]).length;
      const bySession = new Map<string, Set<boolean>>();
      for (const { run } of facts.runs) {
        const there = bySession.get(run.session) ?? new Set();
        if (run.kind === 'specimen') there.add(true);
        else if (
          ofKind(facts, 'act-control', 'matrix-blank', 'procedural-blank').some((one) => one.run === run)
        )
          there.add(false);
        bySession.set(run.session, there);
      }
      const mixed = [...bySession.values()].filter((kinds) => kinds.size === 2).length;
      return either(
        turns >= 2 && mixed >= Math.min(2, bySession.size),
        `Runs and controls share ${times(mixed, 'sitting')}.`,
        'Controls stand all first, all last, or in sittings of their own: a drift of the day cannot be told from the product.',
      );
    },
  },
];
