/** Texts by their language (IIIF Presentation API 3.0, section 4.1). */
export type Words = Readonly<Record<string, readonly string[]>>;

/** Words of our own. */
export const english = (...texts: readonly string[]): Words => ({ en: texts.map(asText) });

/** Words as they are recorded, in whatever language. */
export const asRecorded = (...texts: readonly string[]): Words => ({ none: texts.map(asText) });

/**
 * A text that no viewer takes for HTML: what begins with `<` and ends with `>` would be, and the specification has a space behind it for
 * that (section 4.4). A half of a surrogate pair is no character and stands in no JSON that others read.
 */
function asText(text: string): string {
  const whole = text.toWellFormed();
  return /^\s*<.*>$/su.test(whole) ? `${whole} ` : whole;
}
