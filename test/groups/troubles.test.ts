import { describe, expect, it } from 'vitest';
import { postgresPrograms } from './postgres-server.ts';
import { troubles } from './troubles.ts';

describe('what can fail', () => {
  it('is said in a sentence with what to do, and the work goes on after it', async () => {
    const told = await troubles();
    for (const { what, said, after } of told) {
      if (said.startsWith('(')) continue;
      expect(said, what).toMatch(/\.$/);
      expect(said, what).toMatch(
        /make room|give this account the right|try again|look in a moment|read the photo anew|close that one|sign in first/i,
      );
      // Nothing of the machine's inside.
      expect(said, what).not.toMatch(/select |insert |at \w+ \(|E[A-Z]{4,}|undefined/);
      expect(after, what).not.toBe('hurt');
    }
    const said = (what: string) => told.find((one) => one.what === what)?.said;
    expect(said('the disk is full')).toContain('The disk of the laboratory is full');
    expect(said('two tabs: one has drawn a piece anew, the other still decides on the old one')).toContain(
      'gave way',
    );
    if (postgresPrograms() !== null) {
      expect(said('the line to the database is cut')).toContain('The database does not answer');
    }
  });
});
