/**
 * Reference designators: class letters after IEEE 315-1975 (clause 22) / ASME Y14.44-2008, then a number and
 * an optional suffix letter, as printed on boards: `U3`, `MK2`, `C14A`. Letters from memory of the standard.
 */
export const DESIGNATOR_CLASSES = {
  A: 'assembly',
  AT: 'attenuator',
  BT: 'battery',
  C: 'capacitor',
  CB: 'circuit breaker',
  D: 'diode',
  DS: 'display, lamp',
  E: 'antenna or terminal',
  F: 'fuse',
  FL: 'filter',
  J: 'connector, jack',
  K: 'relay',
  L: 'inductor',
  LS: 'loudspeaker',
  M: 'motor',
  MK: 'microphone',
  MP: 'mechanical part',
  P: 'connector, plug',
  Q: 'transistor',
  R: 'resistor',
  RT: 'thermistor',
  S: 'switch',
  T: 'transformer',
  TP: 'test point',
  U: 'integrated circuit',
  W: 'wire, cable',
  X: 'socket',
  Y: 'crystal',
} as const;

export type DesignatorClass = keyof typeof DESIGNATOR_CLASSES;

export interface Designator {
  readonly letters: DesignatorClass;
  readonly number: number;
  readonly suffix: string;
}

const SHAPE = /^([A-Z]{1,2})([1-9]\d{0,4})([A-Z]?)$/u;

/** Splits a reference designator, or undefined when it is none (unknown class letters included). */
export function parseDesignator(text: string): Designator | undefined {
  const match = SHAPE.exec(text);
  if (!match || !Object.hasOwn(DESIGNATOR_CLASSES, match[1])) return undefined;
  return { letters: match[1] as DesignatorClass, number: Number(match[2]), suffix: match[3] };
}

/** The designator in the local id of a component, as printed on the board: `C1` of `main:C1`. */
export function designatorOf(component: string): string {
  return component.slice(component.indexOf(':') + 1);
}

/** Order for lists: by class letters, then number, then suffix, so that U9 comes before U10. */
export function compareDesignators(a: string, b: string): number {
  const first = parseDesignator(designatorOf(a));
  const second = parseDesignator(designatorOf(b));
  if (!first || !second) return a < b ? -1 : a > b ? 1 : 0;
  return (
    (first.letters < second.letters ? -1 : first.letters > second.letters ? 1 : 0) ||
    first.number - second.number ||
    (first.suffix < second.suffix ? -1 : first.suffix > second.suffix ? 1 : 0) ||
    (a < b ? -1 : a > b ? 1 : 0)
  );
}
