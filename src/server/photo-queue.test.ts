import { describe, expect, it } from 'vitest';
import type { ProgressEvent } from '../api/index.ts';
import type { Photo, StudyId } from '../study/index.ts';
import { photoQueue } from './photo-queue.ts';
import type { Served } from './served.ts';

const photo = (id: string): Photo => ({ id, filter: 'filter', name: `${id}.jpg` }) as Photo;
/** Searches of this laboratory are begun and never end. */
const endless = { records: { look: () => new Promise(() => {}) }, log: () => {} } as unknown as Served;
const STUDY = 'study' as StudyId;

describe('the queue of photographs', () => {
  it('stops what was not begun, lets go on what was, and takes the stopped up again', async () => {
    const queue = photoQueue(endless);
    const told: ProgressEvent[] = [];
    queue.listen((event) => told.push(event));
    const all = ['a', 'b', 'c', 'd', 'e', 'f', 'g'].map(photo);
    for (const one of all) queue.add(one);
    expect(queue.load).toEqual({ waiting: 3, searching: 4 });
    expect(await queue.stop(all.slice(0, 6), STUDY)).toBe(2);
    expect(queue.load).toEqual({ waiting: 1, searching: 4 });
    expect(all.map(({ id }) => queue.state(id))).toEqual([
      'searching',
      'searching',
      'searching',
      'searching',
      null,
      null,
      'waiting',
    ]);
    expect(queue.refusal('e')?.why).toBe('stopped');
    expect(queue.refusal('a')).toBeNull();
    expect(told.filter((event) => event.what === 'photo' && event.state === 'refused')).toHaveLength(2);
    queue.add(all[4]!);
    expect(queue.state('e')).toBe('waiting');
    expect(queue.refusal('e')).toBeNull();
    queue.close();
  });
});
