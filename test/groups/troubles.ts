/** What can fail besides being killed: each brought about, its sentence taken down, and the work gone on with after it. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import {
  findOnPhoto,
  importPhoto,
  markByHand,
  markParticles,
  type Tools,
  troubleOf,
  undo,
} from '../../src/actions/index.ts';
import { originalsInBucket } from '../../src/store/group/bucket.ts';
import { checkOpen, openLaboratory, originalsOnDisk, systemNames } from '../../src/store/index.ts';
import type { Instant } from '../../src/study/index.ts';
import type { Outcome } from '../../src/units/index.ts';
import { photoBytes, pretendedWork } from '../engines/pretended.ts';
import { given, smallStudy } from '../engines/small-study.ts';
import { checkGroup } from './check.ts';
import { startGroup } from './group.ts';
import { bring, makeStudy, noise } from './group-study.ts';
import { postgresPrograms } from './postgres-server.ts';
import { smallDisk } from './small-disk.ts';
import { NONE, type Told } from './told.ts';
import { amongPeople } from './troubles-people.ts';

/** What is said when it fails; a thing that works is an error here. */
async function saidBy(work: () => Promise<Outcome<unknown>>): Promise<string> {
  try {
    const outcome = await work();
    if (outcome.ok) throw new RangeError('it worked, and should not have');
    return outcome.refusal.message;
  } catch (failure) {
    if (failure instanceof RangeError) throw failure;
    return troubleOf(failure, { places: false }).message;
  }
}

async function inFolder(home: string): Promise<readonly Told[]> {
  const told: Told[] = [];
  const where = 'folder' as const;
  let room = Number.MAX_SAFE_INTEGER;
  let now = Date.UTC(2026, 0, 5);
  const clock = {
    now: () => {
      now += 1000;
      return new Date(now).toISOString() as Instant;
    },
  };
  const folder = path.join(home, 'laboratory');
  const wish = { clock, names: systemNames, freeBytes: () => room };
  const lab = given(await openLaboratory(folder, { ...wish, make: { name: 'In trouble', invented: true } }));
  const tools: Tools = { ...lab, work: pretendedWork(), clock, names: systemNames };
  const { study, filters, person } = await smallStudy(tools);
  const by = person.id;
  const photo = async (k: number) => {
    const source = { bytes: photoBytes(3, `trouble ${k}`) };
    return importPhoto(tools, { filter: filters[k % 6]!.id, source, name: `${k}.png`, by });
  };
  const clean = async (): Promise<string> => {
    const { problems } = await checkOpen(lab);
    if (problems.length > 0) throw new Error(problems.map(({ message }) => message).join(' '));
    return 'check clean';
  };
  const first = given(await photo(0)).photo;
  given(await findOnPhoto(tools, { photo: first.id }));

  room = 0;
  const full = await saidBy(() => photo(1));
  room = Number.MAX_SAFE_INTEGER;
  given(await photo(1));
  told.push({
    where,
    what: 'the disk is full',
    said: full,
    after: `the same photograph is taken; ${await clean()}`,
  });

  const second = await saidBy(() => openLaboratory(folder, { ...wish, make: null }));
  told.push({
    where,
    what: 'a second program opens the same folder',
    said: second.replaceAll(folder, '…').replace(/process \d+ on \S+, since \S+/, 'process …'),
    after: await clean(),
  });

  const finding = await tools.records.look((look) => look.findings.newest(first.id));
  const [one, two, three] = await tools.records.look((look) => look.particles.ofFinding(finding!.id));
  const mark = (piece: typeof one, kind: 'keep' | 'drop') =>
    markParticles(tools, { photo: first.id, particles: [piece!.id], decision: { kind }, by });
  now = Date.UTC(2046, 0, 1);
  given(await mark(one, 'keep'));
  now = Date.UTC(1999, 0, 1);
  given(await mark(one, 'drop'));
  given(await undo(tools, { study: study.id, by }));
  const stands = await tools.records.look((look) => look.particles.some([one!.id]));
  if (stands[0]!.standing !== 'kept')
    throw new Error(`after a jump of the clock it is ${stands[0]!.standing}`);
  now = Date.UTC(2026, 0, 6);
  told.push({
    where,
    what: 'the clock jumps twenty years forward, then fifty back, between two marks',
    said: NONE,
    after: `the later mark is the one undone, whatever its date; ${await clean()}`,
  });

  const outline = [
    [1, 1],
    [30, 1],
    [30, 30],
  ] as const;
  given(
    await markByHand(tools, { photo: first.id, by, hand: { deed: 'redraw', particle: two!.id, outline } }),
  );
  told.push({
    where,
    what: 'two tabs: one has drawn a piece anew, the other still decides on the old one',
    said: await saidBy(() => mark(two, 'keep')),
    after: await clean(),
  });
  given(await mark(three, 'keep'));
  await lab.close();

  room = 0;
  const opening = await saidBy(() => openLaboratory(folder, { ...wish, make: null }));
  room = Number.MAX_SAFE_INTEGER;
  const again = given(await openLaboratory(folder, { ...wish, make: null }));
  const { problems } = await checkOpen(again);
  await again.close();
  if (problems.length > 0) throw new Error(problems[0]!.message);
  told.push({
    where,
    what: 'the disk is full when it is opened',
    said: opening.replaceAll(folder, '…'),
    after: 'it opens; check clean',
  });
  return told;
}

