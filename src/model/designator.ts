/**
 * Class letters of reference designators after IEEE 315-1975 (clause 22.4) / ASME Y14.44-2008, as a list published after it has
 * them (tests/reference/class-letters.json); those that the list lacks are from memory of the standard.
 */
export const STANDARD_LETTERS = {
  A: 'assembly',
  AT: 'attenuator',
  B: 'motor, fan',
  BT: 'battery',
  C: 'capacitor',
  CB: 'circuit breaker',
  CR: 'diode',
  D: 'diode',
  DC: 'directional coupler',
  DS: 'display, LED',
  E: 'antenna or terminal',
  F: 'fuse',
  FL: 'filter',
  G: 'oscillator',
  H: 'hardware',
  J: 'connector, jack',
  K: 'relay',
  L: 'inductor',
  LS: 'loudspeaker',
  M: 'meter',
  MK: 'microphone',
  MP: 'mechanical part',
  P: 'connector, plug',
  PS: 'power supply',
  Q: 'transistor',
  R: 'resistor',
  RT: 'thermistor',
  RV: 'varistor',
  S: 'switch',
  T: 'transformer',
  TB: 'terminal block',
  U: 'integrated circuit',
  VR: 'voltage regulator',
  W: 'wire, cable',
  X: 'socket',
  Y: 'crystal',
  Z: 'network',
} as const;

/** Letters in common use beside the standard's, or with another meaning (common practice, no source). */
export const COMMON_LETTERS = {
  AE: 'antenna',
  ANT: 'antenna',
  BAT: 'battery',
  BZ: 'buzzer',
  CN: 'connector',
  CON: 'connector',
  FB: 'ferrite bead',
  FD: 'fiducial',
  FID: 'fiducial',
  IC: 'integrated circuit',
  JP: 'jumper',
  JMP: 'jumper',
  LD: 'LED',
  LED: 'LED',
  M: 'motor',
  MH: 'mounting hole',
  MIC: 'microphone',
  MOD: 'module',
  NTC: 'thermistor',
  PD: 'photodiode',
  RN: 'resistor network',
  RP: 'resistor network',
  SB: 'solder bridge',
  SJ: 'solder bridge',
  SP: 'loudspeaker',
  SW: 'switch',
  TH: 'thermistor',
  TP: 'test point',
  TVS: 'surge protector',
  USB: 'connector',
  XTAL: 'crystal',
} as const;

export interface Designator {
  /** Class letters as written, such as `U`, `MK`, `U$`. */
  readonly letters: string;
  /** 0 for a designator without a number, such as `ANT`. */
  readonly number: number;
  readonly suffix: string;
}

/** What a designator is made of: a capital letter, then up to 19 letters, digits and `_ $ + -`. */
export const DESIGNATOR = /^[A-Z][A-Za-z0-9_$+-]{0,19}$/u;
const STEPS = /^([A-Z][A-Za-z_$]*)(\d*)(.*)$/u;

/** Splits a reference designator, or undefined when it is none. Any letters are taken: see {@link classOf}. */
export function parseDesignator(text: string): Designator | undefined {
  if (!DESIGNATOR.test(text)) return undefined;
  const [, letters, number, suffix] = STEPS.exec(text) as RegExpExecArray;
  return { letters, number: Number(number), suffix };
}

/** What class letters stand for, in common use first, since that is what boards have; undefined for unknown letters. */
export function classOf(
  letters: string,
): { readonly meaning: string; readonly source: 'IEEE 315' | 'common use' } | undefined {
  const bare = letters.replace(/[$_].*$/u, '').toUpperCase();
  if (Object.hasOwn(COMMON_LETTERS, bare))
    return { meaning: COMMON_LETTERS[bare as keyof typeof COMMON_LETTERS], source: 'common use' };
  if (Object.hasOwn(STANDARD_LETTERS, bare))
    return { meaning: STANDARD_LETTERS[bare as keyof typeof STANDARD_LETTERS], source: 'IEEE 315' };
  return undefined;
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
