import { type PointerEvent, useState } from 'react';
import type { ScoringJson } from '../../api/index.ts';
import { addressOf } from '../server/ask.ts';

type Card = NonNullable<ScoringJson['card']>;
export type Point = NonNullable<NonNullable<Card['before']>['points']>[number];
type Place = readonly [x: number, y: number];

/** Taps nearer than this part of the side are on the same piece, and shorter strokes are taps. */
const SAME = 0.03;

/** The picture under a code; on a field, pieces are drawn over or tapped. */
export function BlindPicture({
  round,
  card,
  points,
  onPoints,
}: {
  round: string;
  card: Card;
  points: readonly Point[];
  onPoints: (points: readonly Point[]) => void;
}) {
  const image = (
    <img
      src={addressOf('blindPicture', { round, code: card.code })}
      alt={`Under the code ${card.code}`}
      width={640}
      height={640}
      draggable={false}
    />
  );
  return card.what === 'fields' ? (
    <Field code={card.code} image={image} points={points} onPoints={onPoints} />
  ) : (
    image
  );
}

function Field({
  code,
  image,
  points,
  onPoints,
}: {
  code: string;
  image: React.ReactNode;
  points: readonly Point[];
  onPoints: (points: readonly Point[]) => void;
}) {
  const [stroke, setStroke] = useState<{ readonly from: Place; readonly to: Place } | null>(null);
  // The record keeps middle and length; how a line lay is shown as long as the picture is.
  const [drawn, setDrawn] = useState<ReadonlyMap<string, readonly [Place, Place]>>(new Map());
  const lift = (event: PointerEvent<HTMLButtonElement>) => {
    if (stroke === null) return;
    const { from } = stroke;
    const to = placeOf(event);
    setStroke(null);
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (length < SAME) onPoints(tapped(points, to));
    else {
      const point: Point = { x: (to[0] + from[0]) / 2, y: (to[1] + from[1]) / 2, called: 'plastic', length };
      setDrawn(new Map(drawn).set(nameOf(point), [from, to]));
      onPoints([...points, point]);
    }
  };
  return (
    <button
      type="button"
      className="score-field"
      aria-label={`Field ${code}: draw over the pieces or tap them`}
      onPointerDown={(event) => {
        const from = placeOf(event);
        setStroke({ from, to: from });
        event.currentTarget.setPointerCapture(event.pointerId);
      }}
      onPointerMove={(event) => stroke && setStroke({ ...stroke, to: placeOf(event) })}
      onPointerUp={lift}
      onPointerCancel={() => setStroke(null)}
    >
      {image}
      <svg className="found-lines" viewBox="0 0 1 1" preserveAspectRatio="none" aria-hidden="true">
        {points.map((point) => {
          const ends = drawn.get(nameOf(point));
          return ends ? <Line key={nameOf(point)} ends={ends} called={point.called} /> : null;
        })}
        {stroke ? <Line ends={[stroke.from, stroke.to]} called="plastic" /> : null}
      </svg>
      {points.map((point) => (
        <span
          key={nameOf(point)}
          className={`found-point is-${point.called}`}
          style={{ insetInlineStart: `${100 * point.x}%`, insetBlockStart: `${100 * point.y}%` }}
        />
      ))}
    </button>
  );
}

const nameOf = ({ x, y }: Point): string => `${x} ${y}`;

function Line({ ends: [[x1, y1], [x2, y2]], called }: { ends: readonly [Place, Place]; called: string }) {
  return (
    <>
      <line className="is-edge" x1={x1} y1={y1} x2={x2} y2={y2} vectorEffect="non-scaling-stroke" />
      <line className={`is-${called}`} x1={x1} y1={y1} x2={x2} y2={y2} vectorEffect="non-scaling-stroke" />
    </>
  );
}

function placeOf(event: PointerEvent<HTMLButtonElement>): Place {
  const box = event.currentTarget.getBoundingClientRect();
  const part = (n: number) => Math.min(1, Math.max(0, n));
  return [part((event.clientX - box.left) / box.width), part((event.clientY - box.top) / box.height)];
}

/** A tap adds a piece; on one that is there it makes it “cannot tell”, and then takes it away. */
function tapped(points: readonly Point[], [x, y]: Place): readonly Point[] {
  const there = points.findIndex((point) => Math.hypot(point.x - x, point.y - y) < SAME);
  if (there < 0) return [...points, { x, y, called: 'plastic', length: null }];
  return points[there]!.called === 'plastic'
    ? points.map((point, k) => (k === there ? { ...point, called: 'cannot-tell' as const } : point))
    : points.filter((_, k) => k !== there);
}
