import { z } from 'zod';
import { parseDesignator } from '../model/designator.ts';
import { type Component, componentSchema, type Dossier, dossierSchema } from '../model/dossier.ts';
import { isDesignator, NO_DESIGNATOR } from '../model/fields.ts';
import { fixed } from '../text/rounding.ts';
import type { Path } from './document/document.ts';

// Sixteen equal LEDs in a row are one line of a file: `{ id: LED1..LED16, at: { x: 2, y: 5 }, pitch: { x: 2.5, y: 0 } }`. They
// are sixteen components as soon as they are read, and are written as such.

/** Most components that one line of a file may stand for. */
const MOST = 1000;

/** `LED1..LED16`: letters, first number, letters, last number. */
export const ARRAY = /^([A-Z][A-Za-z_$]*)(\d{1,5})\.\.([A-Z][A-Za-z_$]*)(\d{1,5})$/u;

interface DesignatorArray {
  readonly letters: string;
  readonly first: number;
  readonly last: number;
  /** Digits of numbers that are written with leading zeros. */
  readonly digits: number;
}

function parseArray(written: string): DesignatorArray | undefined {
  const found = ARRAY.exec(written);
  if (!found) return undefined;
  const [, letters, from, again, to] = found;
  if (letters !== again || parseDesignator(letters + from) === undefined) return undefined;
  const [first, last] = [Number(from), Number(to)];
  if (last <= first || last - first >= MOST) return undefined;
  return { letters, first, last, digits: from.startsWith('0') ? from.length : 1 };
}

const NO_ARRAY = `is not a valid array of designators; write first and last with the same letters, such as "LED1..LED16", at most ${MOST}`;

/** What a component is called in a file, or several that are equal. */
export const designators = z
  .string()
  .superRefine((written, context) => {
    if (isDesignator(written) || parseArray(written)) return;
    context.addIssue({ code: 'custom', message: written.includes('..') ? NO_ARRAY : NO_DESIGNATOR });
  })
  .describe(
    'Reference designator: class letters, after IEEE 315 or common use, and a number. Of equal components in a row the first and the last: LED1..LED16.',
  );

/** A component as files may say it: one, or several that are equal. */
export const writtenComponentSchema = componentSchema
  .extend({
    id: designators,
    pitch: z
      .strictObject({ x: z.number(), y: z.number() })
      .optional()
      .describe(
        'Of several equal components: from the centre of one to that of the next, mm. "at" is the first.',
      ),
  })
  .superRefine(({ id, at, pitch }, context) => {
    const say = (path: string, message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    if (!id.includes('..')) {
      if (pitch) say('pitch', 'is for several components; write them as id: LED1..LED16, or leave it out');
    } else if (at && !pitch) {
      say('at', 'is the place of all of them; add pitch: { x: …, y: … }, from one to the next');
    } else if (pitch && !at) {
      say('pitch', 'starts nowhere; add "at", the place of the first');
    }
  })
  .describe('A placed component: what was seen of it. Equal ones in a row may be written as one.');

/** A dossier as files may say it. */
export const writtenDossierSchema = dossierSchema
  .extend({ components: z.array(writtenComponentSchema).default([]) })
  .describe(dossierSchema.description ?? '');

/**
 * A dossier with each component by itself.
 * @returns also, where some stood in one line, the way from a path in the dossier to that in the file
 */
export function withSingleComponents(written: z.infer<typeof writtenDossierSchema>): {
  readonly dossier: Dossier;
  readonly written?: (path: Path) => Path;
} {
  if (!written.components.some(({ id }) => id.includes('..'))) return { dossier: written };
  const components: Component[] = [];
  const places: number[] = [];
  written.components.forEach((one, place) => {
    for (const component of singles(one)) {
      components.push(component);
      places.push(place);
    }
  });
  const inFile = ([list, at, ...rest]: Path): Path =>
    list === 'components' && typeof at === 'number' && at < places.length
      ? [list, places[at], ...rest]
      : at === undefined
        ? [list]
        : [list, at, ...rest];
  return {
    dossier: { ...written, components },
    written: (path) => (path.length === 0 ? path : inFile(path)),
  };
}

function singles({ pitch, ...component }: z.infer<typeof writtenComponentSchema>): readonly Component[] {
  const array = parseArray(component.id);
  if (!array) return [component];
  const { letters, first, last, digits } = array;
  return Array.from({ length: last - first + 1 }, (_, i) => {
    const id = `${letters}${String(first + i).padStart(digits, '0')}`;
    const { at } = component;
    if (!at || !pitch) return { ...component, id };
    // Rounded to the nanometre, so that sums of decimals look as one would write them.
    const along = (start: number, step: number) => Number(fixed(start + i * step, 6));
    return { ...component, id, at: { x: along(at.x, pitch.x), y: along(at.y, pitch.y) } };
  });
}
