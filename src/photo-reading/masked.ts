import type { Spot } from '../model/photo-region.ts';
import type { Crop } from './crop.ts';

/**
 * A crop with all that lies outside an outline in one grey, that of the middle of what is inside: marks beside a component are not its own.
 * @param corners of a simple polygon, pixels of the crop
 */
export function masked({ pixels, width, height }: Crop, corners: readonly Spot[]): Crop {
  const inside = new Uint8Array(pixels.length);
  const counts = new Float64Array(256);
  let all = 0;
  for (let y = 0; y < height; y++) {
    const edges = crossings(corners, y + 0.5);
    for (let n = 0; n + 1 < edges.length; n += 2) {
      const from = Math.max(0, Math.ceil(edges[n] - 0.5));
      const to = Math.min(width - 1, Math.floor(edges[n + 1] - 0.5));
      for (let at = y * width + from; at <= y * width + to; at++) {
        inside[at] = 1;
        counts[pixels[at]]++;
        all++;
      }
    }
  }
  let [grey, darker] = [0, counts[0]];
  while (grey < 255 && darker < all / 2) darker += counts[++grey];
  return { pixels: pixels.map((one, at) => (inside[at] === 1 ? one : grey)), width, height };
}

/** Where a row of pixels crosses an outline, from the left; what lies between the first and the second is inside, and so on. */
function crossings(corners: readonly Spot[], y: number): readonly number[] {
  const found: number[] = [];
  for (let i = 0; i < corners.length; i++) {
    const [ax, ay] = corners[i];
    const [bx, by] = corners[(i + 1) % corners.length];
    if (ay > y !== by > y) found.push(ax + ((y - ay) * (bx - ax)) / (by - ay));
  }
  return found.sort((a, b) => a - b);
}
