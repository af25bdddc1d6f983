import type { PhotoRegion } from './dossier.ts';

/** A place on a photo: from the left and from the top, in percent of its width and height. */
export type Spot = readonly [left: number, top: number];
/** Left, top, width, height in percent of a photo. */
export type Box = readonly [left: number, top: number, width: number, height: number];

/** Corners of a region one after the other, those of a rectangle clockwise from its left upper one. */
export function cornersOfRegion({ xywh, polygon }: Pick<PhotoRegion, 'xywh' | 'polygon'>): readonly Spot[] {
  if (polygon) return polygon;
  if (!xywh) return [];
  const [left, top, width, height] = xywh;
  return [
    [left, top],
    [left + width, top],
    [left + width, top + height],
    [left, top + height],
  ];
}

/** The smallest upright rectangle that holds a region, percent. */
export function boxOfRegion(region: Pick<PhotoRegion, 'xywh' | 'polygon'>): Box {
  if (region.xywh && !region.polygon) return region.xywh;
  const corners = cornersOfRegion(region);
  const left = Math.min(...corners.map(([x]) => x));
  const top = Math.min(...corners.map(([, y]) => y));
  return [
    left,
    top,
    shareBetween(left, Math.max(...corners.map(([x]) => x))),
    shareBetween(top, Math.max(...corners.map(([, y]) => y))),
  ];
}

/** Fifteen digits drop the binary rounding error of a difference: 30.1 - 10 is 20.1. */
function shareBetween(least: number, most: number): number {
  return Number((most - least).toPrecision(15));
}

/** The upright rectangle round a region as a media fragment in percent (W3C Media Fragments URI 1.0, section 4.2.2). */
export function percentFragment(region: Pick<PhotoRegion, 'xywh' | 'polygon'>): string {
  return `xywh=percent:${boxOfRegion(region).map(plainNumber).join(',')}`;
}

/** A number without an exponent, which neither media fragments nor lists of points in every SVG reader have; to a millionth. */
export function plainNumber(number: number): string {
  return String(Number(number.toFixed(6)));
}

/** Area of a simple polygon in squares of its unit (the shoelace formula, Meister 1769), whichever way round it is written. */
export function areaOfCorners(corners: readonly Spot[]): number {
  const twice = corners.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = corners[(i + 1) % corners.length] as Spot;
    return sum + x * nextY - nextX * y;
  }, 0);
  return Math.abs(twice) / 2;
}

/** How a region names a step of the teardown: by its place in the order, from 1. */
export function stepName(number: number): string {
  return `step-${number}`;
}

/** The place of the step that a region names, from 1; undefined where it is no name of a step. */
export function stepNumber(of: string): number | undefined {
  const found = /^step-([1-9]\d{0,5})$/u.exec(of)?.[1];
  return found === undefined ? undefined : Number(found);
}
