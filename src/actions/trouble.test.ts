import { describe, expect, it } from 'vitest';
import { NO_BUCKET, troubleOf, UnsoundOriginal } from './trouble.ts';

const failure = (code: string, more: object = {}) => Object.assign(new Error('inside'), { code, ...more });

describe('a failing machine', () => {
  it.each([
    ['disk-full', failure('ENOSPC', { path: '/lab/originals' })],
    ['disk-full', failure('EFBIG')],
    ['disk-full', new Error('Failed query', { cause: failure('53100') })],
    ['not-writable', failure('EROFS')],
    ['not-writable', failure('25006')],
    ['too-many-open', failure('53300')],
    ['no-database', new AggregateError([failure('ECONNREFUSED')])],
    ['no-database', new Error('Failed query', { cause: failure('57P01') })],
    ['no-database', new Error('Failed query', { cause: new Error('Connection terminated unexpectedly') })],
    ['no-database', new Error('timeout exceeded when trying to connect')],
    ['no-bucket', new Error('The bucket photos does not answer', { cause: failure(NO_BUCKET) })],
    ['machine-failed', failure('23505')],
    ['machine-failed', 'anything else'],
    ['machine-failed', null],
  ])('is told as %s, in sentences that say what to do, without its inside', (why, given) => {
    const told = troubleOf(given);
    expect(told.why).toBe(why);
    expect(told.message).toContain('acknowledged before is kept');
    expect(told.message).toMatch(/(again|try).*\.$/);
    if (why !== 'no-bucket') expect(told.message).not.toContain('inside');
  });

  it.each(['missing', 'changed'] as const)(
    'says that an original is %s, and what stands all the same',
    (state) => {
      const told = troubleOf(new Error('outside', { cause: new UnsoundOriginal('ab', state) }));
      expect(told.why).toBe(`original-${state}`);
      expect(told.message).toMatch(/counts stay as they are.*from a backup.*retentate check/);
    },
  );

  it('says where, when the failure does', () => {
    expect(troubleOf(failure('ENOSPC', { path: '/lab/originals' })).message).toContain('(/lab/originals)');
  });
});
