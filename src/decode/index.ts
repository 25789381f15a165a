export { decodePhoto, verifyPhoto } from './decode-photo.ts';
export { drawOutlines } from './draw-outlines.ts';
export { type FindingCrew, findingCrew } from './finding-crew.ts';
export { type PhotoHead, readHead } from './photo-head.ts';
export type { PhotoRefusal, PhotoRefusalWhy } from './photo-refusal.ts';
export { type OpenStrips, openStrips, WHOLE_PIXELS } from './photo-strips.ts';
export { photoWork } from './photo-work.ts';
export { type Searched, type SearchOrder, searchPhoto } from './search-photo.ts';
export { shownName } from './shown-name.ts';
