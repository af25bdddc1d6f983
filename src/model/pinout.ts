import type { Pin } from './net.ts';

/**
 * Pins that a label of a net or connection means: those of that number, else those of that name. Several pins share a name
 * such as GND; none has it where the pinout is not known, or not whole.
 */
export function pinsMeant(pinout: readonly Pin[] | undefined, label: string): readonly Pin[] {
  const numbered = pinout?.filter(({ number }) => number === label) ?? [];
  return numbered.length > 0 ? numbered : (pinout?.filter(({ name }) => name === label) ?? []);
}

/**
 * One text for the one pin that a label means, whether it is called by number or by name, so that `4` and `SDA` are told to be
 * the same pin.
 * @returns undefined for a name that several pins share: then it is not one pin
 */
export function pinKey(pinout: readonly Pin[] | undefined, label: string): string | undefined {
  const meant = pinsMeant(pinout, label);
  if (meant.length > 1) return undefined;
  return meant[0]?.number ?? label;
}
