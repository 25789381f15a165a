/**
 * PGlite on a folder, made durable. As shipped, PGlite runs with fsync off, and its file-system layer would not pass
 * an fsync on if it were asked: a power cut could lose what was acknowledged. This folder passes each fsync to the disk,
 * and `durableStartParams` turns the database's own on. It leans on PGlite's inside, so its version is pinned and
 * durable-folder.test.ts counts the fsyncs.
 */
import fs from 'node:fs';
import path from 'node:path';
import { PGlite } from '@electric-sql/pglite';
import { NodeFS } from '@electric-sql/pglite/nodefs';

/** What is used of Emscripten's file system here; it declares no types of its own. */
interface OpenStream {
  readonly nfd?: number;
  readonly node?: unknown;
}
interface EmscriptenModule {
  NODEFS: {
    stream_ops: { fsync?: (stream: OpenStream) => number };
    realPath(node: unknown): string;
  };
}

function syncPath(real: string): void {
  const opened = fs.openSync(real, 'r');
  try {
    fs.fsyncSync(opened);
  } finally {
    fs.closeSync(opened);
  }
}

function passFsyncOn(module: unknown): void {
  const { NODEFS } = module as EmscriptenModule;
  NODEFS.stream_ops.fsync = (stream) => {
    if (stream.nfd !== undefined) fs.fsyncSync(stream.nfd);
    // A folder has no descriptor of its own in this layer.
    else if (stream.node !== undefined) syncPath(NODEFS.realPath(stream.node));
    return 0;
  };
}

export class DurableFolder extends NodeFS {
  override async init(...given: Parameters<NodeFS['init']>): ReturnType<NodeFS['init']> {
    const { emscriptenOpts } = await super.init(...given);
    return { emscriptenOpts: { ...emscriptenOpts, preRun: [...(emscriptenOpts.preRun ?? []), passFsyncOn] } };
  }
}

/** PGlite's own start parameters without "-F" (fsync off), with the one way of syncing that reaches `fsync`. */
export const durableStartParams = (): string[] => [
  ...PGlite.defaultStartParams.filter((param) => param !== '-F'),
  '-c',
  'wal_sync_method=fsync',
];

/** So many at once: the disk joins waiting syncs into one. */
const AT_ONCE = 32;

/** Syncs every file and folder below: the making of a database is not synced by itself. */
export async function syncTree(folder: string): Promise<void> {
  const entries = await fs.promises.readdir(folder, { withFileTypes: true, recursive: true });
  const all = [
    folder,
    ...entries
      .filter((entry) => entry.isFile() || (entry.isDirectory() && process.platform !== 'win32'))
      .map((entry) => path.join(entry.parentPath ?? entry.path, entry.name)),
  ];
  const syncNext = async (): Promise<void> => {
    for (let next = all.pop(); next !== undefined; next = all.pop()) {
      const opened = await fs.promises.open(next, 'r');
      try {
        await opened.sync();
      } finally {
        await opened.close();
      }
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, syncNext));
}
