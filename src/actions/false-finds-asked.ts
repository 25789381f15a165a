import { type FalseFindsAsked, ownFalseFinds, type Study } from '../study/index.ts';
import type { Look } from './ports.ts';

/** How the photographs that count were searched, the most usual way first, with what it gave on the study's own controls. */
export async function falseFindsAsked(look: Look, study: Study): Promise<readonly FalseFindsAsked[]> {
  const measured = await look.falseFinds.newest(study.id);
  const ways = new Map<string, FalseFindsAsked>();
  for (const line of await look.photos.linesOfStudy(study.id)) {
    if (line.finding === null || line.refusal !== null) continue;
    const { method, version, wish } = (await look.findings.get(line.finding))!;
    const asked = wish.falseFindsPerBlank;
    const now = { method, version, falseFindsPerBlank: asked, smallestUm: wish.smallest };
    const own = ownFalseFinds(measured, now);
    const key = `${asked} ${own !== null}`;
    ways.set(key, { asked, photos: (ways.get(key)?.photos ?? 0) + 1, own });
  }
  return [...ways.values()].sort((a, b) => b.photos - a.photos);
}
