/** What every keeper of records promises of published values. */
import { expect, it } from 'vitest';
import type { Tools } from '../../src/actions/index.ts';
import { COMPARABILITY_QUESTIONS, makePublishedValue } from '../../src/study/index.ts';
import { given, type smallStudy } from './small-study.ts';

export function keepsPublishedValues(
  of: () => { readonly tools: Tools; readonly made: Awaited<ReturnType<typeof smallStudy>> },
): void {
  it('keeps every edition of a published value, to the last digit, in order', async () => {
    const { tools, made } = of();
    const value = given(
      makePublishedValue({
        id: tools.names.next(),
        entry: tools.names.next(),
        study: made.study.id,
        specimen: made.specimen.id,
        stands: true,
        source: 'Invented & Co. 2020, Table 2',
        perGram: 0.1 + 0.2,
        spread: { kind: 'interval', lower: 0.1, upper: 1 / 3, confidence: 0.9 },
        sizeFromUm: 33.3,
        sizeToUm: null,
        bands: [{ fromUm: 33.3, toUm: null, share: 1 }],
        answers: Object.fromEntries(COMPARABILITY_QUESTIONS.map((key) => [key, 'not-stated'])) as never,
        note: 'two\nlines',
        by: made.person.id,
        at: tools.clock.now(),
      }),
    );
    const back = { ...value, id: tools.names.next<'published-value'>(), stands: false };
    await tools.records.change(async (desk) => {
      await desk.publishedValues.add(value);
      await desk.publishedValues.add(back);
    });
    const kept = await tools.records.look((look) => look.publishedValues.ofStudy(made.study.id));
    expect(kept).toEqual([value, back]);
  });
}
