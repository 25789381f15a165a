/** A disk so small that it can be filled. */
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';

/** A small disk of its own, where this account may have one. */
export function smallDisk(folder: string, megabytes: number): { readOnly(): void; end(): void } | null {
  try {
    fs.mkdirSync(folder, { recursive: true });
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${megabytes}m`, 'tmpfs', folder], { stdio: 'ignore' });
  } catch {
    return null;
  }
  return {
    readOnly: () => void execFileSync('mount', ['-o', 'remount,ro', folder]),
    end: () => void execFileSync('umount', ['-l', folder]),
  };
}
