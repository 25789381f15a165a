/** What every keeper of records promises, whichever engine it stands on. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { countRuns } from '../../src/actions/count-runs.ts';
import { changeQuestion, createStudy } from '../../src/actions/create-study.ts';
import { findOnPhoto, importPhoto, standing, type Tools } from '../../src/actions/index.ts';
import { type ByHand, markByHand } from '../../src/actions/mark-by-hand.ts';
import { markParticles } from '../../src/actions/mark-particles.ts';
import { planClosingControl } from '../../src/actions/plan-closing-control.ts';
import { recordDeviation } from '../../src/actions/record-at-the-bench.ts';
import { recordRun } from '../../src/actions/record-run.ts';
import { redo, undo } from '../../src/actions/undo.ts';
import { reviseProcedure } from '../../src/actions/write-procedure.ts';
import type { ParticleRecord } from '../../src/study/index.ts';
import { done, refused } from '../../src/units/index.ts';
import { givesMeasuresOfMany } from './measures-contract.ts';
import { photoBytes, pretendedWork } from './pretended.ts';
import { keepsPublishedValues } from './published-contract.ts';
import { given, QUESTION, smallStudy, step } from './small-study.ts';
import { withdrawsAndPutsBack } from './withdrawal-contract.ts';

export function recordsContract(
  engine: string,
  open: () => Promise<{ tools: Tools; close(): Promise<void> }>,
): void {
  describe(`records on ${engine}`, () => {
    let tools: Tools;
    let close: () => Promise<void>;
    let made: Awaited<ReturnType<typeof smallStudy>>;

    beforeAll(async () => {
      ({ tools, close } = await open());
      made = await smallStudy(tools);
    });
    afterAll(() => close());

    const bring = async (filter: string, particles: number, salt: string) => {
      const { photo } = given(
        await importPhoto(tools, {
          filter,
          source: { bytes: photoBytes(particles, salt) },
          name: `${salt}.png`,
          by: made.person.id,
        }),
      );
      const found = given(await findOnPhoto(tools, { photo: photo.id }));
      const particlesThere = await tools.records.look((look) => look.particles.ofFinding(found.finding.id));
      return { photo, found, particles: particlesThere };
    };
    const stand = async (ids: readonly string[]) =>
      (await tools.records.look((look) => look.particles.some(ids as ParticleRecord['id'][]))).map(
        (particle) => particle.standing,
      );

    it('gives every record back as it was handed in', async () => {
      const { study, specimen, edition, runs, filters } = made;
      await tools.records.look(async (look) => {
        expect(await look.studies.get(study.id)).toEqual(study);
        expect(await look.specimens.get(specimen.id)).toEqual(specimen);
        expect(await look.editions.get(edition.id)).toEqual(edition);
        expect(await look.runs.ofStudy(study.id)).toEqual(runs);
        expect(await look.filters.ofStudy(study.id)).toEqual(filters);
        expect(await look.filters.get(runs[0]!.id as never)).toBeNull();
      });
    });

    it('gives a finding and its particles back to the last digit', async () => {
      const { photo, found, particles } = await bring(made.filters[4]!.id, 3, 'digits');
      expect(particles).toHaveLength(3);
      expect(particles[2]).toMatchObject({
        number: 3,
        lab: [60.25, -3.5, 12.125],
        square: [1, 2],
        drawnBy: null,
      });
      expect(particles[2]!.outlinePx[1]).toEqual([41, 10.5]);
      const again = await tools.records.look((look) => look.findings.newest(photo.id));
      expect(again).toEqual(found.finding);
    });

    givesMeasuresOfMany(() => ({ tools, made }));
    keepsPublishedValues(() => ({ tools, made }));
    withdrawsAndPutsBack(() => tools);

    it('undoes a whole change when it throws or is refused', async () => {
      const before = await tools.records.look((look) => look.people.list());
      const person = { ...before[0]!, id: tools.names.next<'person'>(), name: 'Nobody' };
      await expect(
        tools.records.change(async (desk) => {
          await desk.people.add(person);
          throw new Error('a cable was pulled');
        }),
      ).rejects.toThrow('a cable was pulled');
      const outcome = await tools.records.change(async (desk) => {
        await desk.people.add(person);
        return refused({ why: 'thought-better', message: 'No.' });
      });
      expect(outcome).toMatchObject({ ok: false, refusal: { why: 'thought-better' } });
      expect(await tools.records.look((look) => look.people.list())).toEqual(before);
    });

    it('lets nobody write while looking', async () => {
      await expect(
        tools.records.look((look) =>
          (look as never as { people: { add(p: unknown): Promise<void> } }).people.add({}),
        ),
      ).rejects.toThrow();
    });

    it('refuses what does not fit, with the reason', async () => {
      const by = made.person.id;
      const upsideDown = { ...QUESTION, sizeFromUm: 100, sizeToUm: 50 };
      const refusals = [
        await createStudy(tools, { name: 'boards', question: QUESTION, by }),
        await createStudy(tools, { name: 'Other', question: upsideDown, by }),
        await createStudy(tools, { name: 'Other', question: QUESTION, by: made.study.id }),
        await createStudy(tools, { name: 'a\u0007b', question: QUESTION, by }),
      ];
      expect(refusals.map((r) => (r.ok ? 'taken' : r.refusal.why))).toEqual([
        'name-taken',
        'upside-down',
        'no-such-person',
        'control-character',
      ]);
    });

    it('keeps the old question in the journal', async () => {
      const question = { ...QUESTION, act: 'cut carrot, 100 cuts' };
      given(await changeQuestion(tools, { study: made.study.id, question, by: made.person.id }));
      const [line] = await tools.records.look((look) => look.journal.newest(1));
      expect(line).toMatchObject({ deed: 'change-question', facts: { before: { act: 'cut carrot' } } });
    });

    it('numbers editions and lets nobody change one', async () => {
      const wish = { steps: [step('cut', 'cut')], because: 'the knife was changed', by: made.person.id };
      const next = given(await reviseProcedure(tools, { procedure: made.edition.procedure, ...wish }));
      expect(next.number).toBe(2);
      const latest = await tools.records.look((look) => look.editions.latest(made.edition.procedure));
      expect(latest).toEqual(next);
    });

    it('knows a photograph again and refuses it on another filter', async () => {
      const wish = { source: { bytes: photoBytes(1, 'twice') }, name: '../twice\n.png', by: made.person.id };
      const filter = made.filters[4]!.id;
      const first = given(await importPhoto(tools, { ...wish, filter }));
      expect(first.known).toBe(false);
      expect(first.photo.name).toBe('twice .png');
      const second = given(await importPhoto(tools, { ...wish, filter, name: 'other.png' }));
      expect(second).toEqual({ photo: first.photo, known: true });
      const other = await importPhoto(tools, { ...wish, filter: made.filters[3]!.id });
      expect(other).toMatchObject({ ok: false, refusal: { why: 'on-another-filter' } });
    });

    it('keeps nothing of a file that is no photograph', async () => {
      const before = await tools.files.list();
      const filter = made.filters[0]!.id;
      const wish = { filter, name: 'a.png', by: made.person.id };
      const text = await importPhoto(tools, {
        ...wish,
        source: { bytes: new TextEncoder().encode('a poem') },
      });
      const empty = await importPhoto(tools, { ...wish, source: { bytes: new Uint8Array() } });
      const large = await importPhoto(tools, { ...wish, source: { bytes: photoBytes(1) }, mostBytes: 3 });
      expect([text, empty, large].map((o) => (o.ok ? 'taken' : o.refusal.why))).toEqual([
        'not-a-photo',
        'empty',
        'too-large',
      ]);
      expect(await tools.files.list()).toEqual(before);
    });

    it('finds once for the same photo, method version and wish', async () => {
      const { photo, found } = await bring(made.filters[4]!.id, 2, 'once');
      const again = given(await findOnPhoto(tools, { photo: photo.id }));
      expect(again).toEqual({ ...found, known: true });
      const newer = given(await findOnPhoto({ ...tools, work: pretendedWork({}, '2') }, { photo: photo.id }));
      expect(newer.known).toBe(false);
      expect(await tools.records.look((look) => look.findings.newest(photo.id))).toEqual(newer.finding);
      expect(await tools.records.look((look) => look.findings.ofPhoto(photo.id))).toHaveLength(2);
    });

    it('marks, undoes and redoes one gesture on many particles', async () => {
      const { photo, particles } = await bring(made.filters[5]!.id, 4, 'gesture');
      const ids = particles.map((particle) => particle.id);
      const by = made.person.id;
      const mark = (decision: { kind: string; shape?: string }, some: readonly string[]) =>
        markParticles(tools, { photo: photo.id, particles: some, decision: decision as never, by });
      given(await mark({ kind: 'drop' }, ids.slice(0, 2)));
      given(await mark({ kind: 'keep' }, ids.slice(1)));
      expect(await stand(ids)).toEqual(['dropped', 'kept', 'kept', 'kept']);
      const study = made.study.id;
      given(await undo(tools, { study, by }));
      expect(await stand(ids)).toEqual(['dropped', 'dropped', 'unmarked', 'unmarked']);
      given(await undo(tools, { study, by }));
      expect(await stand(ids)).toEqual(['unmarked', 'unmarked', 'unmarked', 'unmarked']);
      given(await redo(tools, { study, by }));
      given(await redo(tools, { study, by }));
      expect(await stand(ids)).toEqual(['dropped', 'kept', 'kept', 'kept']);
      expect(await redo(tools, { study, by })).toMatchObject({
        ok: false,
        refusal: { why: 'nothing-to-undo' },
      });
      const named = given(await mark({ kind: 'class', shape: 'fibre' }, [ids[0]!]));
      expect(named.particles[0]).toMatchObject({ shape: 'fragment', shapeNow: 'fibre', standing: 'dropped' });
      const marks = await tools.records.look((look) => look.marks.ofPhoto(photo.id));
      expect(marks.map((m) => m.decision.kind)).toEqual([
        'drop',
        'keep',
        'undo',
        'undo',
        'undo',
        'undo',
        'class',
      ]);
    });

    it('splits and merges, and undoing brings back what was there', async () => {
      const { photo, particles } = await bring(made.filters[3]!.id, 3, 'pieces');
      const [first, second, third] = particles.map((particle) => particle.id);
      const by = made.person.id;
      const square = (x: number): [number, number][] => [
        [x, 0],
        [x + 10, 0],
        [x + 10, 10],
        [x, 10],
      ];
      const mark = (some: string[], decision: object) =>
        markParticles(tools, { photo: photo.id, particles: some, decision: decision as never, by });
      const split = given(await mark([first!], { kind: 'split', outlines: [square(0), square(20)] }));
      expect(split.particles.map((p) => [p.number, p.standing])).toEqual([
        [1, 'replaced'],
        [4, 'kept'],
        [5, 'kept'],
      ]);
      expect(split.particles[1]).toMatchObject({ areaPx2: 100, areaUm2: 2500, drawnBy: split.mark.id });
      const merged = given(await mark([second!, third!], { kind: 'merge', outline: square(40) }));
      expect(await stand([second!, third!, merged.particles[2]!.id])).toEqual([
        'replaced',
        'replaced',
        'kept',
      ]);
      expect(await mark([second!], { kind: 'keep' })).toMatchObject({
        ok: false,
        refusal: { why: 'replaced' },
      });
      given(await undo(tools, { study: made.study.id, by }));
      expect(await stand([second!, third!, merged.particles[2]!.id])).toEqual([
        'unmarked',
        'unmarked',
        'replaced',
      ]);
      given(await undo(tools, { study: made.study.id, by }));
      expect(await stand(split.particles.map((p) => p.id))).toEqual(['unmarked', 'replaced', 'replaced']);
    });

    it('cuts, joins and draws by hand, and undoing takes the drawn away', async () => {
      const { photo, particles } = await bring(made.filters[3]!.id, 3, 'by hand');
      const by = made.person.id;
      const hand = (deed: ByHand) => markByHand(tools, { photo: photo.id, by, hand: deed });
      const [small, , large] = particles;
      const [cx, cy] = large!.centroidPx;
      const across = {
        deed: 'split',
        particle: large!.id,
        cut: [
          [cx, 0],
          [cx, 2 * cy],
        ],
      } as const;
      const parted = given(await hand(across));
      const areas = parted.particles.slice(1).map((piece) => piece.areaPx2);
      expect(areas).toHaveLength(2);
      // The pretended outline has one corner off the square: 25² less a triangle of 25 by ½.
      expect(areas[0]! + areas[1]!).toBeCloseTo(625 - 6.25, 6);
      expect(
        await hand({
          ...across,
          particle: small!.id,
          cut: [
            [900, 0],
            [900, 9],
          ],
        }),
      ).toMatchObject({
        refusal: { why: 'not-split' },
      });
      expect(await hand({ deed: 'split', particle: small!.id, cut: null })).toMatchObject({
        refusal: { why: 'not-split' },
      });
      const halves = parted.particles.slice(1).map((piece) => piece.id);
      const joined = given(await hand({ deed: 'merge', particles: halves })).particles.at(-1)!;
      expect(joined.areaPx2 / large!.areaPx2).toBeCloseTo(1, 1);
      const outline = [
        [500, 500],
        [540, 500],
        [540, 530],
        [500, 530],
      ] as const;
      const draw = { deed: 'draw', outline, shape: 'film', colour: 'clear' } as const;
      const drawn = given(await hand(draw)).particles[0]!;
      expect(drawn).toMatchObject({
        areaPx2: 1200,
        areaUm2: 30_000,
        shape: 'film',
        standing: 'kept',
        fibreLengthUm: null,
      });
      expect(drawn.number).toBe(particles.length + 4);
      given(await undo(tools, { study: made.study.id, by }));
      expect(await stand([joined.id, drawn.id])).toEqual(['kept', 'replaced']);
      given(await redo(tools, { study: made.study.id, by }));
      expect(await stand([drawn.id])).toEqual(['kept']);
      expect(await hand({ deed: 'merge', particles: [drawn.id, joined.id] })).toMatchObject({
        refusal: { why: 'too-far-apart' },
      });
    });

    it('tells none seen from not looked, and what passed from what was kept back', async () => {
      const { study, filters } = made;
      await bring(filters[0]!.id, 7, 'run S1');
      await bring(filters[1]!.id, 0, 'run S2');
      const counted = given(await countRuns(tools, { study: study.id }));
      const byName = new Map(counted.runs.map((run) => [run.run.name, run]));
      // Seven pretended particles measure 35 to 455 µm; those of 35 µm are below the question's 50 µm.
      expect(byName.get('S1')).toMatchObject({ count: 6, unmarked: 6, passed: 1 });
      expect(byName.get('S2')).toMatchObject({ count: 0, passed: 0.75 });
      expect(byName.get('C1')).toMatchObject({ count: null, passed: null, examined: null });
      // 2000 × 1600 px of 5 µm, 90 % of it searched, is 72 mm²; the disc of 9 mm is 63.6 mm².
      expect(byName.get('S1')!.examined).toBe(1);
      expect(counted.filterCounts.get(filters[0]!.id)!.searchedMm2).toBeCloseTo(72, 9);
    });

    it('counts a refused photograph as not looked at', async () => {
      const refusal = { why: 'not-a-filter', message: 'No filter is to be seen.' };
      const { photo } = given(
        await importPhoto(tools, {
          filter: made.filters[2]!.id,
          source: { bytes: photoBytes(0, 'refused') },
          name: 'refused.png',
          by: made.person.id,
        }),
      );
      given(await findOnPhoto({ ...tools, work: pretendedWork({ refusal }) }, { photo: photo.id }));
      const counted = given(await countRuns(tools, { study: made.study.id }));
      expect(counted.runs.find((run) => run.run.name === 'C1')!.count).toBeNull();
      const lines = await tools.records.look((look) => look.photos.linesOfStudy(made.study.id));
      expect(lines.find((line) => line.id === photo.id)).toMatchObject({ refusal, particles: 0 });
    });

    it('leaves a run out as soon as a deviation parts it from its controls, and takes it in again by the control named', async () => {
      const { study, runs, edition, person } = made;
      const filterStep = edition.steps.find((s) => s.key === 'filter')!;
      const asDone = { ...filterStep, touches: { ...filterStep.touches, vessel: 'plastic funnel' } };
      const before = given(await standing(tools, { study: study.id }));
      expect(before.heldBack.filter((held) => held.why === 'control-does-not-match')).toEqual([]);
      expect(before.specimens[0]!.input.leftOut).toEqual([]);
      const otherFunnel = { kind: 'changed', stepKey: 'filter', asDone, why: '', by: person.id } as const;
      given(
        await recordDeviation(tools, {
          ...otherFunnel,
          runs: [runs[0]!.id],
          what: 'the glass funnel broke',
        }),
      );
      const after = given(await standing(tools, { study: study.id }));
      const held = after.heldBack.filter((one) => one.why === 'control-does-not-match');
      expect(held).toHaveLength(1);
      expect(held[0]).toMatchObject({ run: runs[0]!.id, place: 'procedure' });
      expect(held[0]!.message).toContain(
        'One act control more like C1, but with the vessel “plastic funnel”',
      );
      expect(after.specimens[0]!.input.leftOut).toEqual([runs[0]!.id]);
      const judgedOn = (stands: typeof after) => stands.specimens[0]!.input.input.portions.map((p) => p.name);
      expect(judgedOn(before)).toContain('S1');
      expect(judgedOn(after)).not.toContain('S1');
      const planned = given(await planClosingControl(tools, { run: runs[0]!.id, by: person.id }));
      const closing = given(
        await recordRun(tools, {
          study: study.id,
          edition: planned.edition,
          kind: planned.kind,
          name: planned.name,
          portion: null,
          spike: null,
          day: '2026-01-06',
          session: planned.session,
          by: person.id,
          note: '',
        }),
      );
      const control = runs.find((run) => run.name === 'C2')!;
      given(await recordDeviation(tools, { ...otherFunnel, runs: [control.id], what: 'the same funnel' }));
      const mended = given(await countRuns(tools, { study: study.id })).runs[0]!.background!;
      expect(mended.serving.map((one) => one.control).sort()).toEqual([closing.id, control.id].sort());
    });

    it('answers an outcome that is done with its value', async () => {
      expect(await tools.records.change(async () => done(7))).toEqual({ ok: true, value: 7 });
    });
  });
}
