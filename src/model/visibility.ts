import { z } from 'zod';
import { instant } from './fields.ts';

export const VISIBILITIES = ['published', 'draft', 'embargoed'] as const;
export type Visibility = (typeof VISIBILITIES)[number];

/** Fields of what may be hidden by itself. Where nothing is said it is as public as what it stands in. */
export const visibleFields = {
  visibility: z
    .enum(VISIBILITIES)
    .optional()
    .describe(
      'Who may see it: all (published), the desk alone (draft), or all from `embargoUntil` on (embargoed).',
    ),
  embargoUntil: instant.optional().describe('End of the embargo.'),
};

/** Who may see a record: all, the desk alone, or all from an instant on. Where nothing is said, all. */
export interface Visible {
  readonly visibility?: Visibility | undefined;
  /** End of an embargo, ISO 8601 with zone. */
  readonly embargoUntil?: string | undefined;
}

/** Whether readers may see something at an instant (ISO 8601). */
export function isOpen(thing: Visible, now: string): boolean {
  const from = instantOf(thing);
  return from === Number.NEGATIVE_INFINITY || from <= Date.parse(now);
}

/** The more public of some: published before embargoed, an embargo that ends sooner before a later one, a draft last. */
export function mostPublic(
  all: readonly Visible[],
): { readonly visibility: Visibility; readonly embargoUntil?: string } | undefined {
  const [first] = all.toSorted((a, b) => instantOf(a) - instantOf(b));
  if (!first) return undefined;
  const { visibility = 'published', embargoUntil } = first;
  return embargoUntil === undefined ? { visibility } : { visibility, embargoUntil };
}

/** Whether one is seen by somebody, at some time, who does not see the other. */
export function isMorePublic(one: Visible, other: Visible): boolean {
  return instantOf(one) < instantOf(other);
}

/** Whether something may be hidden from readers at some time. */
export function isMarked({ visibility }: Visible): boolean {
  return visibility !== undefined && visibility !== 'published';
}

/** Who may see a thing, and nothing else of it. */
export function visibleOf({ visibility, embargoUntil }: Visible): Visible {
  return embargoUntil === undefined ? { visibility } : { visibility, embargoUntil };
}

/** A thing without what it says of who may see it. */
export function unmarked<T extends Visible>(thing: T): Omit<T, 'visibility' | 'embargoUntil'> {
  const { visibility: _, embargoUntil: __, ...rest } = thing;
  return rest;
}

/** From when on all may see it, in milliseconds; infinite for a draft. */
function instantOf({ visibility = 'published', embargoUntil }: Visible): number {
  if (visibility === 'published') return Number.NEGATIVE_INFINITY;
  return visibility === 'embargoed' && embargoUntil !== undefined ? Date.parse(embargoUntil) : Infinity;
}
