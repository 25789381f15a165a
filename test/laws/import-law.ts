import path from 'node:path/posix';
import { parseSync } from 'oxc-parser';
import type { SourceFile } from './source-files.ts';

/** The floors. Nothing else in the project restates this table. */
export const FLOORS: Readonly<Record<string, number>> = {
  units: 0,
  science: 1,
  study: 2,
  bench: 3,
  report: 3,
  api: 3,
  actions: 4,
  store: 5,
  decode: 5,
  server: 5,
  cli: 5,
  web: 5,
  demo: 5,
  main: 6,
};

/** Rooms that may not reach outside the language: no Node, no packages but these. */
const PACKAGES: Readonly<Record<string, readonly string[]>> = {
  units: [],
  science: [],
  study: [],
  bench: [],
  report: [],
  api: ['zod', '@hono/zod-openapi'],
  actions: [],
};

/** Second entrances: a contract that others need without the machinery behind it. */
const ENTRANCES = ['src/science/imaging/finding.ts'];

/** The web talks to the server over HTTP alone. */
const WEB_MAY_NOT = ['actions'];

interface Import {
  readonly from: string;
  readonly line: number;
}

/** Every module that a file names, type-only imports, re-exports and dynamic imports included. */
export function importsOf(file: SourceFile): Import[] {
  const parsed = parseSync(file.path, file.text);
  if (parsed.errors.length > 0) throw new Error(`${file.path} does not parse: ${parsed.errors[0]!.message}`);
  const lineOf = (offset: number) => file.text.slice(0, offset).split('\n').length;
  const { staticImports, staticExports, dynamicImports } = parsed.module;
  return [
    ...staticImports.map((i) => ({ from: i.moduleRequest.value, line: lineOf(i.start) })),
    ...staticExports.flatMap((e) =>
      e.entries.flatMap((entry) =>
        entry.moduleRequest ? [{ from: entry.moduleRequest.value, line: lineOf(e.start) }] : [],
      ),
    ),
    ...dynamicImports.map((d) => ({
      from: file.text.slice(d.moduleRequest.start, d.moduleRequest.end).replace(/^['"`]|['"`]$/g, ''),
      line: lineOf(d.start),
    })),
  ];
}

/** `science/imaging` for src/science/imaging/x.ts, `store` for src/store/x.ts, `demo` for demo/x.ts. */
export function roomOf(file: string): string {
  const parts = file.split('/');
  if (parts[0] === 'demo') return 'demo';
  if (parts[0] !== 'src') return parts[0]!;
  return parts[1] === 'science' && parts.length > 3 ? `science/${parts[2]}` : parts[1]!;
}

const floorOf = (room: string): number | undefined => FLOORS[room.split('/')[0]!];

/** What a file imports against the law; empty when it keeps it. */
export function breaches(file: SourceFile): string[] {
  const room = roomOf(file.path);
  const floor = floorOf(room);
  const broken: string[] = [];
  const say = (i: Import, why: string) => broken.push(`${file.path}:${i.line} imports ${i.from}: ${why}`);
  if (floor === undefined) return [`${file.path}: ${room} is not a room of the import law`];
  for (const i of importsOf(file)) {
    if (i.from.startsWith('#')) {
      say(i, 'aliases between rooms are not allowed, write the relative path');
    } else if (!i.from.startsWith('.')) {
      const allowed = PACKAGES[room.split('/')[0]!];
      if (allowed && !allowed.includes(i.from)) say(i, `${room} is pure and may import no package`);
    } else {
      const target = path.join(path.dirname(file.path), i.from);
      const there = roomOf(target);
      if (there === room) continue;
      const its = floorOf(there);
      if (its === undefined) {
        if (!(room === 'web' && target === 'package.json')) say(i, `${there} is not a room`);
      } else if (room.startsWith('science/') && there.startsWith('science/')) {
        if (there !== 'science/maths') say(i, 'a room of science knows only maths and units');
      } else if (its >= floor) say(i, `${room} is on floor ${floor}, ${there} on ${its}: only lower floors`);
      else if (room === 'web' && WEB_MAY_NOT.includes(there))
        say(i, 'screens talk to the server through api');
      if (there !== room && !/(^|\/)index\.ts$/.test(target) && !entranceIsFree(room, target)) {
        say(i, `a room is entered through its index.ts`);
      }
    }
  }
  return broken;
}

/** Main joins everything and may name files; demo may be entered by main at its folders. */
function entranceIsFree(room: string, target: string): boolean {
  return (
    room === 'main' || target.startsWith('demo/') || target === 'package.json' || ENTRANCES.includes(target)
  );
}
