import { certainlyBefore, dateRange, yearOf } from '../model/dates.ts';
import type { Device } from '../model/dossier.ts';
import { compareText } from '../state/device-list.ts';
import { tidy } from '../statistics/tidy.ts';
import type { Adopter } from './answer.ts';
import type { DeviceWeight } from './subject.ts';

/** Most that are listed. */
const MAX_ADOPTERS = 50;

/**
 * The first devices with a subject: the earliest certain one, and every device that may have it and was not certainly
 * released after that one. Without a certain one, all that may have it. By release, then id; `more` counts those beyond
 * the first fifty.
 */
export function firstAdopters(
  devices: readonly Device[],
  weightOf: (device: Device) => Pick<DeviceWeight, 'certain' | 'probability'> | undefined,
): { readonly adopters: readonly Adopter[]; readonly more: number } {
  const having = devices.flatMap((device) => {
    const weight = weightOf(device);
    return weight ? [{ device, ...weight }] : [];
  });
  const year = having.reduce(
    (least, { certain, device }) => (certain ? Math.min(least, yearOf(device.released)) : least),
    Number.POSITIVE_INFINITY,
  );
  // Whatever came in a later year than some certain one is certainly not among the first.
  const early = having
    .filter(({ device }) => yearOf(device.released) <= year)
    .map((one) => ({ ...one, range: dateRange(one.device.released) }))
    .sort((a, b) => compareText(a.range.first, b.range.first) || compareText(a.device.id, b.device.id));
  const sure = early.filter(({ certain }) => certain);
  const earliest =
    sure.length === 0
      ? undefined
      : sure.reduce((a, b) => (b.range.last < a.range.last ? b : a)).device.released;
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
  return { adopters, more: first.length - adopters.length };
}
