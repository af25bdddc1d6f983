import { createRequire } from 'node:module';
import { Resvg } from '@resvg/resvg-js';

// What stands in a drawing, read back from its SVG; the boxes that letters fill come from resvg, a renderer of SVG with a text
// layout of its own, and the files of the face.

const require = createRequire(import.meta.url);
const font = {
  fontFiles: ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'].map((file) =>
    require.resolve(`dejavu-fonts-ttf/ttf/${file}`),
  ),
  loadSystemFonts: false,
  defaultFontFamily: 'DejaVu Sans',
};

export type Xy = readonly [number, number];

export interface Element {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Text up to the next tag, entities as written. */
  readonly text: string;
}

/** Elements in order; the writer of drawings puts no `>` into attributes. */
export function elementsOf(svg: string): readonly Element[] {
  return [...svg.matchAll(/<([a-z]\w*)((?:\s+[\w:-]+="[^"]*")*)\s*\/?>([^<]*)/gu)].map(
    ([, name, attributes, text]) => ({
      name,
      attributes: Object.fromEntries(
        [...attributes.matchAll(/([\w:-]+)="([^"]*)"/gu)].map(([, key, value]) => [key, value]),
      ),
      text,
    }),
  );
}

/** Corners of the first path that stands for something. */
export function cornersOf(svg: string, of: string): readonly Xy[] {
  const found = elementsOf(svg).find(
    ({ name, attributes }) => name === 'path' && attributes['data-of'] === of,
  );
  return pointsOf(found?.attributes.d ?? '');
}

export function pointsOf(d: string): readonly Xy[] {
  return [...d.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/gu)].map(([, x, y]) => [Number(x), Number(y)]);
}

export function middleOf(points: readonly Xy[]): Xy {
  const sum = points.reduce(([x, y], [px, py]) => [x + px, y + py], [0, 0]);
  return [sum[0] / points.length, sum[1] / points.length];
}

export interface Lettered {
  readonly of: string | undefined;
  readonly text: string;
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** Every text with the box that its letters fill, mm. */
export function lettersOf(svg: string): readonly Lettered[] {
  return elementsOf(svg)
    .filter(({ name }) => name === 'text')
    .map(({ attributes, text }) => {
      const { x, y, 'font-size': size, 'font-weight': weight = 'normal', 'data-of': of } = attributes;
      // Large, since resvg takes lengths as pixels and rounds glyph hints by them.
      const drawn = `<svg xmlns="http://www.w3.org/2000/svg" width="6000" height="6000" viewBox="0 0 600 600"><text x="0" y="300" font-family="DejaVu Sans" font-size="${Number(size) * 10}" font-weight="${weight}">${text}</text></svg>`;
      const box = new Resvg(drawn, { font }).getBBox();
      if (!box) throw new Error(`resvg draws nothing for ${text}`);
      return {
        of,
        text,
        left: Number(x) + box.x / 10,
        right: Number(x) + (box.x + box.width) / 10,
        top: Number(y) + (box.y - 300) / 10,
        bottom: Number(y) + (box.y - 300 + box.height) / 10,
      };
    });
}

/** How far two boxes overlap, mm; 0 or less where they do not. */
export function overlapOf(a: Omit<Lettered, 'of' | 'text'>, b: Omit<Lettered, 'of' | 'text'>): number {
  return Math.min(a.right - b.left, b.right - a.left, a.bottom - b.top, b.bottom - a.top);
}
