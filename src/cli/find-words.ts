import type { Finding } from '../science/imaging/finding.ts';

const plural = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
const count = (list: readonly string[]): string => {
  const tally = new Map<string, number>();
  for (const entry of list) tally.set(entry, (tally.get(entry) ?? 0) + 1);
  return [...tally]
    .sort((a, b) => b[1] - a[1])
    .map(([name, n]) => `${n} ${name}`)
    .join(', ');
};

/** What was found on one photograph, in a few lines for a person. */
export function findingWords(name: string, finding: Finding): string {
  const { scale, particles } = finding;
  const lines: string[] = [];
  if (scale) {
    const basis =
      scale.basis === 'printed-grid'
        ? `from the printed grid, ${plural(scale.squares ?? 0, 'whole square')}`
        : 'as given';
    const doubt =
      scale.relativeUncertainty > 0 ? ` ± ${(100 * scale.relativeUncertainty).toPrecision(1)} %` : '';
    lines.push(`  scale ${scale.umPerPx.toPrecision(4)} µm/px${doubt}, ${basis}`);
  }
  if (finding.refusal) lines.push(`  ${finding.refusal.message}`);
  for (const warning of finding.warnings) lines.push(`  Mind: ${warning.message}`);
  const floor = scale
    ? `${Number((finding.floorPx * scale.umPerPx).toPrecision(2))} µm`
    : `${Number(finding.floorPx.toPrecision(2))} px`;
  if (particles.length === 0 && !finding.refusal) {
    lines.push(`  none seen: looked for pieces from ${floor} and found none`);
  }
  if (particles.length > 0) {
    const sizes = particles.map((p) => p.feretMaxUm ?? p.feretMaxPx).sort((a, b) => a - b);
    const unit = scale ? 'µm' : 'px';
    const [least, middle, most] = [sizes[0]!, sizes[Math.floor(sizes.length / 2)]!, sizes.at(-1)!];
    const size = (n: number): string => (n >= 100 ? n.toFixed(0) : n.toPrecision(2));
    lines.push(
      `  ${plural(particles.length, 'particle')} from ${floor}: ${count(particles.map((p) => p.shape))}`,
      `  maximum Feret diameter ${size(least)} to ${size(most)} ${unit}, median ${size(middle)} ${unit}`,
      `  colours: ${count(particles.map((p) => p.colour))}`,
    );
  }
  return [name, ...lines].join('\n');
}
