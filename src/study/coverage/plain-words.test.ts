import { describe, expect, it } from 'vitest';
import type { Step } from '../records/procedure.ts';
import { compareSteps, differences } from './compare.ts';
import { plainWords } from './plain-words.ts';

const digested = (touches: Partial<Step['touches']>): readonly Step[] => [
  {
    key: 'digest',
    kind: 'digest',
    quantities: { volume_ml: 400 },
    touches: {
      vessel: 'glass beaker, 1 L',
      tool: 'steel spatula',
      liquid: 'potassium hydroxide 10 %',
      reagentLot: 'K-1',
      place: 'bench',
      person: 'Ada',
      filterLot: 'F-7',
      optics: null,
      ...touches,
    },
    minutesUncovered: 2,
    openings: null,
    note: '',
  },
];

/** Names that look alike and are not: as the run has it, as the control has it. */
const UNLIKE: readonly [what: keyof Step['touches'], run: string, control: string][] = [
  ['vessel', 'glass jar with no lid', 'glass jar with lid'],
  ['vessel', 'glass jar without lid', 'glass jar with lid'],
  ['vessel', 'jar, not rinsed', 'jar, rinsed'],
  ['tool', 'steel knife on plastic board', 'plastic knife on steel board'],
  ['tool', 'glass jar and plastic lid', 'plastic jar and glass lid'],
  ['vessel', 'plastic bag in a glass jar', 'glass jar in a plastic bag'],
  ['reagentLot', '12-03', '03-12'],
  ['reagentLot', 'lot 12/03', 'lot 03/12'],
  ['liquid', 'HCl 1:10', 'HCl 10:1'],
  ['liquid', 'HCl 1 : 10', 'HCl 10 : 1'],
  ['vessel', 'beaker A', 'beaker'],
  ['vessel', 'beaker A', 'beaker B'],
  ['vessel', 'a beaker', 'beaker A'],
  ['filterLot', 'No 5', '5'],
  ['place', 'shelf 2, box 3', 'shelf 3, box 2'],
];
/** Names that look unlike and are one thing. */
const ALIKE: readonly [string, string][] = [
  ['glass jar with no lid', 'Glass jar without a lid'],
  ['glass jar, no lid', 'jar (glass) without lid'],
  ['steel knife on a plastic board', 'knife, steel, on the plastic board'],
  ['water and soap', 'soap and water'],
  ['HCl 1:10', '1 : 10 hcl'],
  ['lot 12-03', '12/03'],
  ['beaker A, 1 L', '1 L Beaker a'],
  ['A glass beaker', 'the beaker (glass)'],
  ['shelf 2, box 3', 'Box 3 shelf 2'],
  ['KOH 5 M', '5M KOH'],
];

describe('names in plain words', () => {
  it.each(UNLIKE)('tells names apart that look alike, %s: “%s” and “%s”', (what, ours, theirs) => {
    const as = (name: string) => digested({ [what]: name });
    const compared = compareSteps(as(ours), as(theirs));
    expect(differences(compared).join('\n')).toMatch(new RegExp(`“digest”: ${what} different`));
  });

  it.each(ALIKE)('reads as one: “%s” and “%s”', (ours, theirs) => {
    const as = (name: string) => digested({ vessel: name });
    expect(differences(compareSteps(as(ours), as(theirs)))).toEqual([]);
    expect(differences(compareSteps(as(theirs), as(ours)))).toEqual([]);
  });

  it('reads two spellings of one thing as one', () => {
    expect(plainWords('Glass beaker, 1 L')).toBe(plainWords('beaker (GLASS) 1l'));
    expect(plainWords('lot K-1')).toBe(plainWords('K1'));
    expect(plainWords('K-1')).not.toBe(plainWords('K-2'));
    expect(plainWords('0,5 mL')).toBe(plainWords('0.5 ml'));
    expect(plainWords('1:1')).not.toBe(plainWords('2:1'));
  });
});
