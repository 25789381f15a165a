/** A packet in one step: a dozen pieces on which the claim hangs most, known ones in proportion, only of runs that are judged. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { movesOf, worthOfAnEye } from '../../src/actions/claim-movers.ts';
import { countStudy } from '../../src/actions/count-runs.ts';
import {
  addKnownSet,
  findOnPhoto,
  importPhoto,
  makePacket,
  markParticles,
  type Tools,
} from '../../src/actions/index.ts';
import { judgedRuns } from '../../src/actions/judged-runs.ts';
import { openLaboratory } from '../../src/store/index.ts';
import type { ParticleRecord } from '../../src/study/index.ts';
import { fraction } from '../../src/units/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from './pretended.ts';
import { given, smallStudy } from './small-study.ts';

describe('a packet in one step', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-packet-'));
  let tools: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;
  const found = new Map<string, readonly ParticleRecord[]>();

  beforeAll(async () => {
    const [clock, names] = [tickingClock(), countedNames()];
    const open = given(
      await openLaboratory(folder, { clock, names, make: { name: 'Packets', invented: true } }),
    );
    tools = { records: open.records, files: open.files, work: pretendedWork(), clock, names };
    close = open.close;
    made = await smallStudy(tools);
    for (const [at, n] of [14, 12, 5, 9, 3, 8].entries()) {
      const { photo } = given(
        await importPhoto(tools, {
          filter: made.filters[at]!.id,
          source: { bytes: photoBytes(n, `packet ${at}`) },
          name: `filter-${at}.png`,
          by: made.person.id,
        }),
      );
      const { finding } = given(await findOnPhoto(tools, { photo: photo.id }));
      found.set(
        made.runs[at]!.name,
        await tools.records.look((look) => look.particles.ofFinding(finding.id)),
      );
    }
    given(
      await addKnownSet(tools, {
        study: made.study.id,
        name: 'Known',
        made: 'cut with a scalpel',
        by: made.person.id,
        pieces: found.get('K1')!.map(({ id }, at) => ({
          key: `K${at + 1}`,
          material: at < 4 ? 'polyethylene' : 'cotton',
          class: at < 4 ? 'thermoplastic' : 'natural-fibre',
          shape: 'fragment',
          colour: 'blue',
          sizeUm: 200,
          particle: id,
        })),
      }),
    );
  }, 120_000);
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  it('enters the reader, draws a dozen and half as many known pieces of both kinds', async () => {
    const wish = { study: made.study.id, reader: 'Outside Reader', by: made.person.id, seed: 77 };
    const { round, reader } = given(await makePacket(tools, wish));
    expect(reader.name).toBe('Outside Reader');
    expect(round.scorers).toEqual([made.person.id, reader.id]);
    const of = (side: string) => round.key.filter((card) => card.side === side);
    expect([of('specimen').length, of('control').length, of('known').length]).toEqual([6, 6, 6]);
    const known = of('known').map(({ piece }) => Number(piece!.slice(1)));
    expect(known.filter((n) => n <= 4)).toHaveLength(3);
    const other = given(await makePacket(tools, { ...wish, seed: 78 }));
    expect(other.round.name).toBe('Packet for Outside Reader, 2');
    expect(other.reader.id).toBe(reader.id);
    const pieces = (of: typeof round) =>
      of.key
        .flatMap(({ piece }) => piece ?? [])
        .sort()
        .join();
    expect(pieces(other.round)).not.toBe(pieces(round));
  });

  it('shows pieces of judged runs alone, those on which the claim hangs most', async () => {
    // a person dropped one that the finder is sure of
    const [sure] = found.get('S1')!.filter(({ feretMaxUm }) => feretMaxUm! >= 100);
    given(
      await markParticles(tools, {
        photo: sure!.photo,
        particles: [sure!.id],
        decision: { kind: 'drop' },
        by: made.person.id,
      }),
    );
    const { counted, judged } = await tools.records.look(async (look) => {
      const study = await countStudy(look, made.study);
      return { counted: study, judged: judgedRuns(study)! };
    });
    expect(counted.runs.filter(({ run }) => judged.has(run.id)).map(({ run }) => run.name)).toEqual([
      'S1',
      'S2',
      'C1',
      'C2',
    ]);
    const moves = movesOf(counted)!;
    // judged anew: a piece less in the runs and one more in the controls both lower the net
    for (const side of ['specimens', 'controls'] as const)
      for (const way of ['out', 'in'] as const) expect(moves[side][way], `${side} ${way}`).toBeGreaterThan(0);
    const piece = (standing: ParticleRecord['standing'], real: number) => ({
      standing,
      certainty: { ...sure!.certainty, real: fraction(real) },
    });
    const worth = (standing: ParticleRecord['standing'], real: number) =>
      worthOfAnEye(piece(standing, real), 'specimens', moves);
    expect(worth('kept', 0.2)).toBeGreaterThan(worth('kept', 0.9));
    expect(worth('dropped', 0.97)).toBeGreaterThan(worth('dropped', 0.2));
    expect(worth('unmarked', 0.5)).toBeGreaterThan(worth('kept', 0.5));
    const { round } = given(
      await makePacket(tools, { study: made.study.id, reader: 'Third', by: made.person.id, seed: 79 }),
    );
    const photos = new Set(
      ['S1', 'S2', 'C1', 'C2'].flatMap((run) => found.get(run)!.map(({ photo }) => photo as string)),
    );
    for (const card of round.key) if (card.side !== 'known') expect(photos).toContain(card.photo);
    expect(round.key.map(({ particle }) => particle)).toContain(sure!.id);
  });
});
