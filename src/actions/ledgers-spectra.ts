/** The shelf of spectra; only ever added to. */
import type { ParticleId, Sha256, SpectrumFile, SpectrumFileId, StudyId } from '../study/index.ts';

export interface LookAtSpectra {
  readonly spectrumFiles: {
    get(id: SpectrumFileId): Promise<SpectrumFile | null>;
    /** Of particles and known materials of a study, in the order in which they came. */
    ofStudy(study: StudyId): Promise<readonly SpectrumFile[]>;
    ofParticle(particle: ParticleId): Promise<readonly SpectrumFile[]>;
    /** Known materials of the whole laboratory. */
    known(): Promise<readonly SpectrumFile[]>;
    hashes(): Promise<readonly Sha256[]>;
  };
}

export interface WriteSpectra {
  readonly spectrumFiles: LookAtSpectra['spectrumFiles'] & { add(record: SpectrumFile): Promise<void> };
}
