import type { PhotoRegion } from '../model/dossier.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { boxOfRegion } from '../model/photo-region.ts';
import { digestOf } from './bytes.ts';
import { LONGER_SIDES, type Size } from './sizes.ts';

/** A region of a picture by itself, scaled down to the size of a thumbnail where it is larger. */
export interface Crop {
  /** Of the picture and the place alone, so that the same is under it for ever: 24 hexadecimal digits. */
  readonly name: string;
  /** What of the upright picture, whole pixels. */
  readonly from: { readonly left: number; readonly top: number } & Size;
  /** Size of the crop, pixels. */
  readonly size: Size;
}

/** The crop of a region: every pixel that it touches. Of an outline, the upright rectangle round it. */
export function cropOf(
  { width, height, served }: PhotoFile,
  region: Pick<PhotoRegion, 'xywh' | 'polygon'>,
): Crop {
  const [x, y, w, h] = boxOfRegion(region);
  const [left, right] = span(x, x + w, width);
  const [top, bottom] = span(y, y + h, height);
  const from = { left, top, width: right - left, height: bottom - top };
  const scale = Math.min(1, LONGER_SIDES[0] / Math.max(from.width, from.height));
  const place = [left, top, from.width, from.height].join(',');
  return {
    name: digestOf(Buffer.from(`${served.sha256} ${place}`)).slice(0, 24),
    from,
    size: {
      width: Math.max(1, Math.round(from.width * scale)),
      height: Math.max(1, Math.round(from.height * scale)),
    },
  };
}

/** Pixels from one share to another, percent; one at least, and none beyond the picture, whatever is recorded. */
function span(from: number, to: number, pixels: number): readonly [number, number] {
  const at = (share: number) => Number(((share / 100) * pixels).toFixed(6));
  const least = Math.min(Math.max(Math.floor(at(from)), 0), pixels - 1);
  return [least, Math.min(Math.max(Math.ceil(at(to)), least + 1), pixels)];
}
