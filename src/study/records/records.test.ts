import { describe, expect, it } from 'vitest';
import { makeMark } from './mark.ts';
import { photoName } from './photo.ts';
import { makeEdition } from './procedure.ts';
import { makeRunFraction } from './run.ts';
import { makePortion } from './specimen.ts';

const ID = '00000000-0000-7000-8001-000000000001';
const AT = '2026-01-05T09:00:00.000Z';
const why = (outcome: { ok: true } | { ok: false; refusal: { why: string } }) =>
  outcome.ok ? 'taken' : outcome.refusal.why;

describe('records as given', () => {
  const portion = {
    id: ID,
    specimen: ID,
    name: 'P1',
    massG: 50,
    massIs: 'food-or-liquid',
    pieces: null,
    note: '',
  };

  it('take a portion with its mass, and none without', () => {
    expect(why(makePortion(portion))).toBe('taken');
    for (const massG of [0, -1, Number.NaN, Number.POSITIVE_INFINITY, null as never]) {
      expect(why(makePortion({ ...portion, massG })), String(massG)).toBe('out-of-range');
    }
    expect(why(makePortion({ ...portion, massIs: 'wet' }))).toBe('not-in-list');
    expect(why(makePortion({ ...portion, pieces: 2.5 }))).toBe('out-of-range');
    const refused = makePortion({ ...portion, massG: -1 });
    expect(refused.ok ? '' : refused.refusal.message).toBe(
      'portion, massG: a number above 0 is needed; given -1.',
    );
  });

  it('keep only the fields of the record, trimmed', () => {
    const made = makePortion({ ...portion, name: '  P1 ', stranger: 1 } as never);
    expect(made).toEqual({ ok: true, value: portion });
  });

  it('refuse impossible steps and say what is allowed', () => {
    const touches = {
      vessel: null,
      tool: null,
      liquid: null,
      reagentLot: null,
      place: null,
      person: null,
      filterLot: null,
      optics: null,
    };
    const step = (kind: string, quantities: Record<string, number>, key = 'one') => ({
      key,
      kind,
      quantities,
      touches,
      minutesUncovered: null,
      openings: null,
      note: '',
    });
    const edition = (...steps: ReturnType<typeof step>[]) =>
      why(makeEdition({ id: ID, procedure: ID, number: 1, steps, because: '', madeAt: AT, by: ID }));
    expect(edition(step('filter', { volume_ml: 200 }))).toBe('taken');
    expect(edition(step('filter', { volume_ml: 0 }))).toBe('impossible-step');
    expect(edition(step('soak', { temperature_c: 300 }))).toBe('impossible-step');
    expect(edition(step('weigh', { pore_um: 10 }))).toBe('unknown-quantity');
    expect(edition(step('enchant', {}))).toBe('unknown-kind');
    expect(edition(step('cut', {}), step('filter', {}))).toBe('key-twice');
    expect(edition()).toBe('no-steps');
  });

  it('let nothing that is kept be without a place', () => {
    const fraction = {
      id: ID,
      run: ID,
      kind: 'remainder',
      volumeMl: 50,
      place: '',
      fate: 'kept',
      note: '',
      at: AT,
    };
    expect(why(makeRunFraction(fraction))).toBe('no-place');
    expect(why(makeRunFraction({ ...fraction, place: 'shelf' }))).toBe('taken');
  });

  it('take marks of known kinds on particles, each once', () => {
    const mark = { id: ID, photo: ID, particles: [ID, ID], decision: { kind: 'keep' }, by: ID, at: AT };
    const made = makeMark(mark as never);
    expect(made.ok && made.value.particles).toEqual([ID]);
    const of = (more: object) => why(makeMark({ ...mark, ...more } as never));
    expect(of({ particles: [] })).toBe('no-particles');
    expect(of({ decision: { kind: 'toString' } })).toBe('not-in-list');
    expect(of({ decision: { kind: 'class', shape: 'pearl' } })).toBe('not-in-list');
    expect(of({ decision: { kind: 'redraw', outline: [[0, 0]] } })).toBe('too-few-points');
    expect(of({ at: 'yesterday' })).toBe('not-a-moment');
  });

  it('make any file name fit to show', () => {
    expect(photoName('../../etc/passwd')).toBe('passwd');
    expect(photoName('a\nb.jpg')).toBe('a b.jpg');
    expect(photoName('-rf.png')).toBe('-rf.png');
    expect(photoName('C:\\x\\фото.png')).toBe('фото.png');
    expect(photoName('..')).toBe('photograph');
    expect(photoName('')).toBe('photograph');
  });
});
