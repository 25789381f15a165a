/** A plain picture of a printed filter with so many dark pieces on it: quickly drawn, and easy for the program to search. */
import sharp from 'sharp';

const WIDTH = 1300;
const HEIGHT = 1000;
/** Printed squares of 3.1 mm at 10 µm a pixel. */
const PITCH = 310;

export async function plainFilter(pieces: number, seed: number): Promise<Buffer> {
  const at = (n: number): number => {
    const x = Math.sin(seed * 97.3 + n * 12.9898) * 43_758.5453;
    return x - Math.floor(x);
  };
  const lines = [0, 1, 2, 3, 4]
    .map((k) => `<path d="M${60 + k * PITCH} 0V${HEIGHT}M0 ${40 + k * PITCH}H${WIDTH}"/>`)
    .join('');
  const dots = Array.from({ length: pieces }, (_, n) => {
    const x = 60 + (n % 4) * PITCH + 60 + at(n) * 170;
    const y = 40 + (Math.floor(n / 4) % 3) * PITCH + 50 + at(n + 50) * 170;
    const r = 14 + at(n + 99) * 10;
    return `<ellipse cx="${x}" cy="${y}" rx="${r}" ry="${r * 0.7}"/>`;
  }).join('');
  const drawn = `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}">
    <rect width="100%" height="100%" fill="#e9ebe6"/>
    <g stroke="#9aa39a" stroke-width="7">${lines}</g><g fill="#1d4f8c">${dots}</g></svg>`;
  const grain = await sharp({
    create: {
      width: WIDTH,
      height: HEIGHT,
      channels: 3,
      background: 'grey',
      noise: { type: 'gaussian', mean: 128, sigma: 8 },
    },
  })
    .png()
    .toBuffer();
  return sharp(Buffer.from(drawn))
    .blur(1)
    .composite([{ input: grain, blend: 'soft-light' }])
    .jpeg({ quality: 92 })
    .toBuffer();
}