async function onSmallDisks(home: string): Promise<readonly Told[]> {
  const told: Told[] = [];
  const where = 'folder' as const;
  const at = path.join(home, 'small');
  const disk = smallDisk(at, 4);
  if (disk === null) return [];
  try {
    const files = originalsOnDisk(path.join(at, 'originals'));
    const taken = given(await files.takeIn({ bytes: new Uint8Array(1_000_000) }));
    await taken.keep();
    const said = await saidBy(() => files.takeIn({ bytes: new Uint8Array(8_000_000).fill(1) }));
    if (fs.readdirSync(path.join(at, 'originals', 'incoming')).length > 0)
      throw new Error('half a photograph stayed');
    if ((await files.verify(taken.sha256)) !== 'sound') throw new Error('an original was hurt');
    told.push({
      where,
      what: 'the disk fills up in the middle of a photograph',
      said,
      after: 'no half of it stays; the others are sound',
    });
    disk.readOnly();
    told.push({
      where,
      what: 'the disk is read-only',
      said: await saidBy(() => files.takeIn({ bytes: new Uint8Array(5) })),
      after: (await files.verify(taken.sha256)) === 'sound' ? 'what is there can be read' : 'hurt',
    });
    const card = { clock: { now: () => '2026-01-05T00:00:00.000Z' as Instant }, names: systemNames };
    const make = { name: 'Read-only', invented: true };
    told.push({
      where,
      what: 'a laboratory is opened on a read-only disk',
      said: await saidBy(() => openLaboratory(at, { ...card, freeBytes: () => 2 ** 40, make })),
      after: 'nothing was changed',
    });
  } finally {
    disk.end();
  }
  return told;
}

async function inGroup(): Promise<readonly Told[]> {
  const told: Told[] = [];
  const where = 'group' as const;
  const group = await startGroup();
  try {
    const owner = await group.person('Olga Owner', group.firstCode);
    const study = await makeStudy(owner, 'Trouble', 2);
    const photo = await bring(owner, study.filters[0]!, await noise(1), 'one.png');
    const ask = async () => {
      const { status, json } = await owner.ask('GET', `/api/photos/${photo}`);
      return { status, said: (json?.refusal?.message as string | undefined) ?? NONE };
    };
    const refused = async (what: string): Promise<string> => {
      const { status, said } = await ask();
      if (status !== 503) throw new Error(`${what}: answered ${status} ${said}`);
      return said;
    };
    const back = async (): Promise<string> => {
      for (let tries = 0; tries < 100; tries++) {
        if ((await ask()).status === 200) break;
        await new Promise((resume) => setTimeout(resume, 200));
      }
      const { problems } = await checkGroup(group);
      if (problems.length > 0) throw new Error(problems[0]!.message);
      return 'answers again by itself; check clean';
    };
    group.line.cut();
    const cut = await refused('a cut line');
    group.line.mend();
    told.push({ where, what: 'the line to the database is cut', said: cut, after: await back() });

    await ask();
    group.line.lose();
    const lost = await refused('a lost line');
    told.push({
      where,
      what: 'the line to the database is dead without a word (said after 40 seconds at most)',
      said: lost,
      after: await back(),
    });

    group.line.mend(100);
    const { status, said } = await ask();
    if (status !== 200) throw new Error(`over a slow line: ${status} ${said}`);
    group.line.mend();
    told.push({ where, what: 'the line is slow (0.1 s each way)', said, after: await back() });
  } finally {
    await group.close();
  }
  return told;
}

async function onBucket(): Promise<readonly Told[]> {
  const files = originalsInBucket({
    ...{ endpoint: 'http://127.0.0.1:9', region: 'us-east-1', keyId: 'k', secret: 's', prefix: '' },
    bucket: 'photos',
  });
  const said = await saidBy(() => files.takeIn({ bytes: new Uint8Array(5) }));
  return [
    {
      where: 'group',
      what: 'the bucket of originals does not answer',
      said,
      after: 'tried five times before it is said',
    },
  ];
}

/** Every one of them that can be brought about on this machine; throws where the work did not go on after it. */
export async function troubles(print: (line: string) => void = () => {}): Promise<readonly Told[]> {
  const home = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-trouble-'));
  try {
    const small = await onSmallDisks(home);
    if (small.length === 0) print('Not tried: this account may not mount a small disk.');
    const group = postgresPrograms() === null ? [] : [...(await inGroup()), ...(await amongPeople(home))];
    return [...(await inFolder(home)), ...small, ...group, ...(await onBucket())];
  } finally {
    fs.rmSync(home, { recursive: true, force: true });
  }
}
