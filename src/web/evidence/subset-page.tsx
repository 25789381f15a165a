import { useQuery } from '@tanstack/react-query';
import { useState } from 'react';
import type { FiltersAnswer, SubsetDetail } from '../../api/index.ts';
import { benchTest } from '../../bench/index.ts';
import { percent } from '../../report/index.ts';
import { pathTo } from '../app/where.ts';
import { Failed, PlaceHead, Section, Waiting } from '../look/parts.tsx';
import { lengthWords, many } from '../look/words.ts';
import { ParticlePicture } from '../looking/particle-picture.tsx';
import { filtersQuery, subsetQuery } from '../server/queries.ts';
import { AnswerWords, ChanceWords, TakeAnswerBack } from './answer-words.tsx';
import { BackToEvidence } from './back.tsx';
import { FinderCharts } from './finder.tsx';
import { Results } from './results.tsx';
import { TestPiece } from './test-piece.tsx';
import { TestSketch } from './test-sketch.tsx';

export type Piece = SubsetDetail['pieces'][number];
export type PhotoOf = ReadonlyMap<string, FiltersAnswer['filters'][number]['photos'][number]>;

/** One random part: the pieces in the order of their places, tested one after the other, then what they show. */
export function SubsetPage({ study, subset: id }: { study: string; subset: string }) {
  const { data, error, refetch } = useQuery(subsetQuery(id));
  const filters = useQuery(filtersQuery(study)).data?.filters;
  const [testing, setTesting] = useState<string | null>(null);
  if (error && !data) return <Failed error={error} again={() => void refetch()} />;
  if (!data || !filters) return <Waiting what="the pieces" />;
  const photos: PhotoOf = new Map(
    filters.flatMap((filter) => filter.photos.map((photo) => [photo.id, photo])),
  );
  const { subset, pieces } = data;
  const test = benchTest(subset.test);
  if (!test) return <p className="page">This test is no longer known here.</p>;
  const open = pieces.filter((piece) => !ended(piece, subset.test));
  const at = testing === null ? null : (pieces.find((piece) => piece.particle.id === testing) ?? null);
  if (at) {
    const after = pieces.find((piece) => piece.place > at.place && !ended(piece, subset.test));
    return (
      <TestPiece
        key={at.particle.id}
        study={study}
        shownBy={['subset', id]}
        test={test}
        particle={at.particle}
        called={`piece ${at.place} of ${pieces.length}`}
        photo={photos.get(at.photo) ?? null}
        material={filters.find((filter) => filter.photos.some(({ id }) => id === at.photo))?.material ?? ''}
        onEnd={(further) => setTesting(further ? (after?.particle.id ?? null) : null)}
      />
    );
  }
  return (
    <div className="page">
      <BackToEvidence study={study} />
      <PlaceHead
        title={subset.name}
        lead={`${test.name}: ${many(pieces.length, 'piece')} drawn by chance from the counted ones, seed ${subset.seed}.`}
      >
        {open.length > 0 ? (
          <button type="button" className="button primary" onClick={() => setTesting(open[0]!.particle.id)}>
            {open.length === pieces.length ? 'Test the first piece' : 'Test the next piece'}
          </button>
        ) : null}
      </PlaceHead>
      <ol className="drawn-pieces">
        {pieces.map((piece) => (
          <DrawnPiece
            key={piece.particle.id}
            study={study}
            subset={id}
            piece={piece}
            photos={photos}
            test={subset.test}
            onTest={() => setTesting(piece.particle.id)}
          />
        ))}
      </ol>
      <p className="fine">
        The chance beside a tested piece starts from {data.prior_from} ({percent(data.prior)}) and takes its
        tests together: tests that err for the same reason are never multiplied as if they were independent.
        The span holds what the drills leave open. How far tests err together is our choice and not measured:
        where two tests speak, the bounds of it stand behind. Photograph a filter again after its tests, and
        each tested piece here leads to its square before and after.
      </p>
      <Strata subset={subset} />
      <BySpecimen subset={subset} />
      <FinderCharts study={study} pieces={pieces} photos={photos} />
      <Results study={study} subset={id} name={subset.name} pieces={pieces} photos={photos} />
    </div>
  );
}

