import { countKinds, countSubsystems } from '../../compare/counts.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';

// Counts follow from a specimen as it was opened, which is made anew when anything in it changes.
const kinds = new WeakMap<OpenedSpecimen, Map<string, ReturnType<typeof countKinds>>>();
const subsystems = new WeakMap<OpenedSpecimen, ReturnType<typeof countSubsystems>>();

/** Counts for each term under `above`, found once a specimen. */
export function kindsCounted(opened: OpenedSpecimen, above: string): ReturnType<typeof countKinds> {
  const counted = kinds.get(opened) ?? new Map<string, ReturnType<typeof countKinds>>();
  kinds.set(opened, counted);
  const counts = counted.get(above) ?? countKinds(opened, above);
  counted.set(above, counts);
  return counts;
}

/** Components in each subsystem, found once a specimen. */
export function subsystemsCounted(opened: OpenedSpecimen): ReturnType<typeof countSubsystems> {
  const counts = subsystems.get(opened) ?? countSubsystems(opened);
  subsystems.set(opened, counts);
  return counts;
}
