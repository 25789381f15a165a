import { setFlagsFromString } from 'node:v8';

/**
 * Lets threads started from now on compile what they run themselves. Node otherwise compiles hot code on up to four threads
 * beside each, which a search of a few seconds keeps half as busy as itself: a worker told to leave cores to others would
 * take them all the same. Alone on an idle machine a search is slower by what it compiles.
 */
export function compileInPlace(): void {
  setFlagsFromString('--no-concurrent-recompilation');
}
