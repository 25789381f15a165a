/** What every keeper of records promises of particles asked for by the thousand, and of counts. */
import { expect, it } from 'vitest';
import { findOnPhoto, importPhoto, type Tools } from '../../src/actions/index.ts';
import type { Measure } from '../../src/study/index.ts';
import { photoBytes } from './pretended.ts';
import { given, type smallStudy } from './small-study.ts';

export function givesMeasuresOfMany(
  of: () => { readonly tools: Tools; readonly made: Awaited<ReturnType<typeof smallStudy>> },
): void {
  it('gives measures of many particles as it gives each of them, and the newest finding of each photo', async () => {
    const { tools, made } = of();
    const search = async (particles: number) => {
      const name = `${particles} to be measured`;
      const source = { bytes: photoBytes(particles, name) };
      const filter = made.filters[4]!.id;
      const { photo } = given(await importPhoto(tools, { filter, source, name, by: made.person.id }));
      return given(await findOnPhoto(tools, { photo: photo.id })).finding;
    };
    const [twelve, none] = [await search(12), await search(0)];
    const otherwise = { ...twelve.wish, falseFindsPerBlank: 2 };
    const again = given(await findOnPhoto(tools, { photo: twelve.photo, wish: otherwise })).finding;
    expect(again.id).not.toBe(twelve.id);
    await tools.records.look(async (look) => {
      const newest = await look.findings.newestOfStudy(made.study.id);
      expect(newest.filter((one) => one.photo === twelve.photo)).toEqual([again]);
      expect(newest.filter((one) => one.photo === none.photo)).toEqual([none]);
      const two = await look.findings.newestOf([twelve.photo, none.photo]);
      expect([...two.values()]).toEqual(expect.arrayContaining([again, none]));
      expect(two.size).toBe(2);
      expect((await look.findings.newestOf([])).size).toBe(0);
      const whole = (await look.particles.ofFinding(twelve.id)).map(({ outlinePx: _, ...rest }) => rest);
      expect(whole).toHaveLength(12);
      const measures = Object.keys(whole[0]!) as [Measure, ...Measure[]];
      const found = await look.particles.measured([twelve.id, none.id], measures);
      expect([...found]).toEqual([
        [twelve.id, whole],
        [none.id, []],
      ]);
      expect(await look.particles.measured([], ['id'])).toEqual(new Map());
    });
  });

  it('counts some runs as it counts them among all', async () => {
    const { tools, made } = of();
    const spiked = made.runs.findIndex((run) => run.kind === 'spiked-run');
    const name = 'known pieces';
    const source = { bytes: photoBytes(9, name) };
    const filter = made.filters[spiked]!.id;
    const { photo } = given(await importPhoto(tools, { filter, source, name, by: made.person.id }));
    given(await findOnPhoto(tools, { photo: photo.id }));
    await tools.records.look(async (look) => {
      const scope = { sizeFromUm: 50, sizeToUm: null, shapes: [], colours: [] };
      const all = await look.counts.ofStudy(made.study.id, scope);
      for (const kind of ['spiked-run', 'act-control'] as const) {
        const runs = new Set(made.runs.filter((run) => run.kind === kind).map((run) => run.id));
        const mine = all.filter((count) => runs.has(count.run));
        expect(await look.counts.ofRuns([...runs], scope)).toEqual(mine);
        if (kind === 'spiked-run') expect(mine[0]!.count).toBeGreaterThan(0);
      }
    });
  });
}
