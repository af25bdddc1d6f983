import { circleFrom } from './circle.ts';
import type { ArchiveRule } from './context.ts';
import { deviceLookup, devicesDescribed } from './described.ts';

/** No device succeeds itself, directly or through others. */
export const successionHasNoCircle: ArchiveRule = (documents, held, report) => {
  const deviceOf = deviceLookup(documents, held);
  for (const [id, { document, path }] of devicesDescribed(documents)) {
    const circle = circleFrom(id, (at) => deviceOf(at)?.succeeds ?? []);
    if (!circle) continue;
    const what = `succession goes in a circle: ${circle.join(' > ')}`;
    report(document, [...path, 'succeeds'], what, 'leave one of the steps out');
  }
};
