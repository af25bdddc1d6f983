import { fileURLToPath } from 'node:url';
import { Resvg } from '@resvg/resvg-js';
import sharp from 'sharp';

/** Where the chip of {@link chipPhoto} lies, percent of the photo. */
export const CHIP = [30, 30, 24, 22] as const;

/** A board with one chip, 800 by 600 pixels, as PNG. @param turned counter-clockwise, degrees */
export async function chipPhoto(lines: readonly string[], turned: number = 0): Promise<Buffer> {
  const [x, y, w, h] = [240, 180, 192, 132];
  const size = Math.min(44, (Math.round(turned) % 180 === 90 ? w : h) / (1.4 * Math.max(1, lines.length)));
  const texts = lines.map(
    (line, at) => `<text y="${(at - (lines.length - 1) / 2) * 1.3 * size + 0.36 * size}">${line}</text>`,
  );
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="800" height="600"><rect width="800" height="600" fill="#1d3b2c"/><rect x="${x}" y="${y}" width="${w}" height="${h}" fill="#202124"/><g transform="translate(${x + w / 2} ${y + h / 2}) rotate(${-turned})" font-family="DejaVu Sans Mono" font-size="${size}" text-anchor="middle" fill="#b9b9b4">${texts.join('')}</g></svg>`;
  const font = fileURLToPath(import.meta.resolve('dejavu-fonts-ttf/ttf/DejaVuSansMono.ttf'));
  const png = new Resvg(svg, {
    font: { loadSystemFonts: false, fontFiles: [font], defaultFontFamily: 'DejaVu Sans Mono' },
  })
    .render()
    .asPng();
  return sharp(png).removeAlpha().png().toBuffer();
}

/** Mould compound without a mark: grain, a slope of light and a seam; every draw the same. */
export function blankEpoxy(width: number, height: number, seed: number) {
  let bits = seed * 2_654_435_761 + 1;
  const uniform = () => {
    bits ^= bits << 13;
    bits ^= bits >>> 17;
    bits ^= bits << 5;
    return (bits >>> 0) / 2 ** 32;
  };
  const pixels = new Uint8Array(width * height);
  for (let at = 0; at < pixels.length; at++) {
    const [x, y] = [at % width, Math.floor(at / width)];
    const seam = y === Math.floor(height * 0.8) ? 10 : 0;
    pixels[at] = Math.max(0, Math.min(255, 38 + (12 * x) / width + seam + (uniform() + uniform() - 1) * 14));
  }
  return { pixels, width, height };
}
