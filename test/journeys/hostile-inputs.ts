/**
 * Hostile requests, one a line: what somebody sends who means harm, and what must come back. The journey drives them through
 * the real HTTP door; `npx tsx test/journeys/hostile-table.ts` writes the page docs/hostile-inputs.md from the same list.
 */
import { sealedKeys } from './hostile-keys.ts';

export type Expected =
  /** Refused with one of these statuses and a sentence. */
  | { readonly refused: readonly number[] }
  /** Taken as the plain text it is, and given back letter for letter as JSON. */
  | { readonly kept: string }
  /** Answered, in pages or archives, without a code, a seed or a line of a sealed key. */
  | { readonly sealed: true }
  /** Answered with the application's own page or a refusal; never with a file of the machine. */
  | { readonly harmless: true };

export interface Hostile {
  readonly group: string;
  readonly what: string;
  readonly method: string;
  readonly path: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: unknown;
  /** Bytes of a body as they are; a function where they are large. */
  readonly bytes?: Uint8Array | (() => Uint8Array);
  readonly expect: Expected;
}

/** Things that are there, for paths. */
export interface There {
  readonly study: string;
  readonly filter: string;
  readonly photo: string;
  /** A round that is sealed. */
  readonly round: string;
  readonly scorer: string;
  readonly port: number;
}

const NONE = '00000000-0000-7000-8000-000000000000';

const FOREIGN_HOSTS = [
  'evil.example',
  'evil.example:80',
  'localhost.evil.example',
  '127.0.0.1.evil.example',
  '127.0.0.1',
  'localhost',
  '0.0.0.0',
  '[::]',
  '169.254.169.254',
  '2130706433',
  '0x7f000001',
  '127.0.0.1:1',
  'localhost:99999',
  'user@127.0.0.1',
  ' 127.0.0.1',
];
const FOREIGN_ORIGINS = [
  'http://evil.example',
  'https://evil.example',
  'null',
  'http://localhost',
  'https://127.0.0.1',
  'file://',
  'http://127.0.0.1.evil.example',
  'http://localhost:1',
  'chrome-extension://abc',
  'http://[::1]',
];

function foreignSites({ port, study }: There): Hostile[] {
  const read = `/api/studies/${study}/standing`;
  const own = `127.0.0.1:${port}`;
  return [
    ...FOREIGN_HOSTS.map(
      (host): Hostile => ({
        group: 'pages of other sites',
        what: `a name of another site that leads here (Host: ${host})`,
        method: 'GET',
        path: read,
        headers: { host: host.trim() === '127.0.0.1' && host !== '127.0.0.1' ? '127.0.0.1:1' : host },
        expect: { refused: [400, 403] },
      }),
    ),
    ...FOREIGN_ORIGINS.flatMap((origin): Hostile[] =>
      (['GET', 'POST'] as const).map((method) => ({
        group: 'pages of other sites',
        what: `a script of another page (Origin: ${origin}), ${method === 'GET' ? 'reading' : 'writing'}`,
        method,
        path: method === 'GET' ? read : '/api/studies',
        headers: { host: own, origin },
        ...(method === 'POST' ? { body: { name: 'x', question: {} } } : {}),
        expect: { refused: [403] },
      })),
    ),
    ...['cross-site', 'same-site'].map(
      (site): Hostile => ({
        group: 'pages of other sites',
        what: `a picture or form of another page (Sec-Fetch-Site: ${site})`,
        method: 'GET',
        path: read,
        headers: { host: own, 'sec-fetch-site': site },
        expect: { refused: [403] },
      }),
    ),
  ];
}

const CLIMBS = [
  '../../etc/passwd',
  '..%2f..%2fetc%2fpasswd',
  '%2e%2e/%2e%2e/etc/passwd',
  '%2e%2e%2f%2e%2e%2fetc%2fpasswd',
  '..%5c..%5cwindows%5cwin.ini',
  '....//....//etc/passwd',
  '%c0%ae%c0%ae/etc/passwd',
  '%252e%252e%252fetc%252fpasswd',
  '/etc/passwd',
  '%2fetc%2fpasswd',
  'laboratory.json',
  'database/PG_VERSION',
  'index.html%00.js',
  '.git/config',
  'C:%5Cboot.ini',
  'con',
  '%E0%A4%A',
];

function climbs({ photo }: There): Hostile[] {
  const doors = ['/', '/assets/', '/api/photos/', `/api/photos/${photo}/tiles/0/0/`, '/api/test-pictures/'];
  return doors.flatMap((door) =>
    CLIMBS.map(
      (way): Hostile => ({
        group: 'ways out of the folder',
        what: `a file of the machine asked for as ${door.replace(photo, 'PHOTO')}${way}`,
        method: 'GET',
        path: `${door}${way}`,
        expect: { harmless: true },
      }),
    ),
  );
}

