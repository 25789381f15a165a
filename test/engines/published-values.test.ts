/** A study held against published values, on its records: editions are kept, and other sizes are counted again, not rescaled. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  changeQuestion,
  findOnPhoto,
  importPhoto,
  publishedComparisons,
  setPublishedStanding,
  standing,
  type Tools,
  writePublished,
} from '../../src/actions/index.ts';
import { openLaboratory } from '../../src/store/index.ts';
import { COMPARABILITY_QUESTIONS, type PublishedValue } from '../../src/study/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from './pretended.ts';
import { given, QUESTION, smallStudy } from './small-study.ts';

const SAME = Object.fromEntries(
  COMPARABILITY_QUESTIONS.map((key) => [key, 'same']),
) as PublishedValue['answers'];

describe('published values beside a study', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-published-'));
  let tools: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const {
      records,
      files,
      close: shut,
    } = given(await openLaboratory(folder, { clock, names, make: { name: 'Published', invented: true } }));
    tools = { records, files, work: pretendedWork(), clock, names };
    close = shut;
    made = await smallStudy(tools, 'Boards', 2);
    // The spiked run stays unlooked at: recovery would be measured over other pieces in other sizes.
    for (const [at, n] of [44, 42, 5, 4, 3, null, 43, 41, 6, 4].entries()) {
      if (n === null) continue;
      const { photo } = given(
        await importPhoto(tools, {
          filter: made.filters[at]!.id,
          name: `${made.runs[at]!.name}.jpg`,
          source: { bytes: photoBytes(n, `published ${at}`) },
          by: made.person.id,
        }),
      );
      given(await findOnPhoto(tools, { photo: photo.id }));
    }
  });
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  const wish = () => ({
    entry: null as string | null,
    study: made.study.id,
    specimen: made.specimen.id,
    source: 'Invented & Co. 2020, Table 2',
    perGram: 0.5,
    spread: { kind: 'runs', sd: 0.1, runs: 6 } as const,
    sizeFromUm: 50,
    sizeToUm: null as number | null,
    bands: [],
    answers: SAME,
    note: '',
    by: made.person.id,
  });
  const all = async () => given(await publishedComparisons(tools, { study: made.study.id }));

  it('holds the claim’s own net against the value where the sizes are the same', async () => {
    const { entry } = given(await writePublished(tools, wish()));
    const { comparisons, here } = await all();
    const net = given(await standing(tools, { study: made.study.id })).specimens[0]!.claim.netPerGram!;
    expect(comparisons).toHaveLength(1);
    expect(comparisons[0]).toMatchObject({
      comparability: { verdict: 'comparable' },
      ours: net,
      editions: 1,
    });
    expect(comparisons[0]!.ratio!.value).toBeCloseTo(net.value / 0.5, 9);
    expect(here.background).toMatch(/act control/);
    expect(here.basis).toBe('per gram of food or liquid');
    given(
      await setPublishedStanding(tools, { study: made.study.id, entry, stands: false, by: made.person.id }),
    );
    const back = (await all()).comparisons[0]!;
    expect(back).toMatchObject({ ratio: null, editions: 2, published: { stands: false } });
    given(
      await setPublishedStanding(tools, { study: made.study.id, entry, stands: true, by: made.person.id }),
    );
    given(await writePublished(tools, { ...wish(), entry, perGram: 1 }));
    const again = (await all()).comparisons[0]!;
    expect(again).toMatchObject({ editions: 4, published: { stands: true, perGram: 1 } });
    const kept = await tools.records.look((look) => look.publishedValues.ofStudy(made.study.id));
    expect(kept.map(({ stands, perGram }) => [stands, perGram])).toEqual([
      [true, 0.5],
      [false, 0.5],
      [true, 0.5],
      [true, 1],
    ]);
  });

  it('counts its own pieces again over other sizes: the net is that of a study that asks about them', async () => {
    given(await writePublished(tools, { ...wish(), sizeFromUm: 100, sizeToUm: 300 }));
    const { comparisons } = await all();
    const { comparability, ours, ratio } = comparisons[1]!;
    expect(comparability).toMatchObject({ verdict: 'in-sizes', sizes: { fromUm: 100, toUm: 300 } });
    const question = { ...QUESTION, sizeFromUm: 100, sizeToUm: 300 };
    given(await changeQuestion(tools, { study: made.study.id, question, by: made.person.id }));
    const asked = given(await standing(tools, { study: made.study.id })).specimens[0]!.claim.netPerGram!;
    expect(ours).toEqual(asked);
    expect(ratio!.value).toBeCloseTo(asked.value / 0.5, 9);
    given(await changeQuestion(tools, { study: made.study.id, question: QUESTION, by: made.person.id }));
  });

  it('works nothing out where a bar stands, and refuses what is not of this study', async () => {
    given(
      await writePublished(tools, { ...wish(), answers: { ...SAME, identified: 'not-stated' as const } }),
    );
    expect((await all()).comparisons[2]).toMatchObject({
      comparability: { verdict: 'not-comparable' },
      ours: null,
      ratio: null,
    });
    const other = await smallStudy(tools, 'Spoons');
    const foreign = await writePublished(tools, { ...wish(), specimen: other.specimen.id });
    expect(!foreign.ok && foreign.refusal.why).toBe('other-study');
    const none = await writePublished(tools, { ...wish(), entry: other.study.id });
    expect(!none.ok && none.refusal.why).toBe('no-such-published-value');
    const stranger = await writePublished(tools, { ...wish(), by: other.study.id });
    expect(!stranger.ok && stranger.refusal.why).toBe('no-such-person');
  });
});
