import { isUnder, PACKING, TERMS } from './taxonomy.ts';

/** Kinds that are not chips: bare, passive or mechanical (common practice, no source). */
const NO_CHIPS = [
  'Passive',
  'Connector',
  'Battery',
  'Antenna',
  'Coil',
  'Button',
  'Shield',
  'OpticalBarrier',
  'Window',
  'Motor',
  'Speaker',
  'Buzzer',
  'Display',
  'FrequencyReference',
  'Diode',
  'Transistor',
  'Emitter',
  'Electrode',
  'TouchPad',
  'Photodiode',
  'BoardFeature',
] as const;

const noChips = new Set(TERMS.filter((term) => NO_CHIPS.some((kind) => isUnder(term, kind))));

/** Whether a term names a function that chips have. */
export function isChipFunction(term: string): boolean {
  return term !== 'Component' && !PACKING.has(term) && !noChips.has(term);
}
