/** `retentate find` on the drawn example, against the truth that lies beside each photograph. */
import { mkdir, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writePhoto } from '../../demo/drawing/photo-file.ts';
import { drawPhotograph } from '../../demo/drawing/photograph.ts';
import type { PhotoTruth } from '../../demo/drawing/truth.ts';
import { EXAMPLE_FILTERS } from '../../demo/photographs/index.ts';
import { recipeFor } from '../../demo/photographs/recipe.ts';
import { matchForms, partOf } from '../photos/match.ts';
import { findings, retentate } from './command.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'retentate-example-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('find on the drawn example', () => {
  /** Every second photograph in the order of the list, so that all kinds of runs are there in their shares. */
  const NAMES = EXAMPLE_FILTERS.filter(({ clogged }, at) => at % 2 === 0 && !clogged).map(({ name }) => name);
  const LEAST_UM = 100;

  it(`finds the pieces from ${LEAST_UM} µm, invents few, and reads the scale within 1 %`, async () => {
    const photos = join(folder, 'drawn');
    await mkdir(photos);
    for (const filter of EXAMPLE_FILTERS.filter(({ name }) => NAMES.includes(name))) {
      await writePhoto(join(photos, `${filter.name}.jpg`), drawPhotograph(recipeFor(filter, 1)));
    }
    const { status, out, err } = await retentate(['find', photos, '--pitch', '3.1mm', '--json'], folder);
    expect(err).toBe('');
    expect(status).toBe(0);
    const found = findings(out);
    expect(found.map((f) => f.photo.name)).toEqual(NAMES.map((name) => `${name}.jpg`).sort());
    const sum = { truths: 0, recalled: 0, finds: 0, right: 0 };
    for (const finding of found) {
      const beside = join(photos, finding.photo.name.replace('.jpg', '.truth.json'));
      const truth: PhotoTruth = JSON.parse(await readFile(beside, 'utf8'));
      expect(Math.abs(finding.scale!.um_per_px / truth.scale.um_per_px - 1)).toBeLessThan(0.01);
      const forms = truth.pieces.map((p) => ({
        outline: p.outline_px,
        line: p.fibre_line_px,
        feretPx: p.feret_max_px,
        halfPx: (p.fibre_width_um ?? 0) / 2 / truth.scale.um_per_px,
      }));
      const finds = finding.particles.map((p) => ({ outline: p.outline_px, feretPx: p.feret_max_px }));
      const pairs = matchForms(forms, finds);
      const large = truth.pieces.map((p) => p.feret_max_um >= LEAST_UM);
      const largeFinds = finding.particles.map((p) => p.feret_max_um! >= LEAST_UM);
      sum.truths += large.filter(Boolean).length;
      sum.finds += largeFinds.filter(Boolean).length;
      sum.recalled += pairs.filter((pair) => large[pair.truth]).length;
      // A part of a broken fibre is not invented; that it counts twice is held by the count below.
      const paired = new Set(pairs.map((pair) => pair.find));
      sum.right += finds.filter(
        (find, i) => largeFinds[i] && (paired.has(i) || forms.some((form) => partOf(find, form))),
      ).length;
    }
    expect(sum.truths).toBeGreaterThan(150);
    expect(sum.recalled / sum.truths, `recall ${JSON.stringify(sum)}`).toBeGreaterThanOrEqual(0.9);
    expect(sum.right / sum.finds, `precision ${JSON.stringify(sum)}`).toBeGreaterThanOrEqual(0.9);
    expect(Math.abs(sum.finds / sum.truths - 1), `count ${JSON.stringify(sum)}`).toBeLessThan(0.1);
  });
});
