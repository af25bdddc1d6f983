import type { AskedLength } from '../../measurement/known-lengths.ts';
import type { Spot } from '../../measurement/measure.ts';
import type { PhotoPoint, PhotoRegion } from '../../model/dossier.ts';
import type { AskedBody } from '../../questions/measurement.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { type Option, readBy } from '../frame/options.ts';

// Places on a photo as command lines have them: `48.2,31.5` is percent from the left and from the top; blanks join the places of one thing,
// semicolons part one thing from the next.

/** `7.46,68.98=-2.9,-2.9; 94,74.15=60.9,-2.9 +- 0.05` */
export const POINTS: Option<readonly PhotoPoint[] | undefined> = readBy(
  'POINTS',
  'points of known position: "LEFT,TOP=X,Y; ..." in percent of the photo and mm on the board seen from its top side, with "+- MM" behind one that is not exact',
  (written, option) =>
    things(written).map((one) => {
      const [spot, mm, ...more] = one.split('=');
      if (mm === undefined || more.length > 0)
        throw notSo(option, one, 'LEFT,TOP=X,Y, such as 7.46,68.98=-2.9,-2.9');
      const [place, within] = mm.split(/\+-|±/u);
      const [x, y] = numbers(place, 2, option, one);
      return {
        at: [...spotIn(spot, option, one)] as [number, number],
        mm: [x, y] as [number, number],
        ...(within === undefined ? {} : { within: numbers(within, 1, option, one)[0] }),
      };
    }),
);

export const PLACES: Option<readonly Spot[] | undefined> = readBy(
  'PLACES',
  'places to measure: "LEFT,TOP; ..." in percent of the photo',
  (written, option) => things(written).map((one) => spotIn(one, option, one)),
);

/** `10,20 40,20; 10,20 10,60=25 +- 0.1` */
export const LENGTHS: Option<readonly AskedLength[] | undefined> = readBy(
  'LENGTHS',
  'lengths to measure: "LEFT,TOP LEFT,TOP; ..."; with "=MM" or "=MM +- MM" behind one that a ruler or caliper tells, which checks the scale',
  (written, option) =>
    things(written).map((one) => {
      const [ends, known, ...more] = one.split('=');
      const spots = ends.trim().split(/\s+/u);
      if (spots.length !== 2 || more.length > 0)
        throw notSo(option, one, 'LEFT,TOP LEFT,TOP, such as 10,20 40,20');
      const [from, to] = spots.map((spot) => spotIn(spot, option, one));
      if (known === undefined) return { from, to };
      const [is, within] = known.split(/\+-|±/u).map((part) => numbers(part, 1, option, one)[0]);
      if (!(is > 0)) throw notSo(option, one, 'a known length above 0 mm');
      return { from, to, is, within };
    }),
);

/** `10,20 40,20 40,50 10,50; 20,20,10,5 @ 90` */
export const BODIES: Option<readonly AskedBody[] | undefined> = readBy(
  'BODIES',
  'bodies to measure: corners in order, "LEFT,TOP LEFT,TOP ...; ...", or the upright box around one, "LEFT,TOP,WIDTH,HEIGHT", with "@ DEGREES" for its rotation',
  (written, option) =>
    things(written).map((one): AskedBody => {
      const [drawn, turn] = one.split('@');
      const rotation = turn === undefined ? {} : { rotation: numbers(turn, 1, option, one)[0] };
      const groups = drawn.trim().split(/\s+/u);
      if (groups.length === 1) {
        const [left, top, width, height] = numbers(groups[0], 4, option, one);
        return { xywh: [left, top, width, height], ...rotation };
      }
      return { corners: groups.map((spot) => spotIn(spot, option, one)), ...rotation };
    }),
);

/** `U1=20,20,10,5; C4=40,40,3,2` */
export const REGIONS: Option<readonly PhotoRegion[] | undefined> = readBy(
  'REGIONS',
  'what the photo shows where: "ID=LEFT,TOP,WIDTH,HEIGHT; ..." in percent of the photo, or the corners of an outline, "ID=LEFT,TOP LEFT,TOP LEFT,TOP"',
  (written, option) =>
    things(written).map((one) => {
      const cut = one.indexOf('=');
      if (cut < 1) throw notSo(option, one, 'ID=LEFT,TOP,WIDTH,HEIGHT, such as U1=20,20,10,5');
      const of = one.slice(0, cut).trim();
      const groups = one
        .slice(cut + 1)
        .trim()
        .split(/\s+/u);
      if (groups.length > 1)
        return { of, polygon: groups.map((spot) => [...spotIn(spot, option, one)] as [number, number]) };
      const [left, top, width, height] = numbers(groups[0], 4, option, one);
      return { of, xywh: [left, top, width, height] as [number, number, number, number] };
    }),
);

function things(written: string): readonly string[] {
  return written
    .split(';')
    .map((one) => one.trim())
    .filter((one) => one !== '');
}

function spotIn(written: string, option: string, whole: string): Spot {
  const [left, top] = numbers(written, 2, option, whole);
  return [left, top];
}

function numbers(written: string, count: number, option: string, whole: string): readonly number[] {
  const parts = written.split(',').map((part) => part.trim());
  const found = parts.map((part) => (part === '' ? Number.NaN : Number(part)));
  if (found.length !== count || !found.every(Number.isFinite))
    throw notSo(
      option,
      whole,
      `${count === 1 ? 'a number' : `${count} numbers joined by commas`} in place of "${written.trim().slice(0, 40)}"`,
    );
  return found;
}

function notSo(option: string, written: string, want: string): UsageError {
  return new UsageError(`${option}: ${quoted(written)} is not valid; write ${want}`);
}
