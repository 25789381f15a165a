import { type FalseFindsAsked, ownFalseFinds, type Study } from '../study/index.ts';
import { photosOf } from './candidates.ts';
import type { Look } from './ports.ts';

/** How the photographs that count were searched, the most usual way first, with what it gave on the study's own controls. */
export async function falseFindsAsked(look: Look, study: Study): Promise<readonly FalseFindsAsked[]> {
  const measured = await look.falseFinds.newest(study.id);
  const ways = new Map<string, FalseFindsAsked>();
  for (const { finding } of await photosOf(look, study)) {
    if (!finding || finding.refusal !== null) continue;
    const { method, version, wish } = finding;
    const asked = wish.falseFindsPerBlank;
    const now = { method, version, falseFindsPerBlank: asked, smallestUm: wish.smallest };
    const own = ownFalseFinds(measured, now);
    const key = `${asked} ${own !== null}`;
    ways.set(key, { asked, photos: (ways.get(key)?.photos ?? 0) + 1, own });
  }
  return [...ways.values()].sort((a, b) => b.photos - a.photos);
}
