import type { View } from './outlines.ts';
import { isLine, type Sketch } from './sketch.ts';

const SVG = 'http://www.w3.org/2000/svg';

export interface SketchLayer {
  readonly show: (view: View, sketch: Sketch | null, label: string) => void;
  readonly remove: () => void;
}

/** What the hand draws, above the outlines and apart from them: it changes with every movement, they do not. */
export function sketchLayerOn(parent: HTMLElement): SketchLayer {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('class', 'sketch');
  svg.setAttribute('aria-hidden', 'true');
  const casing = document.createElementNS(SVG, 'path');
  const line = document.createElementNS(SVG, 'path');
  const cross = document.createElementNS(SVG, 'path');
  const text = document.createElementNS(SVG, 'text');
  casing.setAttribute('class', 'sketch-casing');
  line.setAttribute('class', 'sketch-line');
  cross.setAttribute('class', 'sketch-cross');
  svg.append(casing, line, cross, text);
  parent.append(svg);
  return {
    show: (view, sketch, label) => {
      svg.style.display = sketch === null ? 'none' : '';
      if (sketch === null) return;
      const on = ([x, y]: readonly [number, number]) => [x * view.scale + view.x, y * view.scale + view.y];
      const way = sketch.points.map(on);
      if (isLine(sketch.tool) && !sketch.done && sketch.cursor && way.length === 1)
        way.push(on(sketch.cursor));
      const path = `${way.map(([x, y], k) => `${k === 0 ? 'M' : 'L'}${x} ${y}`).join('')}${sketch.done && !isLine(sketch.tool) ? 'Z' : ''}`;
      casing.setAttribute('d', path);
      line.setAttribute('d', path);
      const at = sketch.cursor && !sketch.done ? on(sketch.cursor) : null;
      cross.setAttribute('d', at ? `M${at[0]! - 14} ${at[1]}h28M${at[0]} ${at[1]! - 14}v28` : '');
      const end = way[way.length - 1];
      text.textContent = end ? label : '';
      if (end) {
        text.setAttribute('x', String(end[0]! + 12));
        text.setAttribute('y', String(end[1]! - 10));
      }
    },
    remove: () => svg.remove(),
  };
}
