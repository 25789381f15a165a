/** Method and path of the routes of spectra and of archives; the types hold them to the routes of `api/`. */
export const SPECTRA_PATHS = {
  spectra: ['get', '/api/studies/{study}/spectra'],
  attachSpectrum: ['put', '/api/particles/{particle}/spectra'],
  addKnownSpectrum: ['put', '/api/studies/{study}/known-spectra'],
  spectrumPicture: ['get', '/api/spectra/{spectrum}/picture'],
  spectrumOriginal: ['get', '/api/spectra/{spectrum}/original'],
  packStudy: ['get', '/api/studies/{study}/archive'],
  unpackStudy: ['put', '/api/archives'],
} as const;
