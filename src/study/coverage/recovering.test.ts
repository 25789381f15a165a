import { describe, expect, it } from 'vitest';
import type { Step } from '../records/procedure.ts';
import type { RunId } from '../records/run.ts';
import { recoveryOfRun } from './recovering.ts';

const NO_TOUCH: Step['touches'] = {
  vessel: null,
  tool: null,
  liquid: null,
  reagentLot: null,
  place: null,
  person: null,
  filterLot: null,
  optics: null,
};
const step = (kind: string, quantities: Step['quantities'], touches: Partial<Step['touches']>): Step => ({
  key: kind,
  kind,
  quantities,
  touches: { ...NO_TOUCH, ...touches },
  minutesUncovered: 1,
  openings: null,
  note: '',
});
const cut = step('cut', { minutes: 5 }, { vessel: 'worn board', tool: 'knife A', person: 'Ada' });
const soak = step('soak', { minutes: 10, volume_ml: 200 }, { vessel: 'beaker', liquid: 'black tea' });
const digest = step('digest', { minutes: 600, temperature_c: 40 }, { liquid: 'potash', reagentLot: 'K-1' });
const filter = step('filter', { pore_um: 1, volume_ml: 200 }, { vessel: 'funnel', filterLot: 'F-1' });
const look = step('photograph', { times: 1 }, { optics: 'macro' });
const RUN = [cut, soak, digest, filter, look];
const spike = { ...step('move', { times: 60 }, { tool: 'needle' }), key: 'spike' };
const like = (change: (steps: Step[]) => Step[]) => change([spike, soak, digest, filter, look]);
const with_ = (of: Step, quantities: Step['quantities'], touches: Partial<Step['touches']> = {}): Step => ({
  ...of,
  quantities: { ...of.quantities, ...quantities },
  touches: { ...of.touches, ...touches },
});
const swap = (from: Step, to: Step) => (steps: Step[]) => steps.map((one) => (one === from ? to : one));

const told = (steps: readonly Step[], pores: readonly number[] = [1]) =>
  recoveryOfRun(RUN, [1], [{ runs: ['R1' as RunId], name: 'R1', steps, poresUm: pores }], ['worn board']);

describe('which spiked runs lose as a run loses', () => {
  it('one that went the same way from the spike on; the act, the air and the person do not matter', () => {
    const found = told(like((steps) => steps));
    expect(found).toEqual({ serving: ['R1'], others: [], doubts: [] });
    const other = told(
      like(swap(look, { ...look, minutesUncovered: 30, touches: { ...look.touches, person: 'Bo' } })),
    );
    expect(other.serving).toEqual(['R1']);
  });

  it.each([
    [
      'another liquid',
      like(swap(soak, with_(soak, {}, { liquid: 'water' }))),
      'the liquid “black tea” at “soak”',
    ],
    ['a cooler digestion', like(swap(digest, with_(digest, { temperature_c: 20 }))), 'the temperature'],
    ['no digestion', like((steps) => steps.filter((one) => one !== digest)), 'the step “digest”'],
    ['another pore in the steps', like(swap(filter, with_(filter, { pore_um: 10 }))), 'the pore'],
  ])('not one with %s', (_, steps, words) => {
    const found = told(steps);
    expect(found.serving).toEqual([]);
    expect(found.others[0]!.words.join('; ')).toContain(words);
  });

  it('not one that ended on filters with other pores, whatever the steps say', () => {
    expect(
      told(
        like((steps) => steps),
        [5],
      ).others[0]!.words,
    ).toEqual(['on filters with 1 µm pores']);
    // no filter on record: the steps alone speak
    expect(
      told(
        like((steps) => steps),
        [],
      ).serving,
    ).toEqual(['R1']);
  });

  it('another lot, vessel or lens only raises a doubt, as does what is not recorded', () => {
    const lot = told(like(swap(digest, with_(digest, {}, { reagentLot: 'K-2' }))));
    expect(lot.serving).toEqual(['R1']);
    expect(lot.doubts).toEqual(['the reagent lot “K-1” at “digest” is another']);
    const unsaid = told(like(swap(digest, with_(digest, {}, { liquid: null }))));
    expect(unsaid.doubts).toEqual(['the liquid at “digest” is not recorded on both']);
    expect(told(like(swap(look, with_(look, {}, { optics: 'stereo' })))).doubts).toHaveLength(1);
  });
});
