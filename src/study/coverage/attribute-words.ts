/** How people call an attribute of a step, with the value that it has. */
import { amountWords } from '../edition-changes.ts';

const CALLED: Readonly<Record<string, string>> = {
  vessel: 'the vessel',
  tool: 'the tool',
  liquid: 'the liquid',
  reagentLot: 'the reagent lot',
  place: 'the place',
  person: 'the person',
  filterLot: 'the filter lot',
  optics: 'the lens setting',
  minutesUncovered: 'minutes uncovered',
  openings: 'openings',
  volume_ml: 'the volume',
  mass_g: 'the mass',
  minutes: 'the time',
  temperature_c: 'the temperature',
  times: 'the number of times',
  pore_um: 'the pore',
};

export function attributeWords(attribute: string, value: string | null): string {
  const called = CALLED[attribute] ?? attribute;
  if (value === null) return called;
  const amount = Number(value);
  if (!Number.isNaN(amount) && value.trim() !== '' && attribute in AMOUNTS) {
    return `${called} ${amountWords(attribute, amount)}`;
  }
  return attribute === 'minutesUncovered' || attribute === 'openings'
    ? `${value} ${called}`
    : `${called} “${value}”`;
}

const AMOUNTS: Readonly<Record<string, true>> = {
  volume_ml: true,
  mass_g: true,
  minutes: true,
  temperature_c: true,
  times: true,
  pore_um: true,
};
