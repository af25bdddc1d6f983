import { fileURLToPath } from 'node:url';
import { Resvg } from '@resvg/resvg-js';
import type { Crop } from '../../src/photo-reading/crop.ts';
import { type Random, seededRandom } from '../../src/statistics/random.ts';

// Codes as a laser writes them on a body, rendered: how characters are misread is counted on these (tests/bench/photo-markings.ts).
// What holds the count to account is drawn by tests/photo-reading/held-out.ts, which shares nothing with this.

/** What may be wrong with a marking. */
export const CONDITIONS = ['clean', 'worn', 'tilted', 'noisy', 'low contrast', 'dots missing'] as const;
export type Condition = (typeof CONDITIONS)[number];

/** Faces by their names, with their files: what a laser writes is plain and mostly of one width. */
export const FACES = {
  'DejaVu Sans Mono': 'DejaVuSansMono.ttf',
  'DejaVu Sans': 'DejaVuSans.ttf',
  'DejaVu Sans Condensed': 'DejaVuSansCondensed.ttf',
  'DejaVu Sans Mono Bold': 'DejaVuSansMono-Bold.ttf',
} as const;
export type Face = keyof typeof FACES;

const CHARACTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789';
const SIGNS = '-./+';

/** Lines of a code: one to three of three to eight characters, each letter and digit as often as any other. */
export function randomCode(random: Random): readonly string[] {
  return Array.from({ length: random.integer(1, 3) }, () => {
    const length = random.integer(3, 8);
    return Array.from({ length }, (_, at) =>
      at > 0 && at < length - 1 && random.chance(0.03)
        ? random.pick([...SIGNS])
        : random.pick([...CHARACTERS]),
    ).join('');
  });
}

export interface Rendered extends Crop {
  readonly lines: readonly string[];
}

