/** Archives made to harm: each is refused with a sentence, and nothing of it stays. */
import fs from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ZipFile } from 'yazl';
import { unpackStudy } from '../../src/actions/index.ts';
import { zipReader } from '../../src/store/index.ts';
import { type Laboratory, type Packed, packedStudy } from './packed-study.ts';

let packed: Packed;
beforeAll(async () => {
  packed = await packedStudy();
});
afterAll(() => packed.close());

/** The archive written anew, entry by entry, as somebody who wishes harm would. */
async function altered(
  change: (name: string, bytes: Buffer) => Buffer | null,
  more: (zip: ZipFile) => void = () => {},
  patch: readonly [from: string, to: string] | null = null,
): Promise<string> {
  const from = await packed.reader();
  const zip = new ZipFile();
  for (const { path: at } of from.entries) {
    const parts: Buffer[] = [];
    for await (const part of await from.stream(at)) parts.push(Buffer.from(part));
    const bytes = change(at, Buffer.concat(parts));
    if (bytes !== null) zip.addBuffer(bytes, at);
  }
  more(zip);
  zip.end();
  await from.close();
  const chunks: Buffer[] = [];
  for await (const chunk of zip.outputStream) chunks.push(chunk as Buffer);
  let whole = Buffer.concat(chunks);
  if (patch !== null) whole = Buffer.from(whole.toString('latin1').replaceAll(patch[0], patch[1]), 'latin1');
  const file = path.join(packed.folder, `altered-${Math.round(performance.now() * 1000)}.zip`);
  fs.writeFileSync(file, whole);
  return file;
}

describe('an archive made to harm is refused and leaves nothing', () => {
  let away: Laboratory;
  beforeAll(async () => {
    away = await packed.laboratory();
  });
  const same = (_: string, bytes: Buffer) => bytes;
  const text = (name: string) => (zip: ZipFile) => zip.addBuffer(Buffer.from('x'), name);
  it.each<[string, () => Promise<string>, RegExp]>([
    [
      'a path upwards',
      () => altered(same, text('xx/evil.txt'), ['xx/evil.txt', '../evil.txt']),
      /path that leads outside/,
    ],
    [
      'an absolute path',
      () => altered(same, text('xetc/evil'), ['xetc/evil', '/etc/evil']),
      /path that leads outside/,
    ],
    [
      'a symbolic link',
      () =>
        altered(same, (zip) =>
          zip.addBuffer(Buffer.from('/etc/passwd'), 'originals/link', { mode: 0o120777 }),
        ),
      /link or a device/,
    ],
    [
      'a bomb',
      () => altered(same, (zip) => zip.addBuffer(Buffer.alloc(60_000_000), 'records/bomb.csv')),
      /made to fill a disk/,
    ],
    [
      'a file twice',
      () => altered(same, text('retentatX.json'), ['retentatX.json', 'retentate.json']),
      /twice/,
    ],
    ['a file more', () => altered(same, text('extra.txt')), /“extra.txt”, which its card does not list/],
    [
      'a file less',
      () => altered((name, bytes) => (name === 'records/mark.csv' ? null : bytes)),
      /lacks “records\/mark.csv”/,
    ],
    [
      'an original less',
      () => altered((name, bytes) => (name.startsWith('originals/') && name.endsWith('.png') ? null : bytes)),
      /lacks “originals/,
    ],
    [
      'an altered table',
      () =>
        altered((name, bytes) =>
          name === 'records/portion.csv' ? Buffer.from(bytes.toString().replaceAll('50', '51')) : bytes,
        ),
      /“records\/portion.csv” in the archive is not what was packed/,
    ],
    [
      'an altered original',
      () =>
        altered((name, bytes) =>
          name.startsWith('originals/') ? Buffer.from(bytes.map((b) => b ^ 1)) : bytes,
        ),
      /“originals\/.*is not what was packed/,
    ],
    [
      'a newer version',
      () =>
        altered((name, bytes) =>
          name === 'retentate.json'
            ? Buffer.from(bytes.toString().replace(/"schema": "[^"]+"/, '"schema": "9999-later"'))
            : bytes,
        ),
      /update Retentate/,
    ],
    [
      'no card',
      () => altered((name, bytes) => (name === 'retentate.json' ? null : bytes)),
      /has no retentate.json/,
    ],
    [
      'half an archive',
      async () => {
        const file = path.join(packed.folder, 'half.zip');
        const whole = fs.readFileSync(packed.archive);
        fs.writeFileSync(file, whole.subarray(0, whole.length / 2));
        return file;
      },
      /no whole zip archive/,
    ],
    [
      'no archive',
      async () => {
        const file = path.join(packed.folder, 'no.zip');
        fs.writeFileSync(file, 'Lorem ipsum');
        return file;
      },
      /no whole zip archive/,
    ],
  ])('%s', async (_words, make, sentence) => {
    const opening = await zipReader(await make(), '“study.zip”');
    const outcome = opening.ok ? await unpackStudy(away, opening.value) : opening;
    expect(outcome.ok ? 'brought in' : outcome.refusal.message).toMatch(sentence);
    if (opening.ok) await opening.value.close();
    expect(await away.records.look((look) => look.studies.list())).toEqual([]);
    expect(await away.files.list()).toEqual([]);
  });

  it('that is not there is refused', async () => {
    expect(await zipReader(path.join(packed.folder, 'none.zip'), '“none.zip”')).toMatchObject({
      ok: false,
      refusal: { why: 'no-file' },
    });
  });
});
