/**
 * One process, one photograph: `node bench-times/imaging-run.mjs PHOTO PITCH_MM REPEAT` prints times and peak memory as
 * JSON. It runs the built program, as its users do: a loader that compiles on the way gives every function a name anew, and
 * the engine then compiles it again.
 */
import { decodePhoto, findingCrew, readHead, WHOLE_PIXELS } from '../dist/src/decode/index.js';

const [photo, pitch, repeat] = process.argv.slice(2);
if (!photo || !pitch) throw new RangeError('imaging-run: a photograph and a pitch in mm are needed');

const head = await readHead(photo, photo);
if (!head.ok) throw new Error(head.refusal.message);
const pixels = head.value.width * head.value.height;
const decodes = [];
const totals = [];
const processor = [];
let found = 0;
// As a user's photograph is searched: by the crew, on all cores.
const crew = findingCrew();
for (let i = 0; i < Number(repeat ?? 1); i++) {
  if (pixels <= WHOLE_PIXELS) {
    const started = performance.now();
    const decoded = await decodePhoto(photo, photo, head.value);
    if (!decoded.ok) throw new Error(decoded.refusal.message);
    decodes.push((performance.now() - started) / 1000);
  }
  const before = process.cpuUsage();
  const started = performance.now();
  const searched = await crew.search({
    path: photo,
    name: photo,
    wish: {
      scale: { from: 'printed-grid', pitch: Number(pitch) },
      smallest: null,
      falseFindsPerBlank: 0.5,
    },
  });
  totals.push((performance.now() - started) / 1000);
  const used = process.cpuUsage(before);
  processor.push((used.user + used.system) / 1e6);
  if (!searched.ok) throw new Error(searched.refusal.message);
  found = searched.value.finding.particles.length;
}
await crew.close();
console.log(
  JSON.stringify({
    megapixels: pixels / 1e6,
    decode_s: decodes.length ? Math.min(...decodes) : null,
    total_s: Math.min(...totals),
    processor_s: Math.min(...processor),
    found,
    peak_mb: process.resourceUsage().maxRSS / 1024,
  }),
);
