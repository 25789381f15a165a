/** What a piece may be made of, as coarsely as bench tests can tell. Extended by adding, never renamed. */
export const MATERIAL_CLASSES = [
  'thermoplastic',
  'thermoset-or-rubber',
  'semi-synthetic',
  'natural-fibre',
  'hair-or-silk',
  'plant-tissue',
  'wax-or-fat',
  'starch-or-sugar',
  'soap',
  'mineral',
  'metal',
] as const;
export type MaterialClass = (typeof MATERIAL_CLASSES)[number];

export const CLASS_WORDS: Readonly<Record<MaterialClass, string>> = {
  thermoplastic: 'thermoplastic',
  'thermoset-or-rubber': 'thermoset or rubber',
  'semi-synthetic': 'semi-synthetic (viscose, acetate)',
  'natural-fibre': 'natural fibre (cotton, linen, paper)',
  'hair-or-silk': 'hair, wool or silk',
  'plant-tissue': 'plant tissue',
  'wax-or-fat': 'wax or fat',
  'starch-or-sugar': 'starch or sugar',
  soap: 'soap',
  mineral: 'mineral or glass',
  metal: 'metal',
};

/** Synthetic polymers; semi-synthetic cellulose is reported apart and does not count as plastic here. */
export const SYNTHETIC: readonly MaterialClass[] = ['thermoplastic', 'thermoset-or-rubber'];
export const isSynthetic = (material: MaterialClass): boolean => SYNTHETIC.includes(material);
