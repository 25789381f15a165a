import { z } from 'zod';
import { id, ofStudy, route } from '../route.ts';
import { KnownSpectrumJson, PieceSpectrumJson, SpectraAnswer, UnpackedJson } from '../spectra.ts';

const name = z.string().min(1).max(1000);
const ofSpectrum = z.object({ spectrum: id });

export const SPECTRA_ROUTES = {
  spectra: route({
    method: 'get',
    path: '/api/studies/{study}/spectra',
    does: 'Spectra of the pieces of a study, and of the known materials of the laboratory.',
    params: ofStudy,
    answer: SpectraAnswer,
  }),
  attachSpectrum: route({
    method: 'put',
    path: '/api/particles/{particle}/spectra',
    does: 'Attach a spectrum to a piece: the body is the file itself. It is held against the known materials.',
    params: z.object({ particle: id }),
    query: z.object({ name }),
    body: 'bytes',
    answer: PieceSpectrumJson,
  }),
  addKnownSpectrum: route({
    method: 'put',
    path: '/api/studies/{study}/known-spectra',
    does: 'Keep the spectrum of a known material: the body is the file itself.',
    params: ofStudy,
    query: z.object({ name, material: z.string().max(120).optional() }),
    body: 'bytes',
    answer: KnownSpectrumJson,
  }),
  spectrumPicture: route({
    method: 'get',
    path: '/api/spectra/{spectrum}/picture',
    does: 'The spectrum over the references that it is most like, with its bands, as SVG.',
    params: ofSpectrum,
    query: z.object({ width: z.coerce.number().int().min(300).max(2000).default(900) }),
    answer: 'image/svg+xml',
  }),
  spectrumOriginal: route({
    method: 'get',
    path: '/api/spectra/{spectrum}/original',
    does: 'The file as it was brought in, to the byte.',
    params: ofSpectrum,
    answer: 'application/octet-stream',
  }),
} as const;

export const ARCHIVE_ROUTES = {
  packStudy: route({
    method: 'get',
    path: '/api/studies/{study}/archive',
    does: 'The study as one archive in open formats, originals to the byte (zip).',
    params: ofStudy,
    answer: 'application/octet-stream',
  }),
  unpackStudy: route({
    method: 'put',
    path: '/api/archives',
    does: 'Bring a packed study in: the body is the archive. Everything is checked before anything is kept.',
    query: z.object({ as: z.string().min(1).max(120).optional() }),
    body: 'bytes',
    answer: UnpackedJson,
  }),
} as const;
