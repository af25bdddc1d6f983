import { yearOf } from '../model/dates.ts';
import { isOpen, type Visible } from '../model/visibility.ts';
import { countedIn } from '../state/component-columns.ts';
import type { State } from '../state/state.ts';

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

/** How many devices and specimens a state has that readers do not see: drafts, and what is under embargo. */
export function unseenByReaders(state: State): number {
  const isHidden = (one: Visible) => !isOpen(one, state.now);
  const hidden = new Set<string>();
  for (const { id } of state.devices()) {
    const record = state.deviceRecord(id);
    const specimens = [...state.specimensOf(id)];
    for (const specimen of specimens) if (isHidden(specimen)) hidden.add(specimen.id);
    if (specimens.every(isHidden) && (!record || isHidden(record))) hidden.add(id);
  }
  return hidden.size;
}