const SQL = [
  "' or '1'='1",
  "'; drop table study; --",
  '1; select pg_sleep(5)',
  "') union select secret from account --",
  '$$; delete from mark; $$',
  "\\'; truncate particle; --",
  '%27%20or%201=1',
  '1 or 1=1',
  "admin'--",
  "x' and (select count(*) from mark) > 0 --",
];
const SCRIPT = [
  '<script>alert(1)</script>',
  '<img src=x onerror=alert(1)>',
  '"><svg onload=alert(1)>',
  "javascript:alert('x')",
  '{{constructor.constructor("alert(1)")()}}',
  '</title><script>alert(1)</script>',
  '<iframe src="http://evil.example">',
  '&lt;b&gt;',
  '#{7*7}',
  '<!--#exec cmd="ls"-->',
];
const FORMULAS = ['=1+1', '+1+1', '-1+1', '@SUM(A1)', '=HYPERLINK("http://evil.example")'];
const ODD = [
  '\u202Egnp.exe',
  'a\u0301\u0327',
  '𝕷𝖆𝖇 🧪',
  'ﷺ'.repeat(20),
  'x'.repeat(119),
  'null',
  'undefined',
  '__proto__',
  'constructor',
  'toString',
  '0',
  '-0',
  'NaN',
  'true',
];

function texts({ study }: There): Hostile[] {
  const named = (group: string, what: string, text: string): Hostile => ({
    group,
    what,
    method: 'POST',
    path: `/api/studies/${study}/specimens`,
    body: { name: text, note: text },
    expect: { kept: text },
  });
  return [
    ...SQL.flatMap((text): Hostile[] => [
      named('questions to the database', `in a name: ${text}`, text),
      {
        group: 'questions to the database',
        what: `in place of an id: ${text}`,
        method: 'GET',
        path: `/api/studies/${encodeURIComponent(text)}/standing`,
        expect: { refused: [400, 404] },
      },
    ]),
    ...SCRIPT.map((text) => named('script in names and notes', text, text)),
    ...FORMULAS.map((text) => named('formulas of spreadsheets', text.trim(), text)),
    ...ODD.map((text) =>
      named('odd letters', text.length > 40 ? `${text.slice(0, 8)} … (${text.length})` : text, text),
    ),
    ...['a\u0000b', 'line\nbreak', '\u0007bell', '\u001b[31mred', ''].map(
      (text): Hostile => ({
        ...named('signs that are no text', JSON.stringify(text), text),
        body: { name: text },
        expect: { refused: [400, 422] },
      }),
    ),
  ];
}

