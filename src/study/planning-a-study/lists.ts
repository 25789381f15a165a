import type { PlanAnswers } from './answers.ts';
import type { Chosen } from './choices.ts';

/** One line of a list, with its reason. */
export interface Listed {
  readonly what: string;
  readonly why: string;
}

const line = (what: string, why: string): Listed => ({ what, why });

/** What to have in the house before the first run. */
export function shoppingList(answers: PlanAnswers, chosen: Chosen, filters: number): readonly Listed[] {
  const digested = chosen.option !== null && chosen.option.facts.reagent !== 'none';
  return [
    line(
      `${filters} filters, ${chosen.filter}, ${chosen.poreUm} µm, 47 mm, one lot`,
      'One lot for runs and controls: fresh filters carry particles of their own.',
    ),
    line(
      answers.act === 'mouth'
        ? 'Food-grade cups, steel or glass, kept for food'
        : 'Glass beakers and a glass funnel with support for 47 mm filters',
      answers.act === 'mouth'
        ? 'Nothing that was in a laboratory touches a mouth.'
        : 'Glass and steel shed what can be told from plastic; no vacuum on a plain conical flask.',
    ),
    line('Covered glass dishes for drying and keeping filters', 'Dust settles on an open filter.'),
    line(
      `Water filtered through ${Math.min(chosen.poreUm, 5)} µm or finer on the day, ${litres(answers, chosen)} L`,
      'All waters hold particles; tap water most.',
    ),
    line('Steel tweezers, steel scissors, a needle', 'Plastic tools shed.'),
    ...(digested
      ? [
          line(
            `${chosen.option!.facts.name}, one bottle for the whole study`,
            'Another bottle is another background: no control would match it.',
          ),
        ]
      : []),
    ...(digested
      ? [
          line(
            'Goggles, gloves that fit, thermometer, vented vessel',
            'The data sheet comes first; gloves never touch the inside of a vessel.',
          ),
        ]
      : []),
    ...(chosen.spikes > 0
      ? [
          line(
            `${60 * chosen.spikes} known pieces in a colour used nowhere else, two sizes`,
            'Counted before they go in; the share that comes back corrects the result.',
          ),
        ]
      : []),
    line(
      answers.act === 'cut'
        ? answers.matrixG > 0
          ? `Inert body for the controls: glass plate; ${answers.matrixG} g of the same food for each`
          : 'Inert body for the controls: glass plate'
        : 'Inert body for the controls: glass or steel of the same shape',
      'The act control does everything that the run does, without the product.',
    ),
    line('A garment of natural fibre in an unusual colour, lint roller', 'Its fibres are known at sight.'),
    line(
      answers.seeing === 'macro'
        ? 'Stand, two lamps, a ruler or stage scale'
        : 'Stage scale for each zoom setting',
      'Without a scale nothing has a size.',
    ),
    line('Labels, log, scale pad', 'Each filter has its run, each minute uncovered counts.'),
  ];
}

const litres = (answers: PlanAnswers, chosen: Chosen): number =>
  Math.ceil(
    ((chosen.specimens + chosen.controls + chosen.blanks + chosen.spikes) * (answers.volumeMl + 500)) / 1000,
  );

/** Before every sitting. */
export function cleaningList({ act }: PlanAnswers): readonly Listed[] {
  return [
    line(
      'Windows shut, nobody walks through, wipe all surfaces twice with a wet natural cloth, wait half an hour',
      'Dust and draught are the second source after clothes.',
    ),
    line(
      'Rinse every vessel three times with filtered water, inside and over the rim, and turn it upside down',
      'Unrinsed glassware was a significant source in published work.',
    ),
    line('Rinse foil before it covers anything', 'Fresh foil sheds.'),
    line(
      'Wash hands and arms bare; no gloves near open vessels unless a reagent asks for them',
      'Glove residue looks like polyethylene to a spectrometer.',
    ),
    line('No detergent in the last rinse', 'Detergent flakes are waxy and look like pieces.'),
    line(
      'Look at each fresh filter and photograph it before use',
      'What is on it before is not from the run.',
    ),
    ...(act === 'cut' || act === 'rub'
      ? [
          line(
            'Rinse the body and the tool three times, run and control alike',
            'What lies on them before is not from the act.',
          ),
        ]
      : []),
    line(
      'Open the dish when the first vessel is opened, close it when the last is closed',
      'Its minutes are compared with the minutes of the runs.',
    ),
  ];
}
