import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** A source file of the project, path relative to the root with forward slashes. */
export interface SourceFile {
  readonly path: string;
  readonly text: string;
}

export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** Every TypeScript file below a folder of the project. */
export function sourceFiles(folder: string): SourceFile[] {
  return readdirSync(path.join(ROOT, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
    .map((entry) => path.join(entry.parentPath, entry.name))
    .filter((file) => !file.includes(`${path.sep}node_modules${path.sep}`))
    .map((file) => ({
      path: path.relative(ROOT, file).split(path.sep).join('/'),
      text: readFileSync(file, 'utf8'),
    }));
}

export const isTest = (file: SourceFile): boolean => /\.test\.tsx?$/.test(file.path);
