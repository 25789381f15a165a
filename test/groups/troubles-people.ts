import fs from 'node:fs';
import path from 'node:path';
import { checkGroup } from './check.ts';
import { type Person, startGroup } from './group.ts';
import { bring, isOver, makeStudy, noise, searches } from './group-study.ts';
import { ROOT } from './program.ts';
import { smallDisk } from './small-disk.ts';
import { NONE, type Told } from './told.ts';

const outlined = (x: number): unknown => ({
  outline: [
    [x, 20],
    [x + 20, 20],
    [x + 20, 40],
    [x, 40],
  ],
});

/** What people at a group can run into: a disk of the database that fills, each other, and a clock that jumps. */
export async function amongPeople(home: string): Promise<readonly Told[]> {
  const told: Told[] = [];
  const where = 'group' as const;
  const at = path.join(home, 'database-disk');
  const disk = smallDisk(at, 96);
  // What the disk is to hold must be reached by the database's own account too.
  if (disk) fs.chmodSync(home, 0o755);
  const space = path.join(at, 'tables');
  if (disk) fs.mkdirSync(space);
  const group = await startGroup(disk ? { disk: space } : {});
  try {
    const owner = await group.person('Olga Owner', group.firstCode);
    const other = await group.person('Ben Bench', await group.invite(owner, 'bench'));
    const study = await makeStudy(owner, 'Among people', 2);
    const photo = await bring(owner, study.filters[0]!, await noise(1), 'one.png');
    const worker = await group.worker();
    for (let tries = 0; !(await searches(owner)).every(isOver); tries++) {
      if (tries > 600) throw new Error('the photograph was not searched');
      await new Promise((resume) => setTimeout(resume, 200));
    }
    await worker.stop();
    const made: string[] = [];
    const ask = async (person: Person, wish: unknown) => {
      const { status, json } = await person.ask('POST', `/api/photos/${photo}/marks`, wish);
      if (status === 200) made.push(json.mark.id);
      return { status, json, said: (json?.refusal?.message as string | undefined) ?? NONE };
    };
    const draw = async (x: number): Promise<string> => {
      const wish = {
        deed: 'draw',
        particles: [],
        ...(outlined(x) as object),
        shape: 'fragment',
        colour: 'blue',
      };
      return (await ask(owner, wish)).json.particles[0].id;
    };
    const list = async (person: Person) =>
      (await person.ask('GET', `/api/studies/${study.id}/marks`)).json.marks as { id: string; by: string }[];
    const piece = async (id: string) => {
      const { json } = await owner.ask('GET', `/api/photos/${photo}/particles`);
      return (json.particles as { id: string; decision: string | null; disagree: { by: string }[] }[]).find(
        (one) => one.id === id,
      )!;
    };
    const clean = async (): Promise<string> => {
      const { problems, marks } = await checkGroup(group);
      if (problems.length > 0) throw new Error(problems[0]!.message);
      if (marks < made.length)
        throw new Error(`${made.length} marks were acknowledged and ${marks} are there`);
      return 'check clean';
    };
    const [one, two] = [await draw(20), await draw(60)];

    await ask(owner, { deed: 'redraw', particles: [one], ...(outlined(22) as object) });
    const late = await ask(other, { deed: 'keep', particles: [one] });
    if (late.status === 200) throw new Error('a decision on a piece that gave way was taken');
    const what =
      'two people: one has drawn a piece anew, the other, whose tab is older, decides on the old one';
    told.push({ where, what, said: late.said, after: await clean() });

    await Promise.all([
      ask(owner, { deed: 'keep', particles: [two] }),
      ask(other, { deed: 'drop', particles: [two] }),
    ]);
    const both = (await list(other)).slice(0, 2).map(({ by }) => by);
    const shown = (await piece(two)).disagree.map(({ by }) => by);
    for (const names of [both, shown]) {
      if (new Set(names).size !== 2)
        throw new Error(`of two decisions on one piece these are told: ${names}`);
    }
    told.push({
      where,
      what: 'two people decide otherwise on the same piece in the same moment',
      said: NONE,
      after: `both are on record and shown beside the piece, with their names; the later stands; ${await clean()}`,
    });

    const shifted = (years: number) =>
      group.restart({
        NODE_OPTIONS: `--import=${path.join(ROOT, 'test/groups/shifted-clock.mjs')}`,
        CLOCK_OFF_MS: String(years * 365.25 * 24 * 3600 * 1000),
      });
    await ask(owner, { deed: 'keep', particles: [two] });
    await shifted(-27);
    const early = await ask(owner, { deed: 'drop', particles: [two] });
    if (early.status !== 200) throw new Error(`twenty-seven years back: ${early.said}`);
    const { decision } = await piece(two);
    if (decision !== 'dropped') throw new Error(`after a jump of the clock it is ${decision}`);
    told.push({
      where,
      what: 'the server’s clock jumps 27 years back between two marks',
      said: NONE,
      after: `the later mark stands, whatever its date; ${await clean()}`,
    });
    await shifted(20);
    const ended = await ask(owner, { deed: 'keep', particles: [two] });
    if (ended.status !== 401) throw new Error(`twenty years on: ${ended.status} ${ended.said}`);
    await group.restart();
    if ((await ask(owner, { deed: 'keep', particles: [two] })).status !== 200)
      throw new Error('it stays shut');
    told.push({
      where,
      what: 'the server’s clock jumps 20 years forward, and then is set right',
      said: ended.said,
      after: `set right, sessions hold again; ${await clean()}`,
    });

    if (disk) {
      const filler = path.join(at, 'filler');
      fs.writeFileSync(filler, '');
      const grain = Buffer.alloc(64 * 1024);
      try {
        for (;;) fs.appendFileSync(filler, grain);
      } catch {
        // Full.
      }
      let said = NONE;
      for (let n = 0; n < 4000 && said === NONE; n++) {
        const answer = await ask(owner, { deed: n % 2 === 0 ? 'keep' : 'drop', particles: [two] });
        if (answer.status !== 200) said = answer.said;
      }
      if (said === NONE) throw new Error('4000 marks found room on a full disk');
      fs.rmSync(filler);
      if ((await ask(owner, { deed: 'keep', particles: [two] })).status !== 200)
        throw new Error('it stays full');
      const after = `room made, the same mark is taken; all acknowledged are there; ${await clean()}`;
      told.push({ where, what: 'the disk of the database is full', said, after });
    }
  } finally {
    await group.close();
    disk?.end();
  }
  return told;
}
