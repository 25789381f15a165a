export { type BlindCut, blindPicture } from './blind-picture.ts';
export { compileInPlace } from './compile-in-place.ts';
export { completenessOnPhotos } from './completeness-on-photos.ts';
export { decodePhoto, verifyPhoto } from './decode-photo.ts';
export { drawOutlines } from './draw-outlines.ts';
export { type FindingCrew, findingCrew } from './finding-crew.ts';
export { type PhotoHead, readHead } from './photo-head.ts';
export type { PhotoRefusal, PhotoRefusalWhy } from './photo-refusal.ts';
export { type OpenStrips, openStrips, WHOLE_PIXELS } from './photo-strips.ts';
export { type PhotoTiles, photoTiles } from './photo-tiles.ts';
export { photoWork } from './photo-work.ts';
export { type PieceSquare, piecePictures } from './piece-picture.ts';
export { type Searched, type SearchOrder, searchPhoto } from './search-photo.ts';
export { shownName } from './shown-name.ts';
export { readSpectrumBytes, readSpectrumFile, spectrumWork } from './spectra/read-spectrum-file.ts';
export {
  type ReadReferences,
  readReferenceFolder,
  type SpectrumPlace,
  spectraAt,
} from './spectra/reference-folder.ts';
export { startWorker } from './start-worker.ts';
