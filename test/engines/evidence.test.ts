/** Bench tests, drills, subsets and blinded rounds on the embedded database, from the first record to the claim. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  addKnownSet,
  addPerson,
  answerBenchTest,
  answerDrill,
  cardBehind,
  cardToScore,
  drawSubset,
  evidenceOf,
  findOnPhoto,
  importPhoto,
  importResults,
  lockReadings,
  openRound,
  predictRound,
  readCard,
  sealRound,
  standing,
  type Tools,
  takeRoundOver,
  undoEvidence,
} from '../../src/actions/index.ts';
import { roundsReported } from '../../src/actions/report-rounds.ts';
import { roundsSection } from '../../src/report/sections/rounds.ts';
import { openLaboratory } from '../../src/store/index.ts';
import type { Call, ParticleRecord, Person } from '../../src/study/index.ts';
import type { Outcome } from '../../src/units/index.ts';
import { countedNames, photoBytes, pretendedWork, tickingClock } from './pretended.ts';
import { given, smallStudy, underNeedle } from './small-study.ts';

const why = (outcome: Outcome<unknown>): string => (outcome.ok ? 'done' : outcome.refusal.why);

describe('evidence on the embedded database', () => {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'retentate-evidence-'));
  let tools: Tools;
  let close: () => Promise<void>;
  let made: Awaited<ReturnType<typeof smallStudy>>;
  let ada: Person;
  let ben: Person;
  let eve: Person;
  const particles = new Map<string, readonly ParticleRecord[]>();

  beforeAll(async () => {
    const clock = tickingClock();
    const names = countedNames();
    const laboratory = given(
      await openLaboratory(folder, { clock, names, make: { name: 'Evidence', invented: true } }),
    );
    const { records, files } = laboratory;
    tools = { records, files, work: pretendedWork(), clock, names };
    close = laboratory.close;
    made = await smallStudy(tools);
    ada = made.person;
    ben = given(await addPerson(tools, { name: 'Ben Example' }));
    eve = given(await addPerson(tools, { name: 'Eve Example' }));
    for (const [at, n] of [14, 12, 5, 4, 3, 24].entries()) {
      const { photo } = given(
        await importPhoto(tools, {
          filter: made.filters[at]!.id,
          source: { bytes: photoBytes(n, `evidence ${at}`) },
          name: `filter-${at}.png`,
          by: ada.id,
        }),
      );
      const { finding } = given(await findOnPhoto(tools, { photo: photo.id }));
      const found = await tools.records.look((look) => look.particles.ofFinding(finding.id));
      particles.set(made.runs[at]!.name, found);
    }
  }, 120_000);
  afterAll(async () => {
    await close();
    fs.rmSync(folder, { recursive: true, force: true });
  });

  const answer = (particle: string, more: Partial<Parameters<typeof answerBenchTest>[1]> = {}) =>
    answerBenchTest(tools, { ...underNeedle(particle, ada.id), ...more });
  const large = (run: string) => particles.get(run)!.filter((one) => (one.feretMaxUm ?? 0) >= 200);

  it('a particle that was used up is not tested again, until that answer is undone', async () => {
    const piece = large('S1')[0]!;
    const first = given(await answer(piece.id));
    expect(first).toMatchObject({ outside: null, edition: 1 });
    const again = await answer(piece.id, { test: 'magnet', value: 'yes', setting: null });
    expect(again).toMatchObject({ ok: false, refusal: { why: 'used-up' } });
    expect(!again.ok && again.refusal.message).toMatch(
      /was used up by the test “Heated needle” \(Ada Example/,
    );
    const wish = { study: made.study.id, undoes: first.id, by: ben.id };
    const undo = given(await undoEvidence(tools, wish));
    expect(why(await undoEvidence(tools, wish))).toBe('nothing-to-undo');
    const other = given(await answer(piece.id, { test: 'magnet', value: 'no', setting: null }));
    given(await undoEvidence(tools, { study: made.study.id, undoes: undo.id, by: ben.id }));
    expect(why(await answer(piece.id))).toBe('used-up');
    given(await undoEvidence(tools, { study: made.study.id, undoes: other.id, by: ben.id }));
  });

  it('what moved in the air is still there, what was lost is not', async () => {
    const piece = large('S1')[1]!;
    given(await answer(piece.id, { value: 'moved-by-air' }));
    given(await answer(piece.id, { value: 'lost' }));
    const gone = await answer(piece.id);
    expect(!gone.ok && gone.refusal.message).toMatch(/was lost in the test/);
  });

  it('keeps an answer outside the range of its test, as not tested', async () => {
    const small = particles.get('S1')!.find((one) => (one.feretMaxUm ?? 0) < 100)!;
    const said = given(await answer(small.id, { onGlass: true }));
    expect(said.outside).toMatch(/^Not tested: heated needle says nothing on a fragment below 100 µm/);
    const nitrate = given(await answer(large('S1')[2]!.id, { onGlass: false }));
    expect(nitrate.outside).toMatch(/burns fiercely/);
  });

  it('refuses what is no answer, no test, no particle', async () => {
    const piece = large('S2')[0]!;
    expect(
      [
        await answer(piece.id, { value: 'explodes' }),
        await answer(piece.id, { test: 'tasting' }),
        await answer(made.study.id),
        await answer(piece.id, { by: made.study.id }),
        await answer(piece.id, { before: made.study.id }),
      ].map(why),
    ).toEqual(['not-an-answer', 'no-such-test', 'no-such-particle', 'no-such-person', 'no-such-picture']);
  });

  it('takes a table in whole or not at all, and names the line', async () => {
    const [a, b] = large('S2');
    const table = (lines: { line: number; particle: string; material: string }[]) =>
      importResults(tools, { lines, setting: 'infrared', by: ada.id });
    const stranger = await table([
      { line: 2, particle: a!.id, material: 'polyethylene' },
      { line: 3, particle: b!.id, material: 'unobtainium' },
    ]);
    expect(stranger).toMatchObject({ ok: false, refusal: { why: 'material-not-known' } });
    expect(!stranger.ok && stranger.refusal.message).toMatch(/^Line 3:/);
    const { answers } = await tools.records.look((look) => evidenceOf(look, made.study));
    expect(answers.filter((one) => one.origin === 'table')).toHaveLength(0);
    const twice = await table([
      { line: 2, particle: a!.id, material: 'polyethylene' },
      { line: 3, particle: a!.id, material: 'cotton' },
    ]);
    expect(why(twice)).toBe('twice-in-table');
    expect(given(await table([{ line: 2, particle: a!.id, material: 'polyethylene' }]))).toHaveLength(1);
    expect(why(await table([]))).toBe('no-results');
  });

  const known = () =>
    Array.from({ length: 24 }, (_, at) => ({
      key: `K${at + 1}`,
      material: at < 12 ? 'polyethylene' : 'cotton',
      class: at < 12 ? 'thermoplastic' : 'natural-fibre',
      shape: 'fragment',
      colour: 'blue',
      sizeUm: 200,
      particle: particles.get('K1')![at]!.id,
    }));

  it('known pieces need both kinds, and a drill only pieces of its set', async () => {
    const wish = { study: made.study.id, name: 'Known', made: 'cut with a scalpel', by: ada.id };
    expect(why(await addKnownSet(tools, { ...wish, pieces: known().slice(0, 5) }))).toBe('one-sided');
    expect(why(await addKnownSet(tools, { ...wish, pieces: [...known(), known()[0]!] }))).toBe('named-twice');
    const set = given(await addKnownSet(tools, { ...wish, pieces: known() }));
    const drill = (answers: { piece: string; called: string }[]) =>
      answerDrill(tools, { set: set.id, answers, test: 'heated-needle', by: ada.id });
    expect(why(await drill([{ piece: 'Z9', called: 'plastic' }]))).toBe('no-such-piece');
    expect(why(await drill([{ piece: 'K1', called: 'perhaps' }]))).toBe('not-in-list');
    given(
      await drill(
        known().map(({ key, class: of }, at) => ({
          piece: key,
          called: at === 0 ? 'other' : of === 'thermoplastic' || at === 23 ? 'plastic' : 'other',
        })),
      ),
    );
    const { rates } = await tools.records.look((look) => evidenceOf(look, made.study));
    expect(rates.get('heated-needle')).toMatchObject({ plastic: { k: 11, n: 12 }, others: { k: 1, n: 12 } });
  });

  it('draws a subset of both sides and lets the claim speak of what melts', async () => {
    const wish = {
      study: made.study.id,
      name: 'First dozen',
      test: 'heated-needle',
      pieces: 12,
      seed: 4,
      by: ada.id,
    };
    const subset = given(await drawSubset(tools, wish));
    const drawn = subset.strata.flatMap((stratum) => stratum.drawn);
    expect(new Set(drawn).size).toBe(12);
    expect(new Set(subset.strata.map((stratum) => stratum.side))).toEqual(new Set(['specimens', 'controls']));
    // lost in a test that somebody chose it for: there is nothing left to draw
    expect(drawn).not.toContain(large('S1')[1]!.id);
    expect(why(await drawSubset(tools, wish))).toBe('name-taken');
    const before = given(await standing(tools, { study: made.study.id }));
    expect(before.specimens[0]!.facts.identification.by).toBe('by-eye');
    for (const stratum of subset.strata) {
      for (const particle of stratum.drawn)
        if (particle !== large('S1')[0]!.id)
          given(await answer(particle, { value: stratum.side === 'specimens' ? 'melts' : 'chars' }));
    }
    const after = given(await standing(tools, { study: made.study.id }));
    const { identification } = after.specimens[0]!.facts;
    expect(identification).toMatchObject({ by: 'melts', atRandom: true });
    expect(identification.passed).toBe(identification.tested);
    expect(identification.share!.lower).toBeLessThan(identification.share!.value);
    expect(after.specimens[0]!.input.input.confirmation!.controls.positive).toBe(0);
  });

  const called = async (round: string, person: Person, say: (at: number, guess: boolean) => Call) => {
    for (let at = 0; at < 500; at++) {
      const { card } = given(await cardToScore(tools, { round, person: person.id, place: null }));
      if (!card) return;
      given(
        await readCard(tools, {
          round,
          code: card.code,
          pass: card.pass,
          called: say(at, card.guess),
          points: null,
          guess: card.guess ? (at % 2 === 0 ? 'specimen' : 'control') : null,
          by: person.id,
        }),
      );
    }
  };

  it('a sealed round: two score apart, a third settles, the key opens once, marks follow', async () => {
    const set = (await tools.records.look((look) => look.knownSets.ofStudy(made.study.id)))[0]!;
    const round = given(
      await sealRound(tools, {
        study: made.study.id,
        name: 'Round 1',
        what: 'pieces',
        scorers: [ada.id, ben.id],
        third: eve.id,
        knownSet: set.id,
        mostOfEach: null,
        guessShare: 0.5,
        againShare: 0.1,
        seed: 11,
        by: ada.id,
      }),
    );
    expect(round.key.filter((card) => card.side === 'known')).toHaveLength(24);
    const wish = { round: round.id, by: ada.id };
    const shown = given(await cardToScore(tools, { round: round.id, person: ada.id, place: null }));
    // neither run nor filter, photograph nor particle
    expect(Object.keys(shown.card!).sort()).toEqual(
      ['before', 'code', 'guess', 'of', 'pass', 'place', 'round', 'what', 'widthUm'].sort(),
    );
    expect(why(await cardToScore(tools, { round: round.id, person: made.study.id, place: null }))).toBe(
      'not-a-scorer',
    );
    expect(why(await lockReadings(tools, wish))).toBe('not-all-read');
    expect(why(await openRound(tools, { ...wish, withoutThird: false }))).toBe('not-locked');
    expect(why(await takeRoundOver(tools, wish))).toBe('sealed');

    const truth = new Map(round.key.map((card) => [card.code, card]));
    expect(why(await lockReadings(tools, { round: round.id, by: eve.id }))).toBe('not-all-read');
    await called(round.id, ada, () => 'plastic');
    given(await lockReadings(tools, wish));
    expect(
      why(
        await readCard(tools, {
          ...wish,
          code: shown.card!.code,
          pass: 1,
          called: 'other',
          points: null,
          guess: 'control',
        }),
      ),
    ).toBe('locked');
    // Ben drops every fifth
    await called(round.id, ben, (at) => (at % 5 === 0 ? 'other' : 'plastic'));
    given(await lockReadings(tools, { round: round.id, by: ben.id }));
    expect(why(await openRound(tools, { ...wish, withoutThird: false }))).toBe('no-prediction');
    expect(why(await predictRound(tools, { ...wish, says: ' ' }))).toBe('empty');
    given(await predictRound(tools, { ...wish, says: 'about three times as many as in the controls' }));
    expect(why(await openRound(tools, { ...wish, withoutThird: false }))).toBe('third-missing');
    await called(round.id, eve, (at) => (at % 2 === 0 ? 'other' : 'cannot-tell'));
    given(await lockReadings(tools, { round: round.id, by: eve.id }));
    const opened = given(await openRound(tools, { ...wish, withoutThird: false }));
    expect(opened.says).toContain(round.keyHash);
    const twice = await openRound(tools, { ...wish, withoutThird: false });
    expect(!twice.ok && twice.refusal.message).toMatch(
      /was opened by Ada Example on .* a key is opened once/,
    );

    const { rates } = await tools.records.look((look) => evidenceOf(look, made.study));
    expect(rates.get('by-eye')!.slippedIn).toMatchObject({ plastic: { n: 24 }, others: { n: 24 } });
    const over = given(await takeRoundOver(tools, wish));
    expect(over.kept + over.dropped + over.undecided).toBe(
      [...truth.values()].filter((card) => card.side !== 'known').length,
    );
    expect(over.undecided).toBeGreaterThan(0);
    expect(why(await takeRoundOver(tools, wish))).toBe('taken-over');
    const stands = given(await standing(tools, { study: made.study.id }));
    const note = stands.heldBack.find((held) => held.why === 'pieces-undecided');
    expect(note?.message).toMatch(
      new RegExp(`^${over.undecided} pieces? stays? undecided|^${over.undecided} piece`),
    );
  });

  it('a round needs both sides and different people; fields decide on no piece', async () => {
    const wish = {
      study: made.study.id,
      name: 'Fields',
      what: 'fields' as const,
      scorers: [ada.id, ben.id],
      third: null,
      knownSet: null,
      mostOfEach: 4,
      guessShare: 0,
      againShare: 0,
      by: ada.id,
    };
    expect(why(await sealRound(tools, { ...wish, scorers: [ada.id, ada.id] }))).toBe('same-person');
    expect(why(await sealRound(tools, { ...wish, mostOfEach: null }))).toBe('how-many');
    const round = given(await sealRound(tools, wish));
    expect(round.key).toHaveLength(8);
    const { card } = given(await cardToScore(tools, { round: round.id, person: ben.id, place: 1 }));
    const behind = { round: round.id, code: card!.code };
    expect(why(await cardBehind(tools, { ...behind, person: eve.id }))).toBe('not-a-scorer');
    const read = { ...behind, pass: 1, guess: null, by: ben.id };
    expect(why(await readCard(tools, { ...read, called: 'plastic', points: null }))).toBe('not-an-answer');
    const point = { x: 0.5, y: 0.25, called: 'plastic', length: 0.1 };
    expect(given(await readCard(tools, { ...read, called: null, points: [point] })).points).toEqual([point]);
  });

  it('a report tells what an open round found, and of a sealed one only that it is sealed', async () => {
    const told = await tools.records.look(async (look) => {
      const people = new Map((await look.people.list()).map((person) => [person.id as string, person.name]));
      return roundsReported(look, made.study, people);
    });
    const [open, sealed] = told;
    expect(told.map(({ name, opened }) => [name, opened !== null])).toEqual([
      ['Round 1', true],
      ['Fields', false],
    ]);
    const { agreement, sides, scorers, slippedIn, pictures } = open!.opened!;
    expect(slippedIn).toBe(24);
    const taken = sides.reduce((sum, side) => sum + side.plastic + side.other + side.undecided, 0);
    expect(taken + slippedIn).toBe(pictures);
    // Ada said plastic throughout and Ben not on every fifth picture in his own order
    expect(agreement!.pictures).toBe(pictures);
    expect(agreement!.found.first).toBe(pictures);
    expect(agreement!.same).toBe(agreement!.found.both);
    expect(agreement!.robust!.lower).toBeLessThan(agreement!.robust!.value);
    expect(scorers.map(({ name, knownPlastic }) => [name, knownPlastic.n])).toEqual([
      ['Ada Example', 12],
      ['Ben Example', 12],
    ]);
    const text = JSON.stringify(roundsSection({ rounds: told }));
    for (const { keyHash } of told) expect(text).toContain(keyHash);
    expect(text).toContain('about three times as many as in the controls');
    expect(text).toContain(`${agreement!.same} of ${pictures} pictures`);
    const rounds = await tools.records.look((look) => look.rounds.ofStudy(made.study.id));
    const key = rounds.find(({ name }) => name === 'Fields')!;
    expect(JSON.stringify(sealed)).not.toContain(key.key[0]!.photo);
    for (const { code } of key.key) expect(text).not.toMatch(new RegExp(`\\b${code}\\b`));
    expect(text).toContain('Sealed: nothing it may show is in this report');
  });

  it('a key that was changed since it was sealed is not opened', async () => {
    const [round] = await tools.records.look((look) => look.rounds.ofStudy(made.study.id));
    const changed = { ...round!, id: tools.names.next<'round'>(), name: 'Changed' };
    await tools.records.change((desk) => desk.rounds.add(changed));
    for (const person of [ada, ben]) {
      await called(changed.id, person, () => 'other');
      given(await lockReadings(tools, { round: changed.id, by: person.id }));
    }
    given(await predictRound(tools, { round: changed.id, says: 'none', by: ada.id }));
    expect(why(await openRound(tools, { round: changed.id, withoutThird: true, by: ada.id }))).toBe(
      'seal-broken',
    );
  });

  it('nothing of it can be changed afterwards', async () => {
    const [round] = await tools.records.look((look) => look.rounds.ofStudy(made.study.id));
    await expect(tools.records.change((desk) => desk.rounds.add(round!))).rejects.toThrow();
  });
});
