import { useQuery } from '@tanstack/react-query';
import { useCallback } from 'react';
import type { EvidenceAnswer } from '../../api/index.ts';
import { benchTest } from '../../bench/index.ts';
import { type RateLine, rateBars } from '../../report/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Section } from '../look/parts.tsx';
import { IDENTIFIED_WORDS } from '../look/words.ts';
import { MethodLink } from '../methods/method-link.tsx';
import { standingQuery } from '../server/queries.ts';

/** Today's word on what the pieces are: the share found to be real on each side, or that nobody knows yet. */
export function HowSure({ study, evidence }: { study: string; evidence: EvidenceAnswer }) {
  const claim = useQuery(standingQuery(study)).data?.claim;
  const subset = evidence.subsets.find((one) => one.counts) ?? null;
  const test = subset && benchTest(subset.test);
  const draw = useCallback(
    (width: number) => {
      const line = (name: string, side: NonNullable<typeof subset>['specimens']): RateLine => ({
        name,
        rate: side?.share ?? null,
        says: side ? `${side.passed} of ${side.tested}` : 'none tested',
        wants: 'high',
      });
      return rateBars(
        [
          line('of the product’s pieces', subset?.specimens ?? null),
          ...(subset?.by_specimen ?? []).flatMap(({ name, share }) =>
            share ? [line(`of “${name}”`, share)] : [],
          ),
          line('of the controls’ pieces', subset?.controls ?? null),
        ],
        width,
        'Share that is real',
      );
    },
    [subset],
  );
  return (
    <Section title="What the pieces are">
      <p className="reading">
        Today {claim ? IDENTIFIED_WORDS[claim.identified_by] : 'told by eye'}
        {subset && test
          ? `. Of a random part of the counted pieces (“${subset.name}”, ${test.name.toLowerCase()}), so many passed; the band holds the chance of the draw${subset.errors_known ? ' and the errors of the test' : ''}.`
          : ': a piece counts because of how it looks. Testing a dozen pieces drawn at random, controls’ pieces among them, tells what share is plastic.'}
      </p>
      {subset ? <Drawing draw={draw} /> : null}
      {subset ? <Pooled subset={subset} /> : null}
      {subset?.specimens?.below_floor ? (
        <p className="fine warned">
          No more passed than the test lets pass of look-alikes alone: the share cannot be stated, only that
          it is below {Math.round(100 * subset.specimens.share.upper)} %.
        </p>
      ) : null}
      {subset && !subset.errors_known ? (
        <p className="fine warned">
          The errors of this test are taken as none: no drill of ten known plastics and ten look-alikes is on
          record yet.
        </p>
      ) : null}
      <MethodLink name="evidence" />
    </Section>
  );
}

/** Which specimens go by the share of all, since too few of their own pieces were tested. */
export function Pooled({ subset }: { subset: EvidenceAnswer['subsets'][number] }) {
  const without = subset.by_specimen.filter(({ share }) => share === null).map(({ name }) => `“${name}”`);
  if (without.length === 0) return null;
  return (
    <p className="fine warned">
      {without.join(' and ')}: fewer than ten tested pieces of its own, so the share of all the product’s
      pieces together stands for it.
    </p>
  );
}
