import type { VISIBILITIES } from './dossier.ts';

/** Who may see a record: all, the desk alone, or all from an instant on. */
export interface Visible {
  readonly visibility: (typeof VISIBILITIES)[number];
  /** End of an embargo, ISO 8601 with zone. */
  readonly embargoUntil?: string | undefined;
}

/** The more public of some: published before embargoed, an embargo that ends sooner before a later one, a draft last. */
export function mostPublic(all: readonly Visible[]): Visible | undefined {
  const [first] = all.toSorted((a, b) => instantOf(a) - instantOf(b));
  if (!first) return undefined;
  const { visibility, embargoUntil } = first;
  return embargoUntil === undefined ? { visibility } : { visibility, embargoUntil };
}

/** Whether one is seen by somebody, at some time, who does not see the other. */
export function isMorePublic(one: Visible, other: Visible): boolean {
  return instantOf(one) < instantOf(other);
}

/** From when on all may see it, in milliseconds; infinite for a draft. */
function instantOf({ visibility, embargoUntil }: Visible): number {
  if (visibility === 'published') return Number.NEGATIVE_INFINITY;
  return visibility === 'embargoed' && embargoUntil !== undefined ? Date.parse(embargoUntil) : Infinity;
}
