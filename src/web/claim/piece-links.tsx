import { useQuery } from '@tanstack/react-query';
import type { PieceRefJson } from '../../api/index.ts';
import { pathTo } from '../app/where.ts';
import { lengthWords } from '../look/words.ts';
import { ParticlePicture } from '../looking/particle-picture.tsx';
import { filtersQuery, particlesQuery } from '../server/queries.ts';

const SIDE = 96;

/** Pieces cut out of their photographs, the largest first, each a way to its place. */
export function PieceLinks({
  study,
  title,
  pieces,
  of,
}: {
  study: string;
  title: string;
  pieces: readonly PieceRefJson[];
  of: number;
}) {
  return (
    <div>
      <h4>{title}</h4>
      {pieces.length === 0 ? <p className="fine">None seen.</p> : null}
      <ul className="piece-pictures">
        {pieces.map((piece) => (
          <li key={piece.particle}>
            <Piece study={study} piece={piece} />
          </li>
        ))}
      </ul>
      {of > pieces.length ? (
        <p className="fine">
          The {pieces.length} largest of {of}.
        </p>
      ) : null}
    </div>
  );
}

function Piece({ study, piece }: { study: string; piece: PieceRefJson }) {
  const filters = useQuery(filtersQuery(study)).data?.filters;
  const particles = useQuery(particlesQuery(piece.photo)).data?.particles;
  const photo = filters?.flatMap((filter) => filter.photos).find(({ id }) => id === piece.photo);
  const particle = particles?.find(({ id }) => id === piece.particle);
  const words = (
    <>
      <span className="piece-frame">
        {photo && particle ? <ParticlePicture photo={photo} particle={particle} side={SIDE} /> : null}
      </span>
      <span>
        {piece.run}, no. {piece.number}
      </span>
      <span className="fine">
        {lengthWords(piece.size_um)}
        {piece.decided ? '' : ', undecided'}
      </span>
    </>
  );
  return piece.filter === null ? (
    <span className="piece">{words}</span>
  ) : (
    <a className="piece" href={pathTo({ page: 'photo', study, filter: piece.filter, photo: piece.photo })}>
      {words}
    </a>
  );
}
