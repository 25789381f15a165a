import { type Refusal, refused } from '../units/index.ts';
import { shownName } from './shown-name.ts';

export const PHOTO_REFUSALS = [
  'not-found',
  'not-a-file',
  'empty-file',
  'not-a-photo',
  'too-many-pixels',
  'too-small',
  'cut-short',
  'damaged',
  'unfit-numbers',
  'stopped',
  'finder-failed',
] as const;
export type PhotoRefusalWhy = (typeof PHOTO_REFUSALS)[number];

export interface PhotoRefusal extends Refusal {
  readonly why: PhotoRefusalWhy;
}

const WORDS: Readonly<Record<PhotoRefusalWhy, (name: string, fact: string) => string>> = {
  'not-found': (name) => `${name} was not found or may not be read: check the name and try again.`,
  'not-a-file': (name) => `${name} is not a file: name a photograph or a folder of photographs.`,
  'empty-file': (name) => `${name} is empty (0 bytes): copy it from the camera again.`,
  'not-a-photo': (name, fact) => `${name} is ${fact}, not a photograph: save it as JPEG, PNG or TIFF.`,
  'too-many-pixels': (name, fact) =>
    `${name} claims to be ${fact}: save the photograph in parts or as a tiled TIFF.`,
  'too-small': (name, fact) =>
    `${name} is only ${fact}, too small to show a filter: hand in the full-size photograph.`,
  'cut-short': (name) => `${name} is cut short, its end is missing: copy it from the camera again.`,
  damaged: (name, fact) => `${name} is damaged (${fact}): copy it from the camera again.`,
  'unfit-numbers': (name, fact) => `${name} holds ${fact}: save it with 8 or 16 bits a channel.`,
  stopped: (name) => `${name} was not searched because the work was stopped: start it again to go on.`,
  'finder-failed': (name, fact) =>
    `${name} could not be searched (${fact}): try it again, and report it if it stays so.`,
};

/** A refusal of one photograph, worded; `fact` is what was seen. */
export const refusePhoto = (
  why: PhotoRefusalWhy,
  name: string,
  fact = '',
): { readonly ok: false; readonly refusal: PhotoRefusal } =>
  refused({ why, message: WORDS[why](shownName(name), fact) });
