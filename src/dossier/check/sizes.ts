import type { Component, Device, Dossier } from '../../model/dossier.ts';
import { deviceIdOf } from '../../model/dossier.ts';
import { areaOf, extentOf } from '../../model/outline.ts';
import { formatQuantity, valueIn } from '../../model/quantity.ts';
import { isOffBoard } from '../../model/taxonomy.ts';
import { significant } from '../../text/rounding.ts';
import type { Path } from '../document/document.ts';
import type { ArchiveRule, DossierRule } from './context.ts';
import { deviceLookup, devicesDescribed } from './described.ts';

// Sizes that nobody can mean. All limits are chosen, no source: far beyond anything that is worn.

/** Longest side that a board or body of a worn device may have, mm. */
const LONGEST = 500;
/** How many diagonals of its board a body may be long, even if it hangs over. */
const DIAGONALS = 10;
/** Heaviest device that is not worth a second look, g. */
const HEAVY = 2000;
/** Density of lead, g/cm³ (from memory). */
const LEAD = 11.3;
/** Tolerance between two measurements. */
const SLACK = 1.05;

const CHECK = 'check the number and its unit, mm';

/** Boards have an area, and bodies are no larger than a board that could carry them. */
export const componentsFitTheirBoard: DossierRule = (document, report) => {
  const { boards, components } = document.dossier;
  const diagonals = new Map<string, { readonly diagonal: number; readonly size: string }>();
  boards.forEach(({ id, outline }, i) => {
    if (!outline) return;
    const { length, width } = extentOf(outline);
    const size = `${rounded(length)} × ${rounded(width)} mm`;
    const path = ['boards', i, 'outline'];
    if (!(areaOf(outline) > 0))
      report(
        document,
        path,
        `board "${id}" has no area (${size})`,
        'give its corners, or leave "outline" out',
      );
    else if (Math.max(length, width) > LONGEST)
      report(document, path, `board "${id}" is ${size} large, more than anything worn`, CHECK);
    else diagonals.set(id, { diagonal: Math.hypot(length, width), size });
  });
  const offBoard = componentsOffBoard(document.dossier);
  components.forEach((component, i) => {
    const { id, body, board } = component;
    if (!body) return;
    const [side, most] = longestOf(body);
    const path = ['components', i, 'body', side];
    const on = board === undefined ? undefined : diagonals.get(board);
    if (on && most > DIAGONALS * on.diagonal)
      report(document, path, `${id} is ${most} mm long, and its board "${board}" ${on.size}`, CHECK);
    else if (most > LONGEST)
      report(document, path, `${id} is ${most} mm long, more than anything worn`, CHECK);
    else if (on && most > on.diagonal && !offBoard.has(id))
      report(
        document,
        path,
        `${id} is ${most} mm long, longer than its board "${board}" (${on.size}) from corner to corner`,
        'check both sizes (mm), unless it stands out from the board',
        'caution',
      );
  });
};

/** A device has a mass and a size; its boards and components fit into it. */
export const devicesHoldTheirBoards: ArchiveRule = (documents, held, report) => {
  for (const { device, document, path } of devicesDescribed(documents).values()) {
    const { mass, dimensions } = device;
    const wrong = (field: readonly string[], what: string, fix: string, severity?: 'caution') =>
      report(document, [...path, ...field], `${device.id} ${what}`, fix, severity);
    const grams = mass && valueIn(mass, 'g');
    if (mass && grams !== undefined && !(grams > 0))
      wrong(['mass'], `has a mass of ${formatQuantity(mass)}`, 'write the mass as weighed, more than 0');
    else if (mass && grams !== undefined && grams > HEAVY)
      wrong(
        ['mass'],
        `weighs ${formatQuantity(mass)}, much for something worn`,
        'check number and unit',
        'caution',
      );
    if (!dimensions) continue;
    const sides = Object.entries(dimensions).map(
      ([side, size]) => [side, size && valueIn(size, 'mm')] as const,
    );
    for (const [side, size] of sides) {
      if (size === undefined) continue;
      if (!(size > 0))
        wrong(['dimensions', side], `is ${rounded(size)} mm in ${side}`, 'write it as measured, more than 0');
      else if (size > LONGEST)
        wrong(
          ['dimensions', side],
          `is ${rounded(size)} mm in ${side}, much for something worn`,
          CHECK,
          'caution',
        );
    }
    const volume = dimensions.height && sides.reduce((product, [, size = 1]) => product * size, 1) / 1000;
    if (volume !== undefined && volume > 0 && grams !== undefined && grams / volume > LEAD)
      wrong(
        ['mass'],
        `is denser than lead: ${formatQuantity(mass as NonNullable<typeof mass>)} in ${rounded(volume)} cm³`,
        'check mass and dimensions, and their units',
        'caution',
      );
  }
  const deviceOf = deviceLookup(documents, held);
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    const diagonal = diagonalOf(deviceOf(deviceIdOf(document.dossier)));
    if (diagonal === undefined) continue;
    const caution = (path: Path, what: string) =>
      report(
        document,
        path,
        `${what}, and the device ${rounded(diagonal)} mm from corner to corner`,
        'check both sizes (mm), unless it lies in strap or case',
        'caution',
      );
    document.dossier.boards.forEach(({ id, kind, outline }, i) => {
      if (!outline || kind === 'flex' || kind === 'rigid-flex') return;
      const { length, width } = extentOf(outline);
      const longest = Math.max(length, width);
      if (longest > diagonal * SLACK && longest <= LONGEST)
        caution(['boards', i, 'outline'], `board "${id}" is ${rounded(longest)} mm long`);
    });
    document.dossier.components.forEach(({ id, body }, i) => {
      if (!body) return;
      const [side, most] = longestOf(body);
      if (most > diagonal * SLACK && most <= LONGEST)
        caution(['components', i, 'body', side], `${id} is ${most} mm long`);
    });
  }
};

function longestOf(body: NonNullable<Component['body']>): readonly ['length' | 'width' | 'height', number] {
  const sides = (['length', 'width', 'height'] as const).map((side) => [side, body[side] ?? 0] as const);
  return sides.reduce((most, one) => (one[1] > most[1] ? one : most));
}

/** Components that may be larger than a board that they are soldered to by a tail, such as displays and cells. */
function componentsOffBoard({ components, identifications }: Dossier): ReadonlySet<string> {
  const may = (term: string | undefined) => term !== undefined && isOffBoard(term);
  return new Set([
    ...components.flatMap(({ id, appears }) => (may(appears) ? [id] : [])),
    ...identifications.flatMap(({ component, candidates }) =>
      // A part's categories are the catalogue's to tell; it gets the benefit of the doubt.
      candidates.some(({ category, part }) => may(category) || part !== undefined) ? [component] : [],
    ),
  ]);
}

/** From corner to corner of the box around a device, mm. */
function diagonalOf(device: Device | undefined): number | undefined {
  const { length, width, height } = device?.dimensions ?? {};
  if (!length || !width) return undefined;
  return Math.hypot(...[length, width, ...(height ? [height] : [])].map((size) => valueIn(size, 'mm')));
}

function rounded(value: number): number {
  return significant(value, 3);
}
