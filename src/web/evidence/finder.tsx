import { useQuery } from '@tanstack/react-query';
import { useCallback, useMemo, useState } from 'react';
import type { MarkedParticleJson, PhotoJson } from '../../api/index.ts';
import { finderChart, landmarksOf } from '../../report/index.ts';
import { fitAffine, mapPlace, type Place } from '../../science/evidence/index.ts';
import { Drawing } from '../look/drawing.tsx';
import { Section } from '../look/parts.tsx';
import { particlesQuery } from '../server/queries.ts';
import type { PhotoOf, Piece } from './subset-page.tsx';

/** Charts to find the drawn pieces again under another instrument, one a photograph. */
export function FinderCharts({
  pieces,
  photos,
}: {
  study: string;
  pieces: readonly Piece[];
  photos: PhotoOf;
}) {
  const [chosen, setChosen] = useState<string | null>(null);
  const with_ = [...new Set(pieces.map((piece) => piece.photo))].flatMap((id) => photos.get(id) ?? []);
  const photo = with_.find((one) => one.id === chosen) ?? with_[0];
  const here = useMemo(() => pieces.filter((piece) => piece.photo === photo?.id), [pieces, photo?.id]);
  if (!photo) return null;
  return (
    <Section
      title="Finding them again"
      lead="Print the chart. Under the other instrument find the three lettered landmarks, write down where its stage stands on each, and the table says where to go for every piece."
    >
      <div className="finder-choice">
        <label>
          Photograph{' '}
          <select value={photo.id} onChange={(event) => setChosen(event.currentTarget.value)}>
            {with_.map((one) => (
              <option key={one.id} value={one.id}>
                {one.name}
              </option>
            ))}
          </select>
        </label>
        <button type="button" className="button" onClick={() => print()}>
          Print
        </button>
      </div>
      <Chart key={photo.id} photo={photo} pieces={here} />
    </Section>
  );
}

const asFinder = (particle: MarkedParticleJson, label: string) => ({
  label,
  outlinePx: particle.outline_px,
  centrePx: particle.centroid_px,
  size: particle.feret_max_px,
});

function Chart({ photo, pieces }: { photo: PhotoJson; pieces: readonly Piece[] }) {
  const particles = useQuery(particlesQuery(photo.id)).data?.particles;
  const drawn = useMemo(() => new Set(pieces.map((piece) => piece.particle.id)), [pieces]);
  const others = useMemo(() => (particles ?? []).filter((one) => !drawn.has(one.id)), [particles, drawn]);
  const marks = useMemo(
    () =>
      landmarksOf(
        others.map((one) => asFinder(one, '')),
        pieces.map((piece) => asFinder(piece.particle, '')),
        photo.width_px,
      ).map((one, at) => ({ ...one, label: 'ABC'[at]! })),
    [others, pieces, photo.width_px],
  );
  const draw = useCallback(
    (width: number) =>
      finderChart(
        {
          name: photo.name,
          widthPx: photo.width_px,
          heightPx: photo.height_px,
          umPerPx: photo.scale?.um_per_px ?? null,
          pieces: pieces.map((piece) => asFinder(piece.particle, String(piece.place))),
          landmarks: marks,
          others: others.map((one) => ({ outlinePx: one.outline_px })),
        },
        Math.min(width, 900),
      ),
    [photo, pieces, marks, others],
  );
  const [there, setThere] = useState<readonly string[]>(['', '', '']);
  const read = there.map((words): Place | null => {
    const parts = words
      .trim()
      .split(/[\s;]+/)
      .map((part) => Number(part.replace(',', '.')));
    return parts.length === 2 && parts.every(Number.isFinite) ? [parts[0]!, parts[1]!] : null;
  });
  const all = read.every((one) => one !== null) && marks.length === 3;
  const map = all ? fitAffine(marks.map((mark, at) => ({ here: mark.centrePx, there: read[at]! }))) : null;
  return (
    <>
      <Drawing draw={draw} className="finder" />
      {marks.length < 3 ? (
        <p>Fewer than three other pieces lie on this photograph, so it has no landmarks to measure by.</p>
      ) : (
        <fieldset className="finder-marks">
          <legend>Where the other stage stands on each landmark (x and y, in its own units)</legend>
          {marks.map((mark, at) => (
            <label key={mark.label}>
              {mark.label}
              <input
                value={there[at]}
                placeholder="12.35 40.1"
                inputMode="decimal"
                onChange={(event) => {
                  const words = event.currentTarget.value;
                  setThere((known) => known.map((one, i) => (i === at ? words : one)));
                }}
              />
            </label>
          ))}
        </fieldset>
      )}
      {map && !map.ok ? (
        <p role="alert" className="sheet-problem">
          {map.refusal.message}
        </p>
      ) : null}
      {map?.ok ? (
        <table className="runs-table">
          <thead>
            <tr>
              <th scope="col">Piece</th>
              <th scope="col" className="num">
                x
              </th>
              <th scope="col" className="num">
                y
              </th>
            </tr>
          </thead>
          <tbody>
            {pieces.map((piece) => {
              const [x, y] = mapPlace(map.value, piece.particle.centroid_px);
              return (
                <tr key={piece.particle.id}>
                  <th scope="row">{piece.place}</th>
                  <td className="num">{x.toFixed(3)}</td>
                  <td className="num">{y.toFixed(3)}</td>
                </tr>
              );
            })}
          </tbody>
        </table>
      ) : null}
    </>
  );
}
