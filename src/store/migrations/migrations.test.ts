import { describe, expect, it } from 'vitest';
import { hashOfMigration, statements } from '../migrate.ts';
import { MIGRATIONS } from './index.ts';

/** A released migration is never edited: a laboratory that has it would be refused. Add the next one's hash here. */
const RELEASED: Readonly<Record<string, string>> = {
  '0001-laboratory': '751280d77ab743c9dc634e8241f9b76c6ba664f36d804a707fbb61bdd389e43a',
  '0002-plans': 'e87203cc2220f14e93a775bcc12593691ce7780808a78093cb23718822f73336',
  '0003-bench': '7907815ec0c44362ce9749b7d7c395803d1c679f6aab8120b5104e42aad3ed4d',
  '0004-evidence': '9ffd5e91da47b852cd2752e35b6d4d1161eba11775518a92171fddaced9d7a5b',
  '0005-groups': '520a5ceebbe98888d3fe8c52c439c9aa64773f2e9fd528bb77398898efc305fc',
  '0006-spectra': '3ff4503af513dee09d153df9dba977fd8c1c1fc4a9a4414504ae1249ebbcbfdf',
  '0007-published-values': '750e4a772d4548e406728746471f96d87c60ad1f92d90821729e8a9a1c6d4727',
  '0008-joinings': '30453f8a3e21a6f617ca96c2e06d2ea6261190993a1d546b6890b5ffee3daece',
  '0009-completeness': '1bb5c52dbfe0aa8217a24a54ea06dc1127fd7a5521375529bb67dd7f0fc066b1',
  '0010-searching': 'c4c4fca7d5a8d562ada6efc243617c58479712c43b8a591053cf99ca64d9267d',
  '0011-weighings': 'e6bd3c856f5b98f122cb57ca07426e7700393b6297fe22f22c0a676f145ec045',
  '0012-false-finds': 'd3fe372013dc3cba4ed799fd8241c22b5e469662f93c579c891da188009ded7a',
  '0013-photo-moves': 'c2e6fd7d83cf0250f18072a9f734e2af36d65f9932bbbd64b1a9059c26044ba5',
  '0014-withdrawals': '9c285448805fce6288bb9410bd598a0453ff003ad3a1b1c9fe9d02b19124f16e',
  '0015-codes': '7909a8a2122a9df3fb6299a200e180db92ac42910eb8e3693755c16544a5ea25',
};

describe('migrations', () => {
  it('are numbered in order', () => {
    expect(MIGRATIONS.map((m) => m.name.slice(0, 4))).toEqual(
      MIGRATIONS.map((_, at) => String(at + 1).padStart(4, '0')),
    );
  });

  it('stay as they were released', () => {
    const now = Object.fromEntries(MIGRATIONS.map((m) => [m.name, hashOfMigration(m.sql)]));
    expect(now).toMatchObject(RELEASED);
    expect(Object.keys(now)).toEqual(Object.keys(RELEASED));
  });

  it('only add: nothing is dropped, renamed or deleted', () => {
    for (const { name, sql } of MIGRATIONS) {
      const outsideFunctions = sql.split('$$').filter((_, at) => at % 2 === 0).join(' ');
      const taking = /\b(drop|rename|truncate|delete\s+from|alter\s+column\s+\w+\s+type)\b/i.exec(outsideFunctions);
      expect(taking?.[0] ?? null, name).toBeNull();
    }
  });
});

describe('statements', () => {
  it('part at semicolons, but not inside a function', () => {
    const text = 'create table a (x int);\ncreate function f() as $$ begin; end $$;\n;';
    expect(statements(text)).toEqual(['create table a (x int)', 'create function f() as $$ begin; end $$']);
  });
});
