/** How to make known pieces, so that anybody can make them. Common practice, no source. */
import type { MaterialClass } from '../../study/index.ts';

export interface Recipe {
  readonly material: string;
  readonly class: MaterialClass;
  readonly how: string;
}

export const RECIPES: readonly Recipe[] = [
  {
    material: 'polyethylene',
    class: 'thermoplastic',
    how: 'Rub a bottle cap or bag on clean fine sandpaper over a glass dish, rinse, take pieces of the size you count.',
  },
  {
    material: 'polypropylene',
    class: 'thermoplastic',
    how: 'Shave a lunch-box lid with a scalpel under the microscope; cut the shavings to length.',
  },
  {
    material: 'PET (polyester)',
    class: 'thermoplastic',
    how: 'Cut threads from a fleece or sewing thread to 0.3–2 mm; scrape a drink bottle for fragments.',
  },
  {
    material: 'nylon',
    class: 'thermoplastic',
    how: 'Cut fishing line and tights to 0.3–2 mm.',
  },
  {
    material: 'rubber',
    class: 'thermoset-or-rubber',
    how: 'Rub a pencil eraser or a bicycle tyre on clean sandpaper.',
  },
  {
    material: 'cotton',
    class: 'natural-fibre',
    how: 'Pull fibres from a white and a dyed cotton cloth, cut to 0.3–2 mm.',
  },
  {
    material: 'viscose',
    class: 'semi-synthetic',
    how: 'Pull fibres from a viscose scarf or a wet wipe labelled viscose.',
  },
  {
    material: 'hair',
    class: 'hair-or-silk',
    how: 'Cut hair of your own and wool from a jersey to 0.3–2 mm.',
  },
  { material: 'wax', class: 'wax-or-fat', how: 'Scrape a candle, white and coloured, with a cold scalpel.' },
  {
    material: 'starch',
    class: 'starch-or-sugar',
    how: 'Crumble a dried drop of boiled starch; take grains of rice flour.',
  },
  {
    material: 'quartz sand',
    class: 'mineral',
    how: 'Washed sand, sieved to the sizes you count; crushed eggshell for pale ones.',
  },
  { material: 'soap', class: 'soap', how: 'Scrape a dry bar of soap with a scalpel.' },
  {
    material: 'plant tissue',
    class: 'plant-tissue',
    how: 'Dry the skin of what you digest (carrot, apple) and crush it.',
  },
];

/** A set as people lay it out: three of each, fifteen plastics and twenty-four look-alikes. */
export const OF_EACH = 3;