function bodies({ study, photo, filter }: There): Hostile[] {
  const marks = `/api/photos/${photo}/marks`;
  const specimens = `/api/studies/${study}/specimens`;
  const raw = (what: string, path: string, text: string, statuses: readonly number[] = [400]): Hostile => ({
    group: 'bodies out of shape',
    what,
    method: 'POST',
    path,
    bytes: Buffer.from(text),
    headers: { 'content-type': 'application/json' },
    expect: { refused: statuses },
  });
  const shaped = (
    what: string,
    path: string,
    body: unknown,
    statuses: readonly number[] = [400, 409, 422],
  ): Hostile => ({
    group: 'bodies out of shape',
    what,
    method: 'POST',
    path,
    body,
    expect: { refused: statuses },
  });
  return [
    raw('half of an object', marks, '{"deed":'),
    raw('no object', marks, '"keep"'),
    raw('a list', marks, '[]'),
    raw('nothing', marks, ''),
    raw('null', marks, 'null'),
    raw('a number', marks, '1e999'),
    raw('a thousand open brackets', marks, '['.repeat(1000)),
    raw('a hundred thousand open brackets', specimens, '{"a":'.repeat(100_000)),
    raw('bytes that are no UTF-8', specimens, Buffer.from([0x7b, 0xff, 0xfe, 0x7d]).toString('latin1')),
    raw('a name through the prototype', specimens, '{"__proto__":{"name":"x"}}'),
    raw('a name twice, the second wrong', specimens, '{"name":"x","name":7}'),
    raw(
      'XML',
      specimens,
      '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY e SYSTEM "file:///etc/passwd">]><x>&e;</x>',
    ),
    raw('more than a megabyte', specimens, `{"name":"${'x'.repeat(1_200_000)}"}`, [413]),
    shaped('a name of ten thousand letters', specimens, { name: 'x'.repeat(10_001) }),
    shaped('a mass below zero', specimens, { name: 'm', mass_g: -1 }),
    raw('a mass beyond all', specimens, '{"name":"m","mass_g":1e400}'),
    shaped('a role that is none', specimens, { name: 'm', role: 'owner' }),
    shaped('a deed that is none', marks, { deed: 'explode', particles: [NONE] }),
    shaped('a particle of nowhere', marks, { deed: 'keep', particles: [NONE] }),
    shaped('a particle that is no id', marks, { deed: 'keep', particles: ["' or 1=1"] }),
    shaped('an outline of two points', marks, {
      deed: 'draw',
      particles: [],
      outline: [
        [0, 0],
        [1, 1],
      ],
      shape: 'film',
      colour: 'clear',
    }),
    shaped('an outline beyond the photo', marks, {
      deed: 'draw',
      particles: [],
      outline: [
        [1e9, 1e9],
        [1e9 + 9, 1e9],
        [1e9, 1e9 + 9],
      ],
      shape: 'film',
      colour: 'clear',
    }),
    shaped('an outline of words', marks, {
      deed: 'draw',
      particles: [],
      outline: [
        ['a', 'b'],
        [0, 1],
        [1, 1],
      ],
      shape: 'film',
      colour: 'clear',
    }),
    shaped('an outline without area', marks, {
      deed: 'draw',
      particles: [],
      outline: [
        [5, 5],
        [5, 5],
        [5, 5],
      ],
      shape: 'film',
      colour: 'clear',
    }),
    shaped('runs without number', `/api/studies/${study}/runs`, {
      runs: Array.from({ length: 201 }, () => ({})),
    }),
    shaped('a count below zero', '/api/claim', { portions: [{ mass_g: 1, count: -1 }], blanks: [] }),
    shaped('a count beyond all', '/api/claim', {
      portions: [{ mass_g: 1, count: 1e300 }],
      blanks: [{ count: 1 }],
    }),
    ...['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data'].map(
      (type): Hostile => ({
        group: 'bodies out of shape',
        what: `a form of another page, sent as ${type}`,
        method: 'POST',
        path: specimens,
        bytes: Buffer.from('{"name":"smuggled"}'),
        headers: { 'content-type': type },
        expect: { refused: [400, 415, 422] },
      }),
    ),
    ...['TRACE', 'DELETE', 'PATCH', 'OPTIONS', 'PROPFIND'].map(
      (method): Hostile => ({
        group: 'methods that are none',
        what: method,
        method,
        path: specimens,
        expect: { refused: [400, 404, 405, 501] },
      }),
    ),
    ...['..', 'a/b', '../../x.jpg', 'a\\b.jpg', 'a\u0000.jpg', '', 'x'.repeat(400)].map(
      (name): Hostile => ({
        group: 'photographs',
        what: `no picture, named ${JSON.stringify(name.slice(0, 20))}`,
        method: 'PUT',
        path: `/api/filters/${filter}/photos?name=${encodeURIComponent(name)}`,
        bytes: Buffer.from('not a picture'),
        expect: { refused: [400, 422] },
      }),
    ),
  ];
}

function photographs({ filter }: There, bomb: () => Uint8Array): Hostile[] {
  const put = (what: string, bytes: Uint8Array | (() => Uint8Array)): Hostile => ({
    group: 'photographs',
    what,
    method: 'PUT',
    path: `/api/filters/${filter}/photos?name=hostile.png`,
    bytes,
    expect: { refused: [413, 422] },
  });
  const head = (text: string) => Buffer.concat([Buffer.from(text, 'latin1'), Buffer.alloc(2000, 7)]);
  return [
    put('a picture bomb: 60,000 × 60,000 pixels in half a megabyte', bomb),
    put('nothing at all', Buffer.alloc(0)),
    put('a page', Buffer.from('<!doctype html><script>alert(1)</script>')),
    put(
      'a drawing with script',
      Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'),
    ),
    put(
      'a drawing that reads a file',
      Buffer.from(
        '<?xml version="1.0"?><!DOCTYPE s [<!ENTITY e SYSTEM "file:///etc/passwd">]><svg>&e;</svg>',
      ),
    ),
    put('a program', head('\x7fELF\x02\x01\x01')),
    put('a packed folder', head('PK\x03\x04')),
    put('a document', head('%PDF-1.7')),
    put('the beginning of a JPEG', head('\xff\xd8\xff\xe0')),
    put('the beginning of a PNG', head('\x89PNG\r\n\x1a\n')),
    put('the beginning of a TIFF', head('II*\x00')),
    put('the beginning of a GIF', head('GIF89a')),
  ];
}

export const hostileInputs = (there: There, bomb: () => Uint8Array): readonly Hostile[] => [
  ...foreignSites(there),
  ...climbs(there),
  ...texts(there),
  ...bodies(there),
  ...photographs(there, bomb),
  ...sealedKeys(there),
];
