import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { PieceDetail } from '../../api/index.ts';
import { BENCH_TESTS, benchTest, outsideRange } from '../../bench/index.ts';
import { percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Failed, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { lengthWords } from '../look/words.ts';
import { ParticlePicture } from '../looking/particle-picture.tsx';
import { filtersQuery, pieceQuery } from '../server/queries.ts';
import { AnswerWords, ChanceWords, TakeAnswerBack } from './answer-words.tsx';
import { BackToEvidence } from './back.tsx';
import { toEvidence } from './paths.ts';
import { TestPiece } from './test-piece.tsx';
import { TestSketch } from './test-sketch.tsx';

/** A piece that somebody chose: any bench test on it, what its tests say, and why no share rests on them. */
export function PiecePage({ study, piece: id }: { study: string; piece: string }) {
  const { data, error, refetch } = useQuery(pieceQuery(id));
  const filters = useQuery(filtersQuery(study)).data?.filters;
  const [testing, setTesting] = useState<string | null>(null);
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data || !filters) return <Waiting what="the piece" />;
  const { particle, filter } = data;
  const photo = filters.flatMap(({ photos }) => photos).find((one) => one.id === data.photo) ?? null;
  const test = testing === null ? null : benchTest(testing);
  if (test) {
    return (
      <TestPiece
        key={test.id}
        study={study}
        test={test}
        particle={particle}
        called={calledFor(data, test.id)}
        shownBy={['piece', id]}
        photo={photo}
        material={filter.material}
        onEnd={() => setTesting(null)}
      />
    );
  }
  const there = pathTo({ page: 'photo', study, filter: filter.id, photo: data.photo });
  return (
    <div className="page">
      <BackToEvidence study={study} />
      <PlaceHead
        title={`Particle ${particle.number} of ${data.run}`}
        lead={`${particle.colour} ${particle.shape}, ${lengthWords(particle.feret_max_um)}, on “${filter.name}”.`}
      >
        <a className="button" href={there}>
          On its photograph
        </a>
      </PlaceHead>
      <div className="piece-head">
        {photo ? <ParticlePicture photo={photo} particle={particle} side={172} /> : null}
        <div>
          {data.drawn.map((one) => (
            <p key={one.id}>
              Drawn at random for <a href={toEvidence(study, `subset-${one.id}`)}>“{one.name}”</a> (
              {benchTest(one.test)?.name.toLowerCase() ?? one.test}): what that test says of it enters the
              share.
            </p>
          ))}
          <p className="by-hand">
            <strong>
              {data.drawn.length === 0 ? 'Chosen by hand.' : 'Any other test of it is chosen by hand.'}
            </strong>{' '}
            What you find stands with this piece and never enters the share of plastic: that rests on pieces
            drawn at random alone, since pieces picked for their looks would bias it.
          </p>
          {data.chance ? (
            <p>
              <ChanceWords chance={data.chance} />{' '}
              <small className="fine">
                starting from {data.prior_from} ({percent(data.prior)})
              </small>
            </p>
          ) : null}
        </div>
      </div>
      {data.answers.length > 0 ? (
        <Section title="What was tested">
          <ul className="piece-answers">
            {data.answers.map((answer) => (
              <li key={answer.id}>
                <strong>{benchTest(answer.test)?.name ?? answer.test}</strong>
                <AnswerWords answer={answer} />
                <TakeAnswerBack study={study} answer={answer} shownBy={['piece', id]} />
              </li>
            ))}
          </ul>
        </Section>
      ) : null}
      <Section title="Tests at hand" lead={data.used_up ?? 'Choose one; it leads you step by step.'}>
        <ul className="piece-tests">
          {BENCH_TESTS.map((one) => (
            <li key={one.id}>
              <button
                type="button"
                className="test-card"
                disabled={data.used_up !== null}
                onClick={() => setTesting(one.id)}
              >
                <TestSketch test={one.id} />
                <span className="test-card-name">{one.name}</span>
                <span className="test-card-asks">{one.asks}</span>
                <span className="worth">
                  {outsideRange(one, {
                    feretMaxUm: particle.feret_max_um,
                    shape: particle.shape,
                    filterMaterial: null,
                  }) ?? (one.destroys ? 'Uses the piece up.' : 'The piece stays.')}
                </span>
              </button>
            </li>
          ))}
        </ul>
      </Section>
    </div>
  );
}

const calledFor = ({ particle, drawn }: PieceDetail, test: string): string =>
  drawn.some((one) => one.test === test)
    ? `particle ${particle.number}, drawn at random`
    : `particle ${particle.number}, chosen by hand`;
