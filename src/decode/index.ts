export { decodePhoto, verifyPhoto } from './decode-photo.ts';
export { type PhotoHead, readHead } from './photo-head.ts';
export type { PhotoRefusal, PhotoRefusalWhy } from './photo-refusal.ts';
export { type OpenStrips, openStrips, WHOLE_PIXELS } from './photo-strips.ts';
export { shownName } from './shown-name.ts';