/** A code on a body, as a photo shows it. */
export function rendered(face: Face, condition: Condition, seed: number): Rendered {
  const random = seededRandom(seed);
  const lines = randomCode(random);
  const capital = random.integer(12, 34);
  const size = capital / 0.73;
  const longest = Math.max(...lines.map((line) => line.length));
  const width = Math.round(longest * 0.62 * size * between(random, 1.15, 1.6) + 8);
  const height = Math.round(lines.length * 1.25 * size * between(random, 1.1, 1.6) + 6);
  const angle =
    condition === 'tilted' ? between(random, 2, 7) * random.pick([-1, 1]) : between(random, -1, 1);
  const leading = between(random, 1.15, 1.35) * size;
  const texts = lines.map(
    (line, at) =>
      `<text x="0" y="${(at - (lines.length - 1) / 2) * leading + capital / 2}">${escaped(line)}</text>`,
  );
  const weight = /Bold/u.test(face) ? 'bold' : 'normal';
  const family = face.replace(' Bold', '').replace(' Condensed', '');
  const stretch = /Condensed/u.test(face) ? 'condensed' : 'normal';
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><rect width="100%" height="100%" fill="#000"/><g transform="translate(${width / 2} ${height / 2}) rotate(${angle})" font-family="${family}" font-weight="${weight}" font-stretch="${stretch}" font-size="${size}" text-anchor="middle" fill="#fff">${texts.join('')}</g></svg>`;
  const ink = inkOf(svg, FACES[face]);
  const body = between(random, 18, 60);
  const contrast = condition === 'low contrast' ? between(random, 16, 34) : between(random, 70, 170);
  const isDark = random.chance(0.15);
  const noise = condition === 'noisy' ? between(random, 12, 26) : between(random, 1.5, 5);
  const { covered } = ink;
  if (condition === 'worn') wear(covered, width, height, random);
  if (condition === 'dots missing') dot(covered, width, height, capital, random);
  const blurred = softened(covered, width, height);
  const [from, to] = isDark ? [body + contrast, body] : [body, body + contrast];
  const slope = between(random, -0.08, 0.08);
  const pixels = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = y * width + x;
      const shade = 1 + slope * (x / width - 0.5);
      const grain = (random.uniform() + random.uniform() + random.uniform() - 1.5) * 2 * noise;
      pixels[at] = Math.max(0, Math.min(255, (from + (to - from) * blurred[at]) * shade + grain));
    }
  return { pixels, width, height, lines };
}

/** A body without a mark, as a photo shows it: grain, light from one side, and on some a scratch, a seam or the board beside it. */
export function blank(seed: number): Crop {
  const random = seededRandom(`blank ${seed}`);
  const [width, height] = [random.integer(40, 240), random.integer(36, 200)];
  const body = between(random, 20, 70);
  const noise = random.chance(0.5) ? between(random, 1.5, 5) : between(random, 6, 22);
  const slope = between(random, -0.3, 0.3);
  const scratched = new Float32Array(width * height).fill(1);
  if (random.chance(0.4)) wear(scratched, width, height, random);
  const seam = random.chance(0.3) ? random.integer(0, height - 1) : -1;
  const rim = random.chance(0.3) ? random.integer(1, Math.floor(width / 6)) : 0;
  const pixels = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = y * width + x;
      const shade = (1 + slope * (x / width - 0.5)) * (1.6 - 0.6 * scratched[at]);
      const grain = (random.uniform() + random.uniform() + random.uniform() - 1.5) * 2 * noise;
      const beside = x < rim ? 70 : 0;
      pixels[at] = Math.max(0, Math.min(255, (body + beside + (y === seam ? 25 : 0)) * shade + grain));
    }
  return { pixels, width, height };
}

const between = (random: Random, low: number, high: number) => low + (high - low) * random.uniform();
const escaped = (text: string) => text.replace(/[&<>]/gu, (one) => `&#${one.charCodeAt(0)};`);

/** How much of each pixel is covered by ink, 0 to 1. */
function inkOf(svg: string, file: string) {
  const path = fileURLToPath(import.meta.resolve(`dejavu-fonts-ttf/ttf/${file}`));
  const { pixels } = new Resvg(svg, {
    font: { loadSystemFonts: false, fontFiles: [path], defaultFontFamily: 'DejaVu Sans Mono' },
  }).render();
  return { covered: Float32Array.from({ length: pixels.length / 4 }, (_, at) => pixels[at * 4] / 255) };
}

/** Rubs ink off in patches and scratches. */
function wear(covered: Float32Array, width: number, height: number, random: Random): void {
  const patches = random.integer(2, 6);
  for (let n = 0; n < patches; n++) {
    const [cx, cy] = [between(random, 0, width), between(random, 0, height)];
    const radius = between(random, 0.1, 0.3) * Math.min(width, height);
    const left = between(random, 0.1, 0.6);
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const near = 1 - Math.hypot(x - cx, y - cy) / radius;
        if (near > 0) covered[y * width + x] *= 1 - Math.min(1, near * 2) * (1 - left);
      }
  }
  const scratches = random.integer(1, 5);
  for (let n = 0; n < scratches; n++) {
    const [cx, cy, turn] = [
      between(random, 0, width),
      between(random, 0, height),
      between(random, 0, Math.PI),
    ];
    const thick = between(random, 0.5, 1.4);
    const [nx, ny] = [Math.sin(turn), -Math.cos(turn)];
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++)
        if (Math.abs((x - cx) * nx + (y - cy) * ny) < thick) covered[y * width + x] *= 0.25;
  }
}

/** Ink as dots of a laser, some of which are missing. */
function dot(covered: Float32Array, width: number, height: number, capital: number, random: Random): void {
  const pitch = Math.max(2.2, capital / between(random, 7, 10));
  const missing = between(random, 0.05, 0.22);
  const columns = Math.ceil(width / pitch) + 1;
  const gone = Array.from({ length: columns * (Math.ceil(height / pitch) + 1) }, () =>
    random.chance(missing),
  );
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [u, v] = [Math.floor(x / pitch), Math.floor(y / pitch)];
      const off = Math.hypot(x + 0.5 - (u + 0.5) * pitch, y + 0.5 - (v + 0.5) * pitch) / pitch;
      const kept = gone[v * columns + u] ? 0.1 : off < 0.5 ? 1 : 0.55;
      covered[y * width + x] *= kept;
    }
}

/** A lens that is a little soft. */
function softened(covered: Float32Array, width: number, height: number): Float32Array {
  const made = new Float32Array(covered.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let [sum, weight] = [0, 0];
      for (let dy = -1; dy <= 1; dy++)
        for (let dx = -1; dx <= 1; dx++) {
          const [u, v] = [x + dx, y + dy];
          if (u < 0 || v < 0 || u >= width || v >= height) continue;
          const share = (dx === 0 ? 2 : 1) * (dy === 0 ? 2 : 1);
          sum += share * covered[v * width + u];
          weight += share;
        }
      made[y * width + x] = sum / weight;
    }
  return made;
}
