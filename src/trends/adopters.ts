import { certainlyBefore, dateRange, yearOf } from '../model/dates.ts';
import type { Device } from '../model/dossier.ts';
import { compareText } from '../state/lists/device-list.ts';
import { tidy } from '../statistics/tidy.ts';
import type { Adopter } from './answer.ts';
import type { DeviceWeight } from './subject.ts';

/** Maximum listed. */
const MAX_ADOPTERS = 50;

/**
 * The first devices with a subject: the earliest certain device, and all that may have it and were not certainly
 * released after that. Without a certain device, all that may have it. By release, then id; `more` counts those beyond
 * the first fifty, `unobserved` the devices in which it was not observed and that may have been released before: any of
 * them may be the first.
 * @param observed whether it was observed that a device has the subject or has none
 */
export function firstAdopters(
  devices: readonly Device[],
  weightOf: (device: Device) => Pick<DeviceWeight, 'certain' | 'probability'> | undefined,
  observed: (device: Device) => boolean,
): { readonly adopters: readonly Adopter[]; readonly more: number; readonly unobserved: number } {
  const having = devices.flatMap((device) => {
    const weight = weightOf(device);
    return weight ? [{ device, ...weight }] : [];
  });
  const year = having.reduce(
    (earliest, { certain, device }) => (certain ? Math.min(earliest, yearOf(device.released)) : earliest),
    Number.POSITIVE_INFINITY,
  );
  // A device of a later year than a certain device is certainly not among the first.
  const early = having
    .filter(({ device }) => yearOf(device.released) <= year)
    .map((item) => ({ ...item, range: dateRange(item.device.released) }))
    .sort((a, b) => compareText(a.range.first, b.range.first) || compareText(a.device.id, b.device.id));
  const certain = early.filter(({ certain }) => certain);
  const earliest =
    certain.length === 0
      ? undefined
      : certain.reduce((a, b) => (b.range.last < a.range.last ? b : a)).device.released;
  const first = early.filter(
    ({ device }) => earliest === undefined || !certainlyBefore(earliest, device.released),
  );
  const adopters = first.slice(0, MAX_ADOPTERS).map(({ device, probability, certain }) => ({
    device,
    probability,
    certain,
    probabilityFirst: tidy(
      first
        .filter((other) => certainlyBefore(other.device.released, device.released))
        .reduce((none, other) => none * (1 - other.probability), probability),
    ),
  }));
  const unobserved = devices.filter(
    (device) =>
      !observed(device) &&
      first.length > 0 &&
      (earliest === undefined || !certainlyBefore(earliest, device.released)),
  ).length;
  return { adopters, more: first.length - adopters.length, unobserved };
}
