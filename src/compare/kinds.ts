import { isUnder, PACKING, TERMS } from '../model/taxonomy.ts';
import type { LabelWeights } from '../state/labels.ts';

/** Kinds that are not chips: bare, passive or mechanical (common practice, no source). */
const NO_CHIPS = [
  'Passive',
  'Connector',
  'Battery',
  'Antenna',
  'Coil',
  'Button',
  'Shield',
  'LightBarrier',
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
  'Photodiode',
] as const;

const noChips = new Set(TERMS.filter((term) => NO_CHIPS.some((kind) => isUnder(term, kind))));

/** Whether a term names a function that chips have. */
export function isChipFunction(term: string): boolean {
  return term !== 'Component' && !PACKING.has(term) && !noChips.has(term);
}

/** How sure it is that the kind of a component is known, beyond that it is one: 0 to 1. */
export function knownKind(labels: LabelWeights): number {
  let most = 0;
  for (const [term, weight] of labels) {
    if (weight > most && term !== 'Component' && !PACKING.has(term)) most = weight;
  }
  return most;
}
