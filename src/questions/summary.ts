import { COLLECTIONS } from '../model/catalogue.ts';
import { yearOf } from '../model/dates.ts';
import { isOpen, type Visible } from '../model/visibility.ts';
import { countedIn } from '../state/lists/component-columns.ts';
import type { State } from '../state/state.ts';
import { isRecalled } from '../state/visibility/audience.ts';

/** Counts of what the state may see of the archive. */
export interface Summary {
  readonly devices: number;
  readonly specimens: number;
  readonly components: number;
  readonly parts: number;
  readonly makers: number;
  readonly productLines: number;
  readonly publications: number;
  readonly patterns: number;
  readonly firstYear: number | null;
  readonly lastYear: number | null;
  readonly inventedDevices: number;
}

export function summaryOf(state: State): Summary {
  const devices = [...state.devices()];
  const years = devices.map(({ released }) => yearOf(released));
  let specimens = 0;
  let components = 0;
  for (const { columns } of state.specimenRows()) {
    specimens++;
    components += countedIn(columns);
  }
  return {
    devices: devices.length,
    specimens,
    components,
    parts: state.parts().length,
    makers: state.makers().length,
    productLines: state.productLines().length,
    publications: state.publications().length,
    patterns: state.patterns().length,
    firstYear: years.length > 0 ? years.reduce((a, b) => Math.min(a, b)) : null,
    lastYear: years.length > 0 ? years.reduce((a, b) => Math.max(a, b)) : null,
    inventedDevices: devices.filter(({ invented }) => invented).length,
  };
}

/**
 * How many things a state of the desk has that readers do not see as they stand: drafts, what is under embargo, and what was
 * recalled, of devices, specimens, other records, sentences, identifications and corrections. What stands in a hidden record
 * or dossier is not counted beside it.
 */
export function unseenByReaders(state: State): number {
  const { now } = state;
  const wasRecalled = (id: string) => isRecalled(state.facts, id);
  const isHidden = (one: Visible & { readonly id: string }) => !isOpen(one, now) || wasRecalled(one.id);
  const countHidden = (all: readonly Visible[]) => all.filter((one) => !isOpen(one, now)).length;
  const hidden = new Set<string>();
  let within = 0;
  for (const { id } of state.devices()) {
    const record = state.deviceRecord(id);
    const specimens = [...state.specimensOf(id)];
    for (const specimen of specimens) {
      if (isHidden(specimen) || wasRecalled(id)) hidden.add(specimen.id);
      else within += countHidden(specimen.marks);
    }
    if (wasRecalled(id) || (specimens.every(isHidden) && (!record || isHidden(record)))) hidden.add(id);
  }
  for (const collection of COLLECTIONS) {
    if (collection === 'devices') continue;
    for (const [id, record] of state.facts.records[collection]) {
      if (!isOpen(record, now) || wasRecalled(id)) hidden.add(id);
      else if ('claims' in record) within += countHidden(record.claims);
    }
  }
  for (const correction of state.corrections) if (isHidden(correction)) hidden.add(correction.id);
  return hidden.size + within;
}
