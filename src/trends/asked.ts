import type { Subject } from './subject.ts';

// The closed lists of words that a question about a trend is made of, whoever asks. Nothing else is loaded with them.

/** How time is divided. */
export const PERIOD_LENGTHS = ['year', 'half-year', 'quarter'] as const;
export type PeriodLength = (typeof PERIOD_LENGTHS)[number];

/** By what devices are grouped. */
export const FACETS = ['body-site', 'maker', 'price-band'] as const;
export type FacetName = (typeof FACETS)[number];

/** Quantities of a device itself. */
export const DEVICE_QUANTITIES = ['mass', 'price', 'length', 'width', 'height'] as const;
export type DeviceQuantity = (typeof DEVICE_QUANTITIES)[number];

type KindOf<T> = T extends unknown ? keyof T : never;
type SubjectKind = KindOf<Subject>;
/** Not a list, so that a missing kind does not compile. */
const SUBJECTS: Readonly<Record<SubjectKind, true>> = {
  pattern: true,
  decision: true,
  category: true,
  maker: true,
  part: true,
  text: true,
};
/** What devices may have: the kinds of a {@link Subject}. */
export const SUBJECT_KINDS = Object.keys(SUBJECTS) as readonly SubjectKind[];
