import { yearOf } from '../model/dates.ts';
import { COLUMNS } from '../state/component-columns.ts';
import type { View } from '../state/view.ts';

/** Counts of what the view may see of the archive. */
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

export function summaryOf(view: View): Summary {
  const devices = [...view.devices()];
  const years = devices.map(({ released }) => yearOf(released));
  let specimens = 0;
  let components = 0;
  for (const { columns } of view.specimenRows()) {
    specimens++;
    components += columns.length / COLUMNS;
  }
  return {
    devices: devices.length,
    specimens,
    components,
    parts: view.parts().length,
    makers: view.makers().length,
    productLines: view.productLines().length,
    publications: view.publications().length,
    patterns: view.patterns().length,
    firstYear: years.length > 0 ? years.reduce((a, b) => Math.min(a, b)) : null,
    lastYear: years.length > 0 ? years.reduce((a, b) => Math.max(a, b)) : null,
    inventedDevices: devices.filter(({ invented }) => invented).length,
  };
}
