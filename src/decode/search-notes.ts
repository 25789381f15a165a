/**
 * Notes of a search in strips on disk, one record after another: its length, a part of its hash, and the record. What a
 * killed process left half written is left out, with all after it; so is what two processes at once wrote out of turn.
 */
import { createHash } from 'node:crypto';
import { closeSync, ftruncateSync, mkdirSync, openSync, readFileSync, rmSync, writeSync } from 'node:fs';
import { dirname } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import type { PreparedNote, RowNote, StripNotes } from '../science/imaging/index.ts';

export interface SearchNotes extends StripNotes {
  /** Ends the notes; removes them when the search is done and they are of no more use. */
  close(finished: boolean): void;
}

const HASH = 8;
const HEAD = 4 + HASH;
const hashOf = (bytes: Uint8Array): Buffer => createHash('sha256').update(bytes).digest().subarray(0, HASH);

/**
 * @param key what must be alike for the notes to hold: method, version, wish.
 * Notes that cannot be written (a full disk, say) are given up: the search goes on without them.
 */
export function openNotes(path: string, key: string): SearchNotes {
  const { records, end } = readNotes(path, key);
  const [, prepared, ...rows] = records;
  const earlier = prepared ? { prepared: prepared as PreparedNote, rows: rows as RowNote[] } : null;
  let file: number | null = null;
  try {
    mkdirSync(dirname(path), { recursive: true });
    file = openSync(path, 'a');
    ftruncateSync(file, earlier ? end : 0);
  } catch {
    // As a failed write below.
  }
  const add = (record: unknown) => {
    if (file === null) return;
    const body = serialize(record);
    const head = Buffer.alloc(HEAD);
    head.writeUInt32LE(body.length);
    hashOf(body).copy(head, 4);
    try {
      writeSync(file, Buffer.concat([head, body]));
    } catch {
      close(true);
    }
  };
  const close = (finished: boolean) => {
    if (file !== null) closeSync(file);
    file = null;
    try {
      if (finished) rmSync(path, { force: true });
    } catch {
      // Held by somebody else, who removes it.
    }
  };
  if (!earlier) add(key);
  return { earlier, add, close };
}

/** The key, what was prepared, then row after row without a gap. */
function inTurn(record: unknown, before: readonly unknown[], key: string): boolean {
  if (before.length === 0) return record === key;
  if (typeof record !== 'object' || record === null) return false;
  if (before.length === 1) return 'prepared' in record;
  const [, , first, ...others] = before as [unknown, unknown, ...RowNote[]];
  const { next } = record as RowNote;
  return first ? next === (others.at(-1) ?? first).next + first.next : next > 0;
}

/** Records that are whole and in turn, and where they end. */
function readNotes(path: string, key: string): { records: unknown[]; end: number } {
  const records: unknown[] = [];
  let bytes: Buffer;
  try {
    bytes = readFileSync(path);
  } catch {
    return { records, end: 0 };
  }
  let at = 0;
  while (at + HEAD <= bytes.length) {
    const end = at + HEAD + bytes.readUInt32LE(at);
    const body = bytes.subarray(at + HEAD, end);
    if (end > bytes.length || !hashOf(body).equals(bytes.subarray(at + 4, at + HEAD))) break;
    const record: unknown = deserialize(body);
    if (!inTurn(record, records, key)) break;
    records.push(record);
    at = end;
  }
  return { records, end: at };
}
