// @vitest-environment jsdom
import { describe, expect, it } from 'vitest';
import type { RecountData } from '../../report/index.ts';
import { judge } from '../../science/counting/index.ts';
import { COUNTS_ALONE, claimFrom } from '../../study/index.ts';

const COUNTS = [14, 11, 12, 15];
const input = {
  portions: COUNTS.map((count, at) => ({ name: `S${at}`, count, massG: 1, passed: 1, examined: 1 })),
  controls: [3, 2, 4, 1].map((count, at) => ({
    name: `C${at}`,
    kind: 'act-control',
    count,
    passed: 1,
    examined: 1,
  })),
  recovery: null,
  drill: null,
  confidence: 0.95,
};
const data: RecountData = {
  input,
  facts: COUNTS_ALONE,
  scope: { sizeFromUm: 100, sizeToUm: null, shapes: [], colours: [] },
  pieces: COUNTS.flatMap((count, run) =>
    Array.from({ length: count }, (_, i) => ({
      id: `${run}-${i}`,
      run: `S${run}`,
      photo: `<b>S${run}</b>.jpg`,
      number: i + 1,
      feretMaxUm: 120 + i,
      shape: 'fragment' as const,
      colour: 'blue' as const,
      standing: 'kept' as const,
      image: null,
    })),
  ),
};
const settled = () => new Promise((resume) => setTimeout(resume, 60));

describe('the reader’s page', () => {
  it('shows the report’s claim, moves it with a re-classed piece, and puts it back', async () => {
    document.body.innerHTML =
      '<div id="recount" hidden></div><script type="application/json" id="recount-data"></script>';
    document.getElementById('recount-data')!.textContent = JSON.stringify(data);
    await import('./reader.ts');
    await settled();
    const box = document.getElementById('recount')!;
    const claim = () => box.querySelector('.moved')!.textContent;
    const stated = claimFrom(judge(input, { seed: 20_260_101 }), COUNTS_ALONE).sentence;
    expect(box.hidden).toBe(false);
    expect(claim()).toBe(stated);
    // Names stay text.
    expect(box.querySelector('b')).toBeNull();

    const selects = [...box.querySelectorAll<HTMLSelectElement>('.one select')];
    expect(selects).toHaveLength(14);
    for (const select of selects) {
      select.value = 'none';
      select.dispatchEvent(new Event('change'));
    }
    await settled();
    expect(claim()).not.toBe(stated);
    expect(box.textContent).toContain('S0 14 → 0');

    box.querySelector('button')!.click();
    await settled();
    expect(claim()).toBe(stated);
    expect(box.textContent).toContain('As reported.');
  });
});
