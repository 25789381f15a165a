import { type ChecklistFacts, hasStep, specimenRuns, stepsOfKind } from './facts.ts';
import { either, type Item, no, notHere, times, yes } from './item.ts';

const COWGER = 'Cowger et al. 2020, Appl. Spectrosc. 74:1066 (item wording from memory)';
const OURS = 'common practice, no source';
const looked = (facts: ChecklistFacts) => facts.runs.filter(({ count }) => count !== null);
const names = (runs: readonly { readonly run: { readonly name: string } }[]): string =>
  runs.map(({ run }) => run.name).join(', ');

export const LOOKING_ITEMS: readonly Item[] = [
  {
    id: 'D1',
    asks: 'A digestion is described: reagent, volume, time, temperature.',
    severity: 'blocks',
    anchor: COWGER,
    place: 'procedure',
    judge: (facts) => {
      const steps = stepsOfKind(specimenRuns(facts), 'digest');
      if (steps.length === 0) return notHere('Nothing was digested.');
      const short = steps.filter(
        ({ touches, quantities }) =>
          touches.liquid === null ||
          quantities.minutes === undefined ||
          quantities.temperature_c === undefined,
      );
      return either(
        short.length === 0,
        'Reagent, time and temperature are written.',
        'Write reagent, minutes and temperature at the digestion.',
      );
    },
  },
  {
    id: 'D2',
    asks: 'A piece of the product went through the digestion.',
    severity: 'weakens',
    anchor: 'Pfohl et al. 2021; Pfeiffer & Fischer 2020 (abstracts)',
    place: 'runs',
    judge: (facts) =>
      hasStep(specimenRuns(facts), 'digest')
        ? either(
            facts.runs.some(
              ({ run }) => run.kind === 'known-material' || /coupon/i.test(`${run.name} ${run.note}`),
            ),
            'A known material is on record.',
            'Carry a weighed, photographed piece through, as a run of known material.',
          )
        : notHere('Nothing was digested.'),
  },
  {
    id: 'F1',
    asks: 'Filters are described: material, pore, effective diameter.',
    severity: 'blocks',
    anchor: COWGER,
    place: 'filters',
    judge: ({ runs }) => {
      const filters = runs.flatMap((run) => run.filters);
      if (filters.length === 0) return no('No filter is laid yet.');
      const short = filters.filter((filter) => filter.material === '' || filter.lot === '');
      return either(
        short.length === 0,
        `${times(filters.length, 'filter')}, each with material, pore, diameter and lot.`,
        `Material or lot is not said of ${times(short.length, 'filter')}.`,
      );
    },
  },
  {
    id: 'F2',
    asks: 'How much of each run passed the filters is on record.',
    severity: 'blocks',
    anchor: OURS,
    place: 'runs',
    judge: (facts) => {
      const open = looked(facts).filter(
        ({ passed, run }) =>
          passed === null && !['air-control', 'filter-blank', 'known-material'].includes(run.kind),
      );
      if (looked(facts).length === 0) return no('Nothing was looked at yet.');
      return either(
        open.length === 0,
        'On record for every run looked at.',
        `Not on record: ${names(open)}.`,
      );
    },
  },
  {
    id: 'F3',
    asks: 'Vessel and funnel are rinsed onto the filter.',
    severity: 'weakens',
    anchor: 'Hagelskjær et al. 2023 (excerpt)',
    place: 'procedure',
    judge: (facts) => {
      const runs = specimenRuns(facts);
      if (runs.length === 0) return no('No specimen run is recorded.');
      const rinsed = runs.every(({ steps }) => {
        const at = steps.findIndex((step) => step.kind === 'filter');
        return at >= 0 && steps.slice(Math.max(0, at - 1)).some((step) => step.kind === 'rinse');
      });
      return either(
        rinsed,
        'A rinse follows the filtration.',
        'No rinse at the filtration: what sticks to the glass is lost. Add the step if it was done.',
      );
    },
  },
  {
    id: 'I1',
    asks: 'Every photograph has its scale.',
    severity: 'blocks',
    anchor: COWGER,
    place: 'filters',
    judge: ({ photos }) =>
      photos.all === 0
        ? no('No photograph yet.')
        : either(
            photos.withScale === photos.searched && photos.searched > 0,
            `${photos.withScale} of ${photos.searched} searched photographs.`,
            `${photos.searched - photos.withScale} searched photographs have none: give the pitch of the print, two points or the lens setting.`,
          ),
  },
  {
    id: 'M3',
    asks: 'Lens settings are calibrated.',
    severity: 'blocks',
    anchor: COWGER,
    place: 'filters',
    judge: ({ optics, photos }) =>
      optics.all === 0
        ? either(
            photos.searched > 0 && photos.withScale === photos.searched,
            'Each photograph carries its own scale from the print.',
            'Enter the lens setting with its µm per pixel.',
          )
        : either(
            optics.calibrated === optics.all,
            `${times(optics.calibrated, 'setting')} with its figure.`,
            `${times(optics.all - optics.calibrated, 'setting')} without µm per pixel.`,
          ),
  },
  {
    id: 'I2',
    asks: 'The smallest counted piece is at least ten pixels across.',
    severity: 'weakens',
    anchor: 'ISO 13322-1 (from memory, unverified)',
    place: 'filters',
    judge: ({ pxAcrossSmallest: px }) =>
      px === null
        ? notHere('No lens setting has its figure on record; each photograph carries its own scale.')
        : either(
            px >= 10,
            `${Math.floor(px)} pixels.`,
            `${Math.floor(px)} pixels: count from a larger size, or photograph closer.`,
          ),
  },
  {
    id: 'I4',
    asks: 'Every filter was photographed and could be searched.',
    severity: 'blocks',
    anchor: OURS,
    place: 'filters',
    judge: (facts) => {
      if (facts.runs.length === 0) return no('No run is recorded yet.');
      const open = facts.runs.filter(({ count }) => count === null);
      const aside =
        facts.photos.setAside > 0
          ? ` ${times(facts.photos.setAside, 'photograph')} of what is kept for later could not be searched: its liquid counts as not looked at.`
          : '';
      const refused =
        facts.photos.refused > 0
          ? ` ${times(facts.photos.refused, 'photograph')} could not be searched.`
          : '';
      return either(
        open.length === 0 && facts.photos.refused === 0,
        `All of them.${aside}`,
        `${open.length > 0 ? `Not looked at: ${names(open)}.` : ''}${refused}${aside}`.trim(),
      );
    },
  },
  {
    id: 'N1',
    asks: 'What share of each filter was searched is on record.',
    severity: 'blocks',
    anchor: 'Paterson et al. 2023; Brandt et al. 2021 (abstracts)',
    place: 'filters',
    judge: (facts) => {
      const runs = looked(facts);
      if (runs.length === 0) return no('Nothing was looked at yet.');
      const least = Math.min(...runs.map(({ examined }) => examined ?? 0));
      return yes(`From ${Math.round(100 * least)} % of a filter up; it enters the figure.`);
    },
  },
  {
    id: 'N2',
    asks: 'The smallest size is stated, and which dimension it is.',
    severity: 'blocks',
    anchor: 'ISO 24187 (scope seen)',
    place: 'question',
    judge: ({ study, floorUm }) =>
      yes(
        floorUm !== null && floorUm > study.question.sizeFromUm
          ? `${Math.round(floorUm)} µm, longest dimension: smaller ones could not be seen on every photograph.`
          : `${study.question.sizeFromUm} µm, longest dimension.`,
      ),
  },
  {
    id: 'N4',
    asks: 'Every counted piece was looked at by a person.',
    severity: 'weakens',
    anchor: OURS,
    place: 'filters',
    judge: (facts) => {
      const open = looked(facts).reduce((sum, run) => sum + run.unmarked, 0);
      if (looked(facts).length === 0) return no('Nothing was looked at yet.');
      return either(
        open === 0,
        'All of them are kept or dropped.',
        `${times(open, 'piece')} found by the program and looked at by nobody.`,
      );
    },
  },
  {
    id: 'B1',
    asks: 'Pieces were scored without knowing which filter they lie on.',
    severity: 'weakens',
    anchor: 'Holman et al. 2015, PLoS Biol. (abstract)',
    place: 'evidence',
    judge: ({ rounds }) =>
      either(rounds.sealed > 0, `${times(rounds.sealed, 'sealed round')}.`, 'No sealed round yet.'),
  },
  {
    id: 'B2',
    asks: 'Two people scored, or one scored twice.',
    severity: 'weakens',
    anchor: 'interlaboratory exercises (abstracts; the share is common practice)',
    place: 'evidence',
    judge: ({ rounds, markers }) =>
      either(
        rounds.readers >= 2,
        `${times(rounds.readers, 'reader')}.`,
        `${times(markers, 'person', 'people')} marked, but nobody read the same pieces again.`,
      ),
  },
];