const ended = (piece: Piece, test: string): boolean => piece.answers.some((answer) => answer.test === test);

function DrawnPiece({
  study,
  subset,
  piece,
  photos,
  test,
  onTest,
}: {
  study: string;
  subset: string;
  piece: Piece;
  photos: PhotoOf;
  test: string;
  onTest: () => void;
}) {
  const photo = photos.get(piece.photo);
  const answer = piece.answers.findLast((one) => one.test === test) ?? null;
  const { particle, chance } = piece;
  return (
    <li className={answer ? `is-${answer.plastic}` : undefined}>
      <span className="drawn-place">{piece.place}</span>
      {photo ? <ParticlePicture photo={photo} particle={particle} side={104} /> : null}
      <span className="drawn-what">
        <strong>
          {particle.colour} {particle.shape}
        </strong>
        <span>
          {lengthWords(particle.feret_max_um)}, {piece.run}
        </span>
        {answer ? <AnswerWords answer={answer} /> : null}
        {chance ? <ChanceWords chance={chance} /> : null}
        {answer && photo ? <BeforeAndAfter study={study} piece={piece} photos={photos} /> : null}
        {answer ? (
          <TakeAnswerBack study={study} answer={answer} shownBy={['subset', subset]} />
        ) : (
          <button type="button" className="button" onClick={onTest}>
            Test
          </button>
        )}
      </span>
    </li>
  );
}

/** The share of each specimen, where there are several. */
function BySpecimen({ subset }: { subset: SubsetDetail['subset'] }) {
  if (subset.by_specimen.length === 0 || subset.specimens === null) return null;
  return (
    <Section title="Specimen by specimen">
      <dl className="plain-facts">
        {subset.by_specimen.map(({ specimen, name, share }) => (
          <div key={specimen}>
            <dt>{name}</dt>
            <dd>
              {share
                ? `${share.passed} of ${share.tested} passed: ${percent(share.share.value)} (${percent(share.share.lower)} to ${percent(share.share.upper)}) is real`
                : 'fewer than ten of its pieces tested: the share of all together stands for it'}
            </dd>
          </div>
        ))}
      </dl>
    </Section>
  );
}

/** The piece's square before the test and after it, where its filter was photographed again. */
function BeforeAndAfter({ study, piece, photos }: { study: string; piece: Piece; photos: PhotoOf }) {
  const own = [...photos.values()].filter((photo) => photo.filter === photos.get(piece.photo)?.filter);
  const after = own[own.findIndex((photo) => photo.id === piece.photo) + 1];
  if (!after) return null;
  const [x, y] = piece.particle.centroid_px.map(Math.round);
  return (
    <a href={`${pathTo({ page: 'beside', study, photos: [piece.photo, after.id] })}#at=${x},${y}`}>
      Its square before and after
    </a>
  );
}

function Strata({ subset }: { subset: SubsetDetail['subset'] }) {
  return (
    <Section
      title="What they stand for"
      lead="Each row is drawn for itself and speaks for its own pieces; together they give the share."
    >
      <table className="runs-table strata">
        <thead>
          <tr>
            <th scope="col">Pieces</th>
            <th scope="col">Side</th>
            <th scope="col" className="num">
              Counted
            </th>
            <th scope="col" className="num">
              Drawn
            </th>
            <th scope="col" className="num">
              Passed
            </th>
            <th scope="col" className="num">
              Without result
            </th>
          </tr>
        </thead>
        <tbody>
          {subset.strata.map((one) => (
            <tr key={`${one.side} ${one.name}`}>
              <th scope="row">{one.name}</th>
              <td data-name="Side">{one.side === 'specimens' ? 'product' : 'controls'}</td>
              <td data-name="Of" className="num">
                {one.pieces}
              </td>
              <td data-name="Drawn" className="num">
                {one.drawn}
              </td>
              <td data-name="Passed" className="num">
                {one.tested === 0 ? 'not tested' : `${one.passed} of ${one.tested}`}
              </td>
              <td data-name="Without result" className="num">
                {one.without === 0 ? '–' : one.without}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="fine">
        <TestSketch test={subset.test} size={28} /> Ambiguous, lost or outside the test’s range is no result;
        it is not a “no”.
      </p>
    </Section>
  );
}
