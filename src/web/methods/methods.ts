/** The method pages, in the order of the work; their texts lie in docs/methods. */
export const METHODS = [
  {
    name: 'planning',
    title: 'What a design can find',
    answers: 'Runs, controls, spikes and hours against the chance to answer.',
  },
  {
    name: 'controls',
    title: 'Which controls, and a plan from ten questions',
    answers: 'The smallest set of controls that tells every cause of particles apart.',
  },
  {
    name: 'coverage',
    title: 'Do the controls match?',
    answers: 'Which steps of a run its controls repeat, which may serve, and what a gap leaves open.',
  },
  {
    name: 'checklist',
    title: 'What a reader will ask for',
    answers: 'Published reporting items, filled by the records.',
  },
  {
    name: 'bench',
    title: 'At the bench',
    answers: 'How taps become steps, minutes, volumes and an order of runs.',
  },
  {
    name: 'filtration',
    title: 'Filtration',
    answers: 'How much more passes before the filter clogs, and how sure that is.',
  },
  {
    name: 'settling',
    title: 'Settling and floating',
    answers: 'What lies below, floats above or is still in between.',
  },
  { name: 'brines', title: 'Brines', answers: 'Which polymers float in which solution.' },
  {
    name: 'digestion',
    title: 'Digestion',
    answers: 'What removes the food, and what it does to the pieces.',
  },
  {
    name: 'finding',
    title: 'Finding particles',
    answers: 'From a photograph to outlines, and the chance that a find is real.',
  },
  {
    name: 'counting-model',
    title: 'The joint model of counts',
    answers: 'The net per gram, its interval, and the decision.',
  },
  {
    name: 'evidence',
    title: 'Evidence',
    answers: 'What a piece is, from bench tests with a measured error.',
  },
  { name: 'drills', title: 'Drills', answers: 'How often this operator is wrong.' },
  { name: 'blinding', title: 'Blinded scoring', answers: 'Reading pictures without knowing which is which.' },
  { name: 'spectra', title: 'Spectra', answers: 'What a spectrum is like, or “cannot tell”.' },
  {
    name: 'published-values',
    title: 'Beside a published value',
    answers: 'Whether two values per gram may be compared, over which sizes, and their ratio.',
  },
  {
    name: 'report',
    title: 'The report and its recount',
    answers: 'How the report is made from the records, and what its reader can reckon anew.',
  },
] as const;
export type MethodName = (typeof METHODS)[number]['name'];

export const isMethod = (name: string): name is MethodName => METHODS.some((one) => one.name === name);
