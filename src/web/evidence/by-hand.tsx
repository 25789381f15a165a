import type { EvidenceAnswer } from '../../api/index.ts';
import { benchTest } from '../../bench/index.ts';
import { Section } from '../look/parts.tsx';
import { AnswerWords } from './answer-words.tsx';
import { toEvidence } from './paths.ts';

/** Tests on pieces that somebody chose: they stand with their pieces, and no share rests on them. */
export function ByHandSection({ study, evidence }: { study: string; evidence: EvidenceAnswer }) {
  const pieces = new Map<string, EvidenceAnswer['by_hand'][number][]>();
  for (const answer of evidence.by_hand)
    pieces.set(answer.particle, [...(pieces.get(answer.particle) ?? []), answer]);
  if (pieces.size === 0) return null;
  return (
    <Section
      title="Pieces chosen by hand"
      lead="Tested because somebody picked them. They never enter the share of plastic, which rests on pieces drawn at random."
    >
      <ul className="piece-answers">
        {[...pieces].map(([particle, answers]) => (
          <li key={particle}>
            <a href={toEvidence(study, `piece-${particle}`)}>Particle {answers[0]!.number}</a>
            {answers.map((answer) => (
              <span key={answer.id}>
                {benchTest(answer.test)?.name ?? answer.test}: <AnswerWords answer={answer} />
              </span>
            ))}
          </li>
        ))}
      </ul>
    </Section>
  );
}
