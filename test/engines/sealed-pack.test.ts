/** A study packed while a round of it is sealed: nothing of the key goes along, and the round stays shut where it arrives. */
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  addPerson,
  cardToScore,
  lockReadings,
  openRound,
  packetFor,
  packStudy,
  predictRound,
  readCard,
  sealRound,
  unpackStudy,
} from '../../src/actions/index.ts';
import { zipWriter } from '../../src/store/index.ts';
import { type BlindRound, sealOf } from '../../src/study/index.ts';
import type { Outcome } from '../../src/units/index.ts';
import { type Laboratory, type Packed, packedStudy } from './packed-study.ts';
import { given } from './small-study.ts';

const why = (outcome: Outcome<unknown>): string => (outcome.ok ? 'done' : outcome.refusal.why);

describe('a study packed while a round is sealed', () => {
  let packed: Packed;
  let home: Laboratory;
  let round: BlindRound;
  let ada = '';
  let ben = '';

  beforeAll(async () => {
    packed = await packedStudy();
    home = packed.home;
    ada = (await home.records.look((look) => look.people.list()))[0]!.id;
    ben = given(await addPerson(home, { name: 'Ben Example' })).id;
    round = given(
      await sealRound(home, {
        study: packed.studyId,
        name: 'Sealed one',
        what: 'pieces',
        scorers: [ada, ben],
        third: null,
        knownSet: null,
        mostOfEach: 3,
        guessShare: 0.3,
        againShare: 0,
        seed: 81_234_567_890,
        by: ada,
      }),
    );
    await scores(ada);
  }, 120_000);
  afterAll(() => packed.close());

  async function scores(person: string) {
    for (let card = await next(person); card; card = await next(person)) {
      const said = { called: 'plastic', points: null, guess: card.guess ? 'control' : null, by: person };
      given(await readCard(home, { round: round.id, code: card.code, pass: card.pass, ...said }));
    }
    given(await lockReadings(home, { round: round.id, by: person }));
  }
  const next = async (person: string) =>
    given(await cardToScore(home, { round: round.id, person, place: null })).card;

  async function pack(name: string) {
    const file = path.join(packed.folder, name);
    const told = given(await packStudy(home, zipWriter(file), { study: packed.studyId, version: '0' }));
    return { told, reader: await packed.reader(file) };
  }

  it('leaves key, seed and readings behind, in every file of the archive, and keeps the hash', async () => {
    const { told, reader } = await pack('sealed.zip');
    expect(told.sealed).toEqual(['Sealed one']);
    const texts = [];
    for (const { path: at } of reader.entries)
      if (!at.startsWith('originals/')) texts.push({ at, text: given(await reader.text(at)).text });
    await reader.close();
    expect(texts.length).toBeGreaterThan(30);
    for (const { at, text } of texts) {
      expect(text, at).not.toContain(String(round.seed));
      for (const { code } of round.key) expect(text, at).not.toMatch(new RegExp(`\\b${code}\\b`));
    }
    const card = JSON.parse(texts.find(({ at }) => at === 'retentate.json')!.text);
    expect(card.sealed).toEqual([{ id: round.id, name: 'Sealed one', key_sha256: round.keyHash }]);
    expect(texts.find(({ at }) => at === 'records/blind_round.csv')!.text).toContain(round.keyHash);
  });

  it('stays shut where it is brought in, and says where the key is', async () => {
    const { reader } = await pack('sealed-again.zip');
    const away = await packed.laboratory();
    expect(given(await unpackStudy(away, reader)).sameClaim).toBe(true);
    await reader.close();
    const there = (await away.records.look((look) => look.rounds.ofStudy(packed.studyId as never)))[0]!;
    expect(there).toMatchObject({ keyHash: round.keyHash, key: [] });
    const of = { round: round.id };
    const outcomes = [
      await cardToScore(away, { ...of, person: ben, place: null }),
      await lockReadings(away, { ...of, by: ben }),
      await openRound(away, { ...of, withoutThird: true, by: ada }),
      await packetFor(away, { ...of, reader: ben }),
    ];
    expect(outcomes.map(why)).toEqual(outcomes.map(() => 'key-elsewhere'));
    const [first] = outcomes;
    expect(first!.ok ? '' : first!.refusal.message).toMatch(/its key stayed in the laboratory that drew it/);
  });

  it('goes whole once it is open, and the key has the hash that went before', async () => {
    await scores(ben);
    given(await predictRound(home, { round: round.id, says: 'more', by: ada }));
    given(await openRound(home, { round: round.id, withoutThird: true, by: ada }));
    const { told, reader } = await pack('open.zip');
    expect(told.sealed).toEqual([]);
    const away = await packed.laboratory();
    given(await unpackStudy(away, reader));
    await reader.close();
    const there = (await away.records.look((look) => look.rounds.ofStudy(packed.studyId as never)))[0]!;
    expect(sealOf(there)).toBe(round.keyHash);
    const readings = await away.records.look((look) => look.readings.ofRound(there.id));
    expect(readings).toHaveLength(2 * round.key.length);
  });
});
