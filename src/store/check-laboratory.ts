/** Goes through a laboratory: every original against its hash, every record against what it names. */
import type { PhotoFiles, Records } from '../actions/index.ts';
import { marksByParticle, standingAfter } from '../study/index.ts';

export interface Problem {
  readonly why:
    | 'original-missing'
    | 'original-changed'
    | 'original-without-record'
    | 'standing-differs'
    | 'numbers-missing';
  readonly message: string;
}

export interface CheckReport {
  readonly photos: number;
  readonly originals: number;
  readonly findings: number;
  readonly particles: number;
  readonly marks: number;
  /** Originals that no record names: left by a process that was killed between the two; harmless. */
  readonly unnamed: readonly string[];
  readonly problems: readonly Problem[];
}

/** Verifies an open laboratory; `told` hears how many of how many photos are done. */
export async function checkOpen(
  { records, files }: { readonly records: Records; readonly files: PhotoFiles },
  told: (done: number, of: number) => void = () => {},
): Promise<CheckReport> {
  const problems: Problem[] = [];
  const studies = await records.look((look) => look.studies.list());
  const originals = new Set(await files.list());
  const photos = (
    await Promise.all(studies.map((study) => records.look((look) => look.photos.everOfStudy(study.id))))
  ).flat();
  const counted = { findings: 0, particles: 0, marks: 0 };
  for (const [at, photo] of photos.entries()) {
    const state = await files.verify(photo.sha256);
    originals.delete(photo.sha256);
    if (state === 'missing') {
      problems.push({
        why: 'original-missing',
        message: `The original of “${photo.name}” (${photo.sha256}) is missing; put it back from your backup.`,
      });
    } else if (state === 'changed') {
      problems.push({
        why: 'original-changed',
        message: `The original of “${photo.name}” (${photo.sha256}) is not what was brought in; put it back from your backup.`,
      });
    }
    const marks = await records.look((look) => look.marks.ofPhoto(photo.id));
    const touching = marksByParticle(marks);
    counted.marks += marks.length;
    for (const finding of await records.look((look) => look.findings.ofPhoto(photo.id))) {
      counted.findings += 1;
      const particles = await records.look((look) => look.particles.ofFinding(finding.id));
      counted.particles += particles.length;
      if (particles.some((particle, index) => particle.number !== index + 1)) {
        problems.push({
          why: 'numbers-missing',
          message: `On “${photo.name}” the particles are not numbered through; some are missing.`,
        });
      }
      for (const particle of particles) {
        const should = standingAfter(particle, touching.get(particle.id) ?? [], marks);
        if (
          should.standing !== particle.standing ||
          should.shapeNow !== particle.shapeNow ||
          should.colourNow !== particle.colourNow
        ) {
          problems.push({
            why: 'standing-differs',
            message: `Particle ${particle.number} on “${photo.name}” does not stand as its marks say.`,
          });
        }
      }
    }
    told(at + 1, photos.length);
  }
  // Originals besides photographs of filters: pictures of set-ups and of tests, spectra.
  const others = new Set(
    await records.look(async (look) => [
      ...(await look.setupPhotos.hashes()),
      ...(await look.testPictures.hashes()),
      ...(await look.spectrumFiles.hashes()),
    ]),
  );
  for (const sha256 of others) {
    originals.delete(sha256);
    const state = await files.verify(sha256);
    if (state === 'sound') continue;
    problems.push({
      why: state === 'missing' ? 'original-missing' : 'original-changed',
      message: `The original ${sha256} (a picture of a set-up or a test, or a spectrum) is ${state}; put it back from your backup.`,
    });
  }
  return {
    photos: photos.length,
    originals: photos.length + others.size + originals.size,
    ...counted,
    unnamed: [...originals],
    problems,
  };
}
