// @vitest-environment jsdom
import { describe, expect, it } from 'vitest';
import { type RunDot, type RunsAgainstBackground, runsAgainstBackground } from './runs-against-background.ts';

const dot = (name: string, found: number | null, more: Partial<RunDot> = {}): RunDot => ({
  name,
  group: 'worn board',
  kind: 'specimen',
  found,
  counts: true,
  ...more,
});

const drawn = (more: Partial<RunsAgainstBackground>) => {
  const svg = runsAgainstBackground({
    runs: [dot('R1', 12), dot('R2', 12), dot('R3', 0)],
    background: { expected: 3, lower: 1.5, upper: 5 },
    threshold: 7,
    unit: 'particles a run',
    width: 800,
    name: 'runs',
    ...more,
  });
  const page = new DOMParser().parseFromString(svg, 'image/svg+xml');
  expect(page.querySelector('parsererror')).toBeNull();
  return page;
};

const places = (page: Document, selector: string) =>
  [...page.querySelectorAll(selector)].map((c) => [
    Number(c.getAttribute('cx')),
    Number(c.getAttribute('cy')),
  ]);

describe('runsAgainstBackground', () => {
  it('draws one dot for each counted run and hides none behind another', () => {
    const at = places(drawn({}), '.run.specimen');
    expect(at).toHaveLength(3);
    for (const [k, [x1, y1]] of at.entries()) {
      for (const [x2, y2] of at.slice(k + 1))
        expect(Math.hypot(x1! - x2!, y1! - y2!)).toBeGreaterThanOrEqual(12);
    }
  });

  it('puts equal counts at the same place on the axis and larger ones to the right', () => {
    const xs = places(drawn({}), '.run.specimen').map(([x]) => x!);
    expect(xs[1]).toBe(xs[2]);
    expect(xs[0]).toBeLessThan(xs[1]!);
  });

  it('never sets a run that nobody counted at nought', () => {
    const page = drawn({ runs: [dot('R1', 0), dot('R2', null, { because: 'filter clogged' })] });
    expect(page.querySelectorAll('.run.specimen')).toHaveLength(1);
    expect(page.querySelectorAll('.run.not-counted')).toHaveLength(1);
    const gutter = Number(/^M([\d.]+)/.exec(page.querySelector('.not-counted')!.getAttribute('d')!)![1]);
    expect(gutter).toBeGreaterThan(600);
    expect(page.querySelector('desc')!.textContent).toContain('worn board: 0; 1 not counted.');
  });

  it('draws the background from its lower to its upper end', () => {
    const page = drawn({});
    const band = page.querySelector('.background-band')!;
    const [zero, ,] = places(page, '.run.specimen')
      .map(([x]) => x!)
      .sort((a, b) => a - b);
    const twelve = places(page, '.run.specimen')[2]![0]!;
    const perOne = (twelve - zero!) / 12;
    expect(Number(band.getAttribute('x'))).toBeCloseTo(zero! + 1.5 * perOne, 1);
    expect(Number(band.getAttribute('width'))).toBeCloseTo(3.5 * perOne, 1);
  });

  it('draws the mean of a group where it belongs, and says it', () => {
    const page = drawn({ means: new Map([['worn board', 8]]) });
    const at = Number(page.querySelector('.mean')!.getAttribute('x1'));
    const [zero, twelve] = [0, 2].map((k) => places(page, '.run.specimen')[k]![0]!) as [number, number];
    expect((at - zero) / (twelve - zero)).toBeCloseTo(8 / 12, 2);
    expect(page.querySelector('desc')!.textContent).toContain('worn board: 0, 12, 12, mean 8.');
  });

  it('says in words that no control speaks for the background', () => {
    const page = drawn({ background: null, threshold: null });
    expect(page.querySelector('.background-band')).toBeNull();
    expect(page.querySelector('desc')!.textContent).toContain('no control speaks for it');
  });

  it('writes names as text, never as markup', () => {
    const evil = '<img src=x onerror="alert(1)">&\'"';
    const page = drawn({ runs: [dot(evil, 2, { group: evil }), dot(evil, 3, { href: '#r', group: evil })] });
    expect(page.querySelector('img')).toBeNull();
    expect(page.querySelectorAll('g > title')[0]!.textContent).toContain(evil);
    expect(page.querySelector('a')!.getAttribute('aria-label')).toContain(evil);
  });

  it('is one image, or a group when its dots are links', () => {
    expect(drawn({}).documentElement.getAttribute('role')).toBe('img');
    const linked = drawn({ runs: [dot('R1', 1, { href: '#r1' })] });
    expect(linked.documentElement.getAttribute('role')).toBe('group');
    expect(linked.querySelector('a')!.getAttribute('href')).toBe('#r1');
  });

  it('refuses a width that cannot hold it', () => {
    expect(() => drawn({ width: 20 })).toThrow(RangeError);
  });
});
