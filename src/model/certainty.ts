/**
 * At or above this probability a label counts as certain: the lower edge of "extremely likely" on the
 * calibrated scale of Mastrandrea et al. 2010.
 */
export const CERTAIN = 0.95;

/** At or above this probability, and below {@link CERTAIN}, something is possible (chosen: one case in twenty). */
export const POSSIBLE = 0.05;

/** Whether something is soldered to its place. */
export function isFitted({ fitted }: { readonly fitted?: boolean | undefined }): boolean {
  return fitted !== false;
}
