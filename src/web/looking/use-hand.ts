import { useState } from 'react';
import type { MarkedParticleJson, MarkWish, PhotoJson } from '../../api/index.ts';
import { say } from '../app/notices.tsx';
import { lengthWords } from '../look/words.ts';
import { post } from '../server/outbox.ts';
import {
  begun,
  closed,
  dragged,
  lengthPx,
  released,
  type Sketch,
  type Spot,
  type Tool,
  withCorner,
  withoutLast,
} from './sketch.ts';

export interface Hand {
  readonly sketch: Sketch | null;
  /** Length beside a measured line; empty for other tools. */
  readonly label: string;
  readonly take: (tool: Tool) => void;
  readonly leave: () => void;
  readonly press: (at: Spot, least: number) => void;
  readonly drag: (at: Spot, least: number) => void;
  readonly release: (at: Spot, least: number) => void;
  /** By keys: the crosshair moves, a corner is set where it stands, the outline is closed. */
  readonly move: (dx: number, dy: number, from: Spot) => void;
  readonly corner: () => void;
  readonly close: () => void;
  readonly back: () => void;
  /** A new piece gets its names and is recorded. */
  readonly name: (shape: MarkedParticleJson['shape'], colour: MarkedParticleJson['colour']) => void;
}

/** The tool in the hand and what it has drawn; a whole cut or redrawing is recorded at once. */
export function useHand(study: string, photo: PhotoJson, chosen: MarkedParticleJson | null): Hand {
  const [sketch, setSketch] = useState<Sketch | null>(null);
  const mark = (wish: MarkWish) => {
    post(study, photo.id, wish);
    setSketch(null);
  };
  const take = (tool: Tool) => {
    if ((tool === 'cut' || tool === 'redraw') && chosen === null) {
      say('Choose a piece first: click its outline.');
      return;
    }
    setSketch((now) => (now?.tool === tool ? null : begun(tool)));
  };
  const settle = (next: Sketch) => {
    if (!next.done || chosen === null) return setSketch(next);
    const points = next.points.map(([x, y]): [number, number] => [x, y]);
    if (next.tool === 'cut') {
      return mark({ deed: 'split', particles: [chosen.id], cut: [points[0]!, points[1]!] });
    }
    if (next.tool === 'redraw') return mark({ deed: 'redraw', particles: [chosen.id], outline: points });
    setSketch(next);
  };
  const change = (by: (sketch: Sketch) => Sketch) => sketch && settle(by(sketch));
  const length = sketch?.tool === 'measure' ? lengthPx(sketch) : null;
  return {
    sketch,
    label:
      length === null
        ? ''
        : photo.scale
          ? lengthWords(length * photo.scale.um_per_px)
          : `${Math.round(length)} px`,
    take,
    leave: () => setSketch(null),
    press: (at) => change((now) => withCorner(now, at)),
    drag: (at, least) => change((now) => dragged(now, at, least)),
    release: (at, least) => change((now) => released(now, at, least)),
    move: (dx, dy, from) =>
      change((now) => {
        const [x, y] = now.cursor ?? from;
        const inside = (v: number, most: number) => Math.min(most, Math.max(0, v));
        return {
          ...now,
          cursor: [inside(x + dx, photo.width_px), inside(y + dy, photo.height_px)],
        };
      }),
    corner: () => change((now) => (now.cursor ? withCorner(now, now.cursor) : now)),
    close: () => change(closed),
    back: () => change(withoutLast),
    name: (shape, colour) => {
      if (sketch?.tool !== 'draw' || !sketch.done) return;
      const outline = sketch.points.map(([x, y]): [number, number] => [x, y]);
      mark({ deed: 'draw', particles: [], outline, shape, colour });
    },
  };
}
