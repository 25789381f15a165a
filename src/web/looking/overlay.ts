import { type Chosen, drawOutlines, type Outline, type View } from './outlines.ts';

/** Up to so many outlines in view are drawn anew for every frame. */
const EACH_FRAME = 1200;
/** With more, the last drawing is moved along while the picture moves, and drawn anew when it rests so long. */
const REST_MS = 90;

export interface Overlay {
  /** Shows the outlines for a view; exact at once or, with very many of them, as soon as the picture rests. */
  readonly show: (view: View, outlines: readonly Outline[], chosen: Chosen) => void;
  readonly remove: () => void;
}

/** A canvas above the photograph that keeps up with it however many outlines there are. */
export function overlayOn(parent: HTMLElement): Overlay {
  const canvas = document.createElement('canvas');
  canvas.className = 'outlines';
  parent.append(canvas);
  const context = canvas.getContext('2d')!;
  let drawn: { view: View; outlines: readonly Outline[]; chosen: Chosen; count: number } | null = null;
  let rest: ReturnType<typeof setTimeout> | undefined;

  const draw = (view: View, outlines: readonly Outline[], chosen: Chosen) => {
    clearTimeout(rest);
    const ratio = devicePixelRatio || 1;
    const width = Math.round(view.width * ratio);
    const height = Math.round(view.height * ratio);
    if (canvas.width !== width || canvas.height !== height) {
      canvas.width = width;
      canvas.height = height;
      canvas.style.width = `${view.width}px`;
      canvas.style.height = `${view.height}px`;
    }
    canvas.style.transform = '';
    context.setTransform(ratio, 0, 0, ratio, 0, 0);
    drawn = { view, outlines, chosen, count: drawOutlines(context, outlines, view, chosen) };
  };

  return {
    show: (view, outlines, chosen) => {
      const same =
        drawn !== null &&
        drawn.outlines === outlines &&
        drawn.chosen === chosen &&
        drawn.view.width === view.width &&
        drawn.view.height === view.height;
      if (!same || drawn === null || drawn.count <= EACH_FRAME) {
        draw(view, outlines, chosen);
        return;
      }
      const grown = view.scale / drawn.view.scale;
      canvas.style.transform = `translate(${view.x - drawn.view.x * grown}px, ${view.y - drawn.view.y * grown}px) scale(${grown})`;
      clearTimeout(rest);
      rest = setTimeout(() => draw(view, outlines, chosen), REST_MS);
    },
    remove: () => {
      clearTimeout(rest);
      canvas.remove();
    },
  };
}
