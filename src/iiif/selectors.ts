import type { PhotoRegion } from '../model/dossier.ts';
import { boxOfRegion, cornersOfRegion, percentFragment, plainNumber } from '../model/photo-region.ts';
import type { Size } from '../photos/sizes.ts';

/** What of a picture is meant (Web Annotation Data Model, section 4.2). */
export type Selector =
  | { readonly type: 'FragmentSelector'; readonly conformsTo: string; readonly value: string }
  | { readonly type: 'SvgSelector'; readonly value: string };

type Region = Pick<PhotoRegion, 'xywh' | 'polygon'>;

/** W3C Media Fragments URI 1.0, as the model names it (section 4.2.1). */
const MEDIA_FRAGMENTS = 'http://www.w3.org/TR/media-frags/';

/**
 * A rectangle as a media fragment, an outline as SVG in pixels of the picture. The grammar of media fragments has whole numbers; shares
 * with decimals are written as they are recorded, which programs read as they read those.
 */
export function selectorOf(region: Region, size: Size): Selector {
  return region.polygon
    ? { type: 'SvgSelector', value: svgOf(region, size) }
    : { type: 'FragmentSelector', conformsTo: MEDIA_FRAGMENTS, value: percentFragment(region) };
}

/** The same in whole pixels, of which a viewer's canvas consists: one wide and high at least. */
export function pixelFragment(region: Region, { width, height }: Size): string {
  const [left, top, wide, high] = boxOfRegion(region);
  const x = Math.round((left / 100) * width);
  const y = Math.round((top / 100) * height);
  const right = Math.round(((left + wide) / 100) * width);
  const bottom = Math.round(((top + high) / 100) * height);
  return `xywh=${x},${y},${Math.max(1, right - x)},${Math.max(1, bottom - y)}`;
}

/** An outline as SVG 1.1 in pixels of the picture: one polygon of numbers alone, so that nothing in it can run or load. */
export function svgOf(region: Region, { width, height }: Size): string {
  const points = cornersOfRegion(region).map(
    ([left, top]) => `${plainNumber((left / 100) * width)},${plainNumber((top / 100) * height)}`,
  );
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}"><polygon points="${points.join(' ')}"/></svg>`;
}
