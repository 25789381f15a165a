import OpenSeadragon from 'openseadragon';
import { type Ref, useEffect, useImperativeHandle, useRef, useState } from 'react';
import type { PhotoJson } from '../../api/index.ts';
import { addressOf } from '../server/ask.ts';
import { whyNoPicture } from './no-picture.ts';
import { type Chosen, type Outline, outlineAt, type View } from './outlines.ts';
import { overlayOn } from './overlay.ts';
import type { Spot } from './sketch.ts';
import { sketchLayerOn } from './sketch-layer.ts';
import type { Hand } from './use-hand.ts';

export interface ViewerHandle {
  readonly zoomBy: (factor: number) => void;
  readonly whole: () => void;
  /** Brings an outline near: it then takes a third of the picture. */
  readonly closeUp: (id: string) => void;
  /** Brings an outline into view without more movement than needed. */
  readonly show: (id: string) => void;
  readonly sight: () => Sight | null;
  /** Goes there at once, without telling `onSight`. */
  readonly look: (at: Sight) => void;
}

/** Pixels of the photo in one of the screen, and the pixel of the photo in the middle of the picture. */
export interface Sight {
  readonly perScreenPx: number;
  readonly middle: Spot;
}

interface Props {
  readonly photo: PhotoJson;
  readonly outlines: readonly Outline[];
  readonly chosen: Chosen;
  /** `more`: with the key held that adds to what is chosen. */
  readonly onChoose: (id: string, more: boolean) => void;
  readonly hand: Hand | null;
  /** Told when the person moves the picture. */
  readonly onSight?: (sight: Sight) => void;
  readonly handle: Ref<ViewerHandle>;
}

