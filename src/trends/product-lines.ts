import type { Device } from '../model/dossier.ts';
import { clusterSlope } from '../statistics/cluster-slope.ts';
import type { Interval } from '../statistics/proportion.ts';
import type { LineTest } from './answer.ts';

/** A number for the product line of each device; a device of none is a line of its own. */
export function linesOf(devices: readonly Pick<Device, 'id' | 'productLine'>[]): readonly number[] {
  const numbers = new Map<string, number>();
  return devices.map(({ id, productLine }) => {
    // Ids are unique across lines and devices.
    const key = productLine ?? id;
    const number = numbers.get(key) ?? numbers.size;
    numbers.set(key, number);
    return number;
  });
}

/** Whether some devices share a product line, and not all the same one: else lines say no more than devices. */
export function areGrouped(lines: readonly number[]): boolean {
  const different = new Set(lines).size;
  return different > 1 && different < lines.length;
}

/**
 * The test of a slope with product lines as clusters; null where no two devices share a line, or all do.
 * @param slopeInterval of the answer, where it is not that of the values tested
 */
export function lineTest(
  values: readonly number[],
  starts: readonly number[],
  lines: readonly number[],
  slopeInterval?: (designEffect: number, freedom: number) => Interval | null,
): LineTest | null {
  if (!areGrouped(lines)) return null;
  const found = clusterSlope(values, starts, lines);
  if (found.kind === 'no-data') return null;
  const { clusters, t, freedom, p, interval, designEffect } = found;
  return {
    productLines: clusters,
    t,
    degreesOfFreedom: freedom,
    p,
    designEffect,
    slopeInterval: slopeInterval ? slopeInterval(designEffect, freedom) : interval,
  };
}
