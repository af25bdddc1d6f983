import type { PhotoRegion } from '../../model/dossier.ts';
import { areaOfCorners, boxOfRegion, cornersOfRegion, type Spot } from '../../model/photo-region.ts';
import type { DossierRule } from './context.ts';

/** Tolerance for rounding of positions, percent of a side. */
const SLACK = 0.01;
/** Smallest area, squares of a percent (chosen): a millionth of the photo, ten pixels of 10 megapixels. */
const LEAST_AREA = 0.01;

/** What is wrong with a region, and what to do about it. */
export interface RegionProblem {
  readonly field: 'xywh' | 'polygon';
  readonly what: string;
  readonly fix: string;
}

/** Regions lie on their photos, are not empty, and an outline does not cross itself. */
export const regionsLieOnTheirPhotos: DossierRule = (document, report) => {
  document.dossier.photos.forEach(({ id, regions }, i) => {
    regions.forEach((region, j) => {
      const found = problemOfRegion(region);
      if (!found) return;
      const path = ['photos', i, 'regions', j, found.field];
      report(document, path, `the region of ${region.of} on photo "${id}" ${found.what}`, found.fix);
    });
  });
};

/** The first that is wrong with a region by itself, after the words "the region of U1". */
export function problemOfRegion(region: PhotoRegion): RegionProblem | undefined {
  const { xywh, polygon } = region;
  const field = polygon ? 'polygon' : 'xywh';
  if (xywh && polygon) return { field, what: 'has both xywh and polygon', fix: 'leave one of them out' };
  const corners = cornersOfRegion(region);
  if (polygon) {
    const again = corners.findIndex(([x, y], at) => {
      const [nextX, nextY] = corners[(at + 1) % corners.length] as Spot;
      return x === nextX && y === nextY;
    });
    if (again >= 0)
      return {
        field,
        what: `has the corner ${spotText(corners[again] as Spot)} twice, one after the other`,
        fix: 'give each corner once; the last one is joined to the first by itself',
      };
  }
  const [left, top, width, height] = boxOfRegion(region);
  if (xywh && (width < 0 || height < 0))
    return {
      field,
      what: `has a ${width < 0 ? 'width' : 'height'} below 0`,
      fix: 'write left, top, width, height, in percent of the photo',
    };
  if (left < -SLACK || top < -SLACK || left + width > 100 + SLACK || top + height > 100 + SLACK)
    return {
      field,
      what: `reaches beyond the photo: from ${round(left)} to ${round(left + width)} % of its width and from ${round(top)} to ${round(top + height)} % of its height`,
      fix: xywh
        ? 'write left, top, width, height, in percent of the photo'
        : 'give corners from the left and from the top, in percent of the photo: 0 to 100',
    };
  // Lines that cross first: an outline like an eight may have no area on balance.
  const crossing = polygon && crossingIn(corners);
  if (crossing)
    return {
      field,
      what: `crosses or touches itself: its side from ${sideText(corners, crossing[0])} and that from ${sideText(corners, crossing[1])}`,
      fix: 'give the corners in the order in which a line goes round the region',
    };
  if (areaOfCorners(corners) < LEAST_AREA)
    return {
      field,
      what: 'has no area to speak of, less than a millionth of the photo',
      fix: 'give it a width and a height',
    };
  return undefined;
}

/** Numbers of two sides of a closed outline that meet anywhere but at the corner that neighbours share. */
function crossingIn(corners: readonly Spot[]): readonly [number, number] | undefined {
  const count = corners.length;
  const corner = (at: number) => corners[at % count] as Spot;
  for (let one = 0; one < count; one++)
    for (let other = one + 1; other < count; other++) {
      const [a, b, c, d] = [corner(one), corner(one + 1), corner(other), corner(other + 1)];
      const doMeet =
        other === one + 1
          ? isBack(a, b, d)
          : (other + 1) % count === one
            ? isBack(c, a, b)
            : meet(a, b, c, d);
      if (doMeet) return [one, other];
    }
  return undefined;
}

/** Whether the way from a to b turns back on itself to c. */
function isBack(a: Spot, b: Spot, c: Spot): boolean {
  return turn(a, b, c) === 0 && (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1]) > 0;
}

/** Whether two segments have a point in common (Cormen et al., Introduction to Algorithms, section 33.1). */
function meet(a: Spot, b: Spot, c: Spot, d: Spot): boolean {
  const [ofC, ofD, ofA, ofB] = [turn(a, b, c), turn(a, b, d), turn(c, d, a), turn(c, d, b)];
  if (ofC * ofD < 0 && ofA * ofB < 0) return true;
  return (
    (ofC === 0 && isBetween(a, b, c)) ||
    (ofD === 0 && isBetween(a, b, d)) ||
    (ofA === 0 && isBetween(c, d, a)) ||
    (ofB === 0 && isBetween(c, d, b))
  );
}

/** Side on which c lies of the way from a to b: -1, 1, or 0 for a point on it, with room for the rounding of doubles. */
function turn([ax, ay]: Spot, [bx, by]: Spot, [cx, cy]: Spot): number {
  const twice = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
  return Math.abs(twice) < 1e-10 ? 0 : Math.sign(twice);
}

/** Whether a point on the line through a and b lies between them. */
function isBetween([ax, ay]: Spot, [bx, by]: Spot, [x, y]: Spot): boolean {
  return Math.min(ax, bx) <= x && x <= Math.max(ax, bx) && Math.min(ay, by) <= y && y <= Math.max(ay, by);
}

const round = (share: number) => Number(share.toFixed(2));
const spotText = ([left, top]: Spot) => `[${round(left)}, ${round(top)}]`;
const sideText = (corners: readonly Spot[], at: number) =>
  `${spotText(corners[at] as Spot)} to ${spotText(corners[(at + 1) % corners.length] as Spot)}`;