/** The photograph, as deep as it goes, with the outlines drawn on a canvas above it. */
export function Viewer({ photo, outlines, chosen, onChoose, hand, onSight, handle }: Props) {
  const frame = useRef<HTMLDivElement>(null);
  const viewer = useRef<OpenSeadragon.Viewer | null>(null);
  const now = useRef({ outlines, chosen, onChoose, hand, onSight });
  now.current = { outlines, chosen, onChoose, hand, onSight };
  const led = useRef(false);
  const redraw = useRef(() => {});
  const resketch = useRef(() => {});
  const { id, tiles } = photo;
  const [trouble, setTrouble] = useState<string | null>(null);

  useEffect(() => {
    const seadragon = OpenSeadragon({
      element: frame.current!,
      drawer: 'canvas',
      tileSources: {
        width: tiles.width_px,
        height: tiles.height_px,
        tileSize: tiles.tile_px,
        minLevel: 0,
        maxLevel: tiles.levels - 1,
        getTileUrl: (level: number, column: number, row: number) =>
          addressOf('tile', { photo: id, level, column, row }),
      } as unknown as OpenSeadragon.TileSourceOptions,
      showNavigationControl: false,
      gestureSettingsMouse: { clickToZoom: false, dblClickToZoom: true },
      gestureSettingsTouch: { clickToZoom: false, dblClickToZoom: true },
      maxZoomPixelRatio: 6,
      visibilityRatio: 1,
      animationTime: matchMedia('(prefers-reduced-motion: reduce)').matches ? 0 : 0.35,
      springStiffness: 9,
      preload: false,
    });
    viewer.current = seadragon;
    let asked = false;
    seadragon.addHandler('tile-load-failed', () => {
      if (asked) return;
      asked = true;
      void whyNoPicture(id).then((why) => {
        if (viewer.current === seadragon) setTrouble(why);
        // One tile that did not come may be the next one's trouble too, but not for ever.
        if (why === null) asked = false;
      });
    });
    const overlay = overlayOn(seadragon.canvas);
    const sketch = sketchLayerOn(seadragon.canvas);
    const viewNow = (): View | null => {
      const item = seadragon.world.getItemAt(0);
      if (!item) return null;
      const { clientWidth: width, clientHeight: height } = seadragon.canvas;
      const origin = item.imageToViewerElementCoordinates(new OpenSeadragon.Point(0, 0));
      const far = item.imageToViewerElementCoordinates(new OpenSeadragon.Point(tiles.width_px, 0));
      return { scale: (far.x - origin.x) / tiles.width_px, x: origin.x, y: origin.y, width, height };
    };
    const drawSketch = () => {
      const view = viewNow();
      if (view) sketch.show(view, now.current.hand?.sketch ?? null, now.current.hand?.label ?? '');
    };
    const draw = () => {
      const view = viewNow();
      if (!view) return;
      overlay.show(view, now.current.outlines, now.current.chosen);
      drawSketch();
    };
    redraw.current = draw;
    resketch.current = drawSketch;
    for (const event of ['update-viewport', 'open', 'resize'] as const) seadragon.addHandler(event, draw);
    const tellSight = () => {
      const sight = led.current ? null : sightOf(seadragon);
      if (sight) now.current.onSight?.(sight);
    };
    for (const event of ['zoom', 'pan', 'open', 'animation'] as const) seadragon.addHandler(event, tellSight);
    seadragon.addHandler('canvas-click', (event) => {
      const item = seadragon.world.getItemAt(0);
      if (!event.quick || !item || now.current.hand?.sketch) return;
      const at = item.viewerElementToImageCoordinates(event.position);
      const reach = 8 / item.viewportToImageZoom(seadragon.viewport.getZoom(true));
      const hit = outlineAt(now.current.outlines, at.x, at.y, reach);
      const { shiftKey } = event.originalEvent as PointerEvent;
      if (hit) now.current.onChoose(hit.id, shiftKey);
    });
    // With a tool in the hand the pointer draws; the wheel and two fingers still move the photograph.
    const drawing = (
      kind: 'canvas-press' | 'canvas-drag' | 'canvas-release',
      deed: 'press' | 'drag' | 'release',
    ) =>
      seadragon.addHandler(kind, (event) => {
        const own = now.current.hand;
        const item = seadragon.world.getItemAt(0);
        if (!own?.sketch || !item) return;
        (event as { preventDefaultAction?: boolean }).preventDefaultAction = true;
        const at = item.viewerElementToImageCoordinates(event.position);
        own[deed]([at.x, at.y], 3 / item.viewportToImageZoom(seadragon.viewport.getZoom(true)));
      });
    drawing('canvas-press', 'press');
    drawing('canvas-drag', 'drag');
    drawing('canvas-release', 'release');
    seadragon.addHandler('canvas-drag-end', (event) => {
      if (now.current.hand?.sketch) event.preventDefaultAction = true;
    });
    // The page has its own keys; the viewer's would move the photograph under the arrows.
    seadragon.addHandler('canvas-key', (event) => {
      event.preventDefaultAction = true;
    });
    seadragon.canvas.setAttribute('aria-hidden', 'true');
    seadragon.canvas.tabIndex = -1;
    return () => {
      redraw.current = () => {};
      resketch.current = () => {};
      viewer.current = null;
      overlay.remove();
      sketch.remove();
      seadragon.destroy();
    };
  }, [id, tiles.width_px, tiles.height_px, tiles.tile_px, tiles.levels]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: what is drawn is read through `now`.
  useEffect(() => {
    redraw.current();
  }, [outlines, chosen]);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is drawn is read through `now`.
  useEffect(() => {
    resketch.current();
  }, [hand?.sketch, hand?.label]);

  useImperativeHandle(handle, () => ({
    zoomBy: (factor) => {
      viewer.current?.viewport.zoomBy(factor);
      viewer.current?.viewport.applyConstraints();
    },
    whole: () => void viewer.current?.viewport.goHome(),
    sight: () => viewer.current && sightOf(viewer.current),
    look: ({ perScreenPx, middle: [x, y] }) => {
      const item = viewer.current?.world.getItemAt(0);
      if (!viewer.current || !item) return;
      led.current = true;
      const { viewport } = viewer.current;
      viewport.zoomTo(item.imageToViewportZoom(1 / perScreenPx), undefined, true);
      viewport.panTo(item.imageToViewportCoordinates(x, y), true);
      led.current = false;
    },
    closeUp: (wanted) => {
      const item = viewer.current?.world.getItemAt(0);
      const outline = now.current.outlines.find((one) => one.id === wanted);
      if (!viewer.current || !item || !outline) return;
      const [left, top, right, bottom] = outline.box;
      const side = 3 * Math.max(right - left, bottom - top, 40);
      viewer.current.viewport.fitBounds(
        item.imageToViewportRectangle((left + right - side) / 2, (top + bottom - side) / 2, side, side),
      );
    },
    show: (wanted) => {
      const seadragon = viewer.current;
      const item = seadragon?.world.getItemAt(0);
      const outline = now.current.outlines.find((one) => one.id === wanted);
      if (!seadragon || !item || !outline) return;
      const [left, top, right, bottom] = outline.box;
      const box = item.imageToViewportRectangle(left, top, right - left, bottom - top);
      const bounds = seadragon.viewport.getBounds();
      const inside =
        box.x >= bounds.x + bounds.width * 0.03 &&
        box.x + box.width <= bounds.x + bounds.width * 0.97 &&
        box.y >= bounds.y + bounds.height * 0.03 &&
        box.y + box.height <= bounds.y + bounds.height * 0.97;
      if (inside) return;
      seadragon.viewport.panTo(box.getCenter());
      // Not beyond the edge of the photograph: an empty margin shows nothing.
      seadragon.viewport.applyConstraints();
    },
  }));

  return (
    <>
      <div
        ref={frame}
        className={hand?.sketch ? 'viewer drawing' : 'viewer'}
        role="img"
        aria-label={`Photograph ${photo.name}, ${outlines.length} outlined particles. Every particle is in the strip below.`}
      />
      {trouble ? (
        <p className="viewer-trouble" role="alert">
          {trouble}
        </p>
      ) : null}
    </>
  );
}

function sightOf(seadragon: OpenSeadragon.Viewer): Sight | null {
  const item = seadragon.world.getItemAt(0);
  if (!item) return null;
  const middle = item.viewportToImageCoordinates(seadragon.viewport.getCenter(true));
  const zoom = item.viewportToImageZoom(seadragon.viewport.getZoom(true));
  return { perScreenPx: 1 / zoom, middle: [middle.x, middle.y] };
}
