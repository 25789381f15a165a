import { useEffect, useRef } from 'react';
import type { MarkedParticleJson, PhotoJson } from '../../api/index.ts';
import { addressOf } from '../server/ask.ts';

const tileImages = new Map<string, Promise<HTMLImageElement>>();

/** One tile, fetched once however many particles lie on it; the oldest are let go. */
function tile(address: string): Promise<HTMLImageElement> {
  const known = tileImages.get(address);
  if (known) return known;
  const fresh = new Promise<HTMLImageElement>((resolve, reject) => {
    const image = new Image();
    image.onload = () => resolve(image);
    image.onerror = () => {
      tileImages.delete(address);
      reject(new Error('tile'));
    };
    image.src = address;
  });
  tileImages.set(address, fresh);
  if (tileImages.size > 200) tileImages.delete(tileImages.keys().next().value!);
  return fresh;
}

/** A particle cut out of its photograph, with some ground around it, from the tiles of the fitting level. */
export function ParticlePicture({
  photo,
  particle,
  side,
}: {
  photo: PhotoJson;
  particle: MarkedParticleJson;
  /** Side on the page, in CSS pixels. */
  side: number;
}) {
  const canvas = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    let gone = false;
    const context = canvas.current!.getContext('2d')!;
    const ratio = Math.min(2, devicePixelRatio || 1);
    canvas.current!.width = side * ratio;
    canvas.current!.height = side * ratio;
    const { tiles } = photo;
    const extent = Math.max(24, particle.feret_max_px * 1.7);
    const levelsDown = Math.max(0, Math.floor(Math.log2(extent / (side * ratio))));
    const level = Math.max(0, tiles.levels - 1 - levelsDown);
    const shrink = 2 ** (tiles.levels - 1 - level);
    const [cx, cy] = middleOf(particle);
    const left = (cx - extent / 2) / shrink;
    const top = (cy - extent / 2) / shrink;
    const size = extent / shrink;
    const zoom = (side * ratio) / size;
    const last = (length: number) => Math.ceil(length / shrink / tiles.tile_px) - 1;
    const column = (x: number, length: number) =>
      Math.min(last(length), Math.max(0, Math.floor(x / tiles.tile_px)));
    for (let c = column(left, tiles.width_px); c <= column(left + size, tiles.width_px); c++) {
      for (let r = column(top, tiles.height_px); r <= column(top + size, tiles.height_px); r++) {
        tile(addressOf('tile', { photo: photo.id, level, column: c, row: r }))
          .then((image) => {
            if (gone) return;
            context.drawImage(
              image,
              (c * tiles.tile_px - left) * zoom,
              (r * tiles.tile_px - top) * zoom,
              image.naturalWidth * zoom,
              image.naturalHeight * zoom,
            );
          })
          .catch(() => {});
      }
    }
    return () => {
      gone = true;
    };
  }, [photo, particle, side]);
  return <canvas ref={canvas} className="particle-picture" />;
}

function middleOf(particle: MarkedParticleJson): readonly [number, number] {
  const xs = particle.outline_px.map(([x]) => x);
  const ys = particle.outline_px.map(([, y]) => y);
  if (xs.length === 0) return particle.centroid_px;
  return [
    (xs.reduce((a, b) => Math.min(a, b)) + xs.reduce((a, b) => Math.max(a, b))) / 2,
    (ys.reduce((a, b) => Math.min(a, b)) + ys.reduce((a, b) => Math.max(a, b))) / 2,
  ];
}
