/**
 * Works in a laboratory until it is killed: first checks that all that was ever acknowledged is there, then brings
 * photographs in, marks particles or takes taps of the bench, and acknowledges each on standard output the moment the deed says it is done.
 *   kill-worker.ts FOLDER import|mark|tap|open ACKNOWLEDGED-FILE ROUND
 * `open` does no more than to open, which migrates a laboratory of an earlier version.
 */
import fs from 'node:fs';
import { findOnPhoto, importPhoto, markParticles, recordTap, type Tools } from '../../src/actions/index.ts';
import { checkOpen, openLaboratory, systemClock, systemNames } from '../../src/store/index.ts';
import { photoBytes, pretendedWork } from '../engines/pretended.ts';
import { given } from '../engines/small-study.ts';

const [folder, mode, acknowledgedFile, round] = process.argv.slice(2) as [string, string, string, string];
const say = (line: string) => fs.writeSync(1, `${line}\n`);

const laboratory = given(
  await openLaboratory(folder, { clock: systemClock, names: systemNames, make: null }),
);
const { records, files } = laboratory;
const tools: Tools = { records, files, work: pretendedWork(), clock: systemClock, names: systemNames };

const lost = await lostOf(tools, fs.readFileSync(acknowledgedFile, 'utf8').split('\n').filter(Boolean));
const { problems, photos, marks } = await checkOpen(laboratory);
for (const what of [...lost, ...problems.map((problem) => problem.message)]) say(`lost ${what}`);
if (mode === 'open') setInterval(() => {}, 60_000);
say(`ready with ${photos} photos, ${marks} marks`);

const study = (await records.look((look) => look.studies.list()))[0]!;
const filters = await records.look((look) => look.filters.ofStudy(study.id));
const runs = await records.look((look) => look.runs.ofStudy(study.id));
const by = (await records.look((look) => look.people.list()))[0]!.id;

for (let n = 0; mode !== 'open'; n += 1) {
  if (mode === 'import') {
    const filter = filters[n % filters.length]!.id;
    const source = { bytes: photoBytes(4, `round ${round} photograph ${n} ${'grain '.repeat(2000)}`) };
    const { photo } = given(await importPhoto(tools, { filter, source, name: `${round}-${n}.png`, by }));
    say(`photo ${photo.sha256}`);
    const found = given(await findOnPhoto(tools, { photo: photo.id }));
    say(`found ${found.finding.id} ${found.particles}`);
  } else if (mode === 'tap') {
    const id = tools.names.next<'tap'>();
    const deed = { do: 'fraction', kind: 'rinse', volume_ml: 1 + n, place: '', fate: 'discarded', note: '' };
    const run = runs[n % runs.length]!.id;
    const device = `telephone ${round}`;
    const at = tools.clock.now();
    const { tap } = given(await recordTap(tools, { id, run, device, number: n + 1, deed, at, by }));
    if (tap.refusal === null) say(`tap ${id}`);
  } else {
    const all = await records.look((look) => look.photos.ofStudy(study.id));
    const photo = all[n % all.length]!;
    const finding = await records.look((look) => look.findings.newest(photo.id));
    const pieces = finding ? await records.look((look) => look.particles.ofFinding(finding.id)) : [];
    if (pieces.length === 0) continue;
    const kind = n % 2 === 0 ? 'keep' : 'drop';
    const particles = pieces.slice(n % 2).map((piece) => piece.id);
    const made = given(
      await markParticles(tools, { photo: photo.id, particles, decision: { kind } as never, by }),
    );
    say(`mark ${made.mark.id}`);
  }
}

/** What was acknowledged and is not there. */
async function lostOf(
  { records: kept, files: originals }: Tools,
  acknowledged: readonly string[],
): Promise<string[]> {
  const gone: string[] = [];
  for (const line of acknowledged) {
    const [what, id, number] = line.split(' ') as [string, never, string];
    const there = await kept.look(async (look) => {
      if (what === 'photo') return (await look.photos.bySha256(id)) !== null;
      if (what === 'found') return (await look.particles.countOf(id)) === Number(number);
      // A tap and the record that it made come together or not at all.
      if (what === 'tap')
        return (await look.taps.get(id)) !== null && (await look.fractions.get(id)) !== null;
      return (await look.marks.get(id)) !== null;
    });
    if (!there || (what === 'photo' && (await originals.verify(id)) !== 'sound')) gone.push(line);
  }
  return gone;
}
