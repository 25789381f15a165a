/** Runs, portions and procedures withdrawn and put back: what counts, what is said of it, and what stays shut. */
import { beforeAll, describe, expect, it } from 'vitest';
import {
  addPerson,
  answerBenchTest,
  cardBehind,
  cardToScore,
  countStudy,
  drawSubset,
  evidenceOf,
  layFilter,
  markParticles,
  recordRun,
  sealRound,
  standing,
  type Tools,
  withdrawnCounts,
  withdrawnRunsOf,
  withdrawOrPutBack,
  writeProcedure,
} from '../../src/actions/index.ts';
import type { Returning, Run } from '../../src/study/index.ts';
import { photoBytes } from './pretended.ts';
import { given, searchedPhoto, smallStudy, step, underNeedle } from './small-study.ts';

export function withdrawsAndPutsBack(open: () => Tools): void {
  describe('withdrawal of runs, portions and procedures', () => {
    let tools: Tools;
    let made: Awaited<ReturnType<typeof smallStudy>>;
    const run = (name: string): Run => made.runs.find((one) => one.name === name)!;
    const word = (what: Returning, subject: string, withdrawn: boolean, why = 'the beaker broke') =>
      withdrawOrPutBack(tools, { study: made.study.id, what, subject, withdrawn, why, by: made.person.id });
    const counted = () => tools.records.look((look) => countStudy(look, made.study));
    const names = async () => (await counted()).runs.map((one) => one.run.name);
    const claim = async () => {
      const stands = given(await standing(tools, { study: made.study.id }));
      const { claim: said, input } = stands.specimens[0]!;
      return {
        because: said.because.map(({ message }) => message).join(' '),
        portions: input.input.portions.map(({ name }) => name),
        controls: input.input.controls.length,
        held: stands.heldBack.map(({ why }) => why),
      };
    };

    beforeAll(async () => {
      tools = open();
      made = await smallStudy(tools, 'Withdrawals', 3);
      for (const [at, one] of made.runs.entries()) {
        if (one.name === 'S5') continue;
        await searchedPhoto(tools, {
          filter: made.filters[at]!,
          name: `${one.name}.png`,
          bytes: photoBytes(one.kind === 'specimen' ? 12 : 3, `withdrawal ${one.name}`),
          by: made.person,
        });
      }
    });

    it('takes a run out of every count, and says which, why and when', async () => {
      const before = await counted();
      given(await word('run', run('S3').id, true));
      const after = await counted();
      expect(after.runs.map((one) => one.run.name)).toEqual(
        before.runs.map((one) => one.run.name).filter((name) => name !== 'S3'),
      );
      expect([...after.filterCounts.keys()]).not.toContain(made.filters[made.runs.indexOf(run('S3'))]!.id);
      expect(after.covered.has(run('S3').id)).toBe(false);
      const said = await claim();
      expect(said.portions).not.toContain('S3');
      expect(said.because).toContain('S3 (“the beaker broke”, after its count could be read)');
      expect(said.held).toContain('withdrawn-after-count');
      await tools.records.look(async (look) => {
        expect(await look.photos.ofStudy(made.study.id)).toHaveLength(made.runs.length - 2);
        expect(await look.photos.everOfStudy(made.study.id)).toHaveLength(made.runs.length - 1);
        // What it counts can still be told, beside all figures.
        const counts = await withdrawnCounts(look, after);
        expect(counts.get(run('S3').id)).toBe(before.runs.find((one) => one.run.name === 'S3')!.count);
      });
    });

    it('comes back as it was, and every word stays with who and why', async () => {
      given(await word('run', run('S3').id, false, 'it was another beaker'));
      expect(await names()).toContain('S3');
      expect((await claim()).because).not.toContain('Withdrawn');
      const words = await tools.records.look((look) => look.withdrawalWords.ofStudy(made.study.id));
      expect(words.map(({ withdrawn, why, countOpen, by }) => [withdrawn, why, countOpen, by])).toEqual([
        [true, 'the beaker broke', true, made.person.id],
        [false, 'it was another beaker', true, made.person.id],
      ]);
    });

    it('says of a run that nobody had counted that it was withdrawn before', async () => {
      given(await word('run', run('S5').id, true));
      const said = await claim();
      expect(said.because).toContain('S5 (“the beaker broke”, before anything of it was counted)');
      expect(said.held).not.toContain('withdrawn-after-count');
      given(await word('run', run('S5').id, false));
    });

    it('needs a reason, and a subject that stands', async () => {
      expect(await word('run', run('S3').id, true, '  ')).toMatchObject({ refusal: { why: 'empty' } });
      expect(await word('run', made.study.id, true)).toMatchObject({ refusal: { why: 'no-such-run' } });
      expect(await word('run', run('S3').id, false)).toMatchObject({ refusal: { why: 'no-such-run' } });
      const other = await smallStudy(tools, 'Beside the withdrawals');
      expect(await word('run', other.runs[0]!.id, true)).toMatchObject({ refusal: { why: 'no-such-run' } });
    });

    it('takes the run of a portion along; neither comes back without the other', async () => {
      const portion = run('S4').portion!;
      given(await word('portion', portion, true, 'weighed wet'));
      expect(await names()).not.toContain('S4');
      const gone = await tools.records.look((look) => withdrawnRunsOf(look, made.study.id));
      expect(gone.map((one) => [one.run.name, one.why])).toEqual([['S4', 'weighed wet']]);
      expect(await word('run', run('S4').id, false)).toMatchObject({
        refusal: { why: 'still-used', message: expect.stringContaining('“portion S4”') },
      });
      expect(await record('S4 again', portion)).toMatchObject({ refusal: { why: 'no-such-portion' } });
      given(await word('portion', portion, false));
      expect(await names()).toContain('S4');
    });

    const record = (name: string, portion: string | null, edition: string = made.edition.id) =>
      recordRun(tools, {
        study: made.study.id,
        edition,
        kind: portion === null ? 'procedural-blank' : 'specimen',
        name,
        portion,
        spike: null,
        day: '2026-01-06',
        session: '2',
        by: made.person.id,
        note: '',
      });

    it('lets another run use the portion, and then the first one only back after that', async () => {
      given(await word('run', run('S3').id, true));
      expect(await record('S3', run('S3').portion)).toMatchObject({ refusal: { why: 'name-taken' } });
      const second = given(await record('S3 again', run('S3').portion));
      expect(await word('run', run('S3').id, false)).toMatchObject({
        refusal: { why: 'still-used', message: expect.stringContaining('“S3 again”') },
      });
      given(await word('run', second.id, true, 'entered by mistake'));
      given(await word('run', run('S3').id, false));
    });

    it('keeps a procedure while a run that counts follows it, and says which', async () => {
      const steps = [step('rinse', 'rinse', { volume_ml: 100 }), step('filter', 'filter', { pore_um: 10 })];
      const written = given(
        await writeProcedure(tools, { study: made.study.id, name: 'rinse', steps, by: made.person.id }),
      );
      const blank = given(await record('R1', null, written.edition.id));
      const kept = await word('procedure', written.procedure.id, true);
      expect(kept).toMatchObject({
        refusal: { why: 'still-used', message: expect.stringContaining('run “R1” followed it and counts') },
      });
      given(await word('run', blank.id, true, 'no lid'));
      given(await word('procedure', written.procedure.id, true, 'not needed'));
      await tools.records.look(async (look) => {
        const inUse = await look.procedures.ofStudy(made.study.id);
        expect(inUse.map(({ name }) => name)).toEqual(['chop and filter']);
        expect((await look.editions.ofStudy(made.study.id)).map(({ id }) => id)).toEqual([made.edition.id]);
      });
      expect(await record('R2', null, written.edition.id)).toMatchObject({ refusal: { why: 'withdrawn' } });
      expect(await word('run', blank.id, false)).toMatchObject({
        refusal: { why: 'still-used', message: expect.stringContaining('procedure “rinse”') },
      });
      given(await word('procedure', written.procedure.id, false, 'needed after all'));
      given(await word('run', blank.id, false, 'there was a lid'));
      expect(await names()).toContain('R1');
    });

    it('leaves a sealed round as it is: the same pictures in the same order, and nothing said of it', async () => {
      const other = given(await addPerson(tools, { name: 'Ben Withdrawing' }));
      const round = given(
        await sealRound(tools, {
          study: made.study.id,
          name: 'Sealed before',
          what: 'pieces',
          scorers: [made.person.id, other.id],
          third: null,
          knownSet: null,
          mostOfEach: null,
          guessShare: 0,
          againShare: 0,
          seed: 7,
          by: made.person.id,
        }),
      );
      const shown = async () => {
        const cards = [];
        for (let place = 1; place <= round.key.length; place += 1) {
          const by = { round: round.id, person: made.person.id };
          const { card } = given(await cardToScore(tools, { ...by, place }));
          cards.push([card, given(await cardBehind(tools, { ...by, code: card!.code }))]);
        }
        return cards;
      };
      const before = await shown();
      expect(before.length).toBeGreaterThan(20);
      const gone = given(await word('run', run('S2').id, true));
      expect(await shown()).toEqual(before);
      // What is kept of the withdrawal names no round, no code and no side.
      expect(Object.keys(gone).sort()).toEqual(
        ['id', 'study', 'what', 'subject', 'withdrawn', 'why', 'countOpen', 'at', 'by'].sort(),
      );
      const kept = await tools.records.look((look) => look.rounds.get(round.id));
      expect(kept!.keyHash).toBe(round.keyHash);
      given(await word('run', run('S2').id, false));
    });

    it('takes the pieces of the run out of the random part that was tested', async () => {
      const particlesOf = (filter: string) =>
        tools.records.look(async (look) => {
          const [photo] = await look.photos.ofFilter(filter as never);
          const finding = await look.findings.newest(photo!.id);
          return look.particles.ofFinding(finding!.id);
        });
      for (const { id } of made.filters.slice(0, 4)) {
        const pieces = await particlesOf(id);
        const particles = pieces.map((one) => one.id);
        given(
          await markParticles(tools, {
            photo: pieces[0]!.photo,
            particles,
            decision: { kind: 'keep' },
            by: made.person.id,
          }),
        );
      }
      const wish = { study: made.study.id, name: 'part', test: 'heated-needle', pieces: 60, seed: 3 };
      const subset = given(await drawSubset(tools, { ...wish, by: made.person.id }));
      const drawn = subset.strata.flatMap((stratum) => stratum.drawn);
      for (const particle of drawn)
        given(await answerBenchTest(tools, underNeedle(particle, made.person.id)));
      const confirmed = () =>
        tools.records.look(async (look) => (await evidenceOf(look, made.study)).confirmed.at(-1)!);
      const before = await confirmed();
      const mine = new Set((await particlesOf(made.filters[0]!.id)).map(({ id }) => id));
      const ofS1 = drawn.filter((id) => mine.has(id)).length;
      expect(ofS1).toBeGreaterThan(0);
      given(await word('run', run('S1').id, true));
      const after = await confirmed();
      expect(after.specimens!.tested).toBe(before.specimens!.tested - ofS1);
      expect(after.specimens!.pieces).toBeLessThan(before.specimens!.pieces);
      expect(after.controls).toEqual(before.controls);
      given(await word('run', run('S1').id, false));
      expect(await confirmed()).toEqual(before);
    });

    it('keeps what comes in late for a run that does not count, and counts it when the run is back', async () => {
      given(await word('run', run('S5').id, true));
      const laid = given(
        await layFilter(tools, {
          run: run('S5').id,
          fraction: null,
          name: 'late',
          material: 'cellulose nitrate',
          poreUm: 10,
          effectiveDiameterMm: 9,
          pitchMm: null,
          lot: '',
          examinedStated: null,
          note: '',
        }),
      );
      const filters = await tools.records.look((look) => look.filters.ofStudy(made.study.id));
      expect(filters.map(({ id }) => id)).not.toContain(laid.id);
      given(await word('run', run('S5').id, false));
      const back = await tools.records.look((look) => look.filters.ofStudy(made.study.id));
      expect(back.map(({ id }) => id)).toContain(laid.id);
    });
  });
}
