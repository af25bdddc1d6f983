import { comparedOf } from '../../compare/representative.ts';
import type { DeviceSource } from './catalogue.ts';
import { type SpecimenSource, specimenSource } from './specimen.ts';

const known = new WeakMap<DeviceSource, SpecimenSource>();

/** The specimen that stands for a device: the same one as in comparisons. Found once a request. */
export function standingSpecimen(device: DeviceSource): SpecimenSource {
  let source = known.get(device);
  if (!source) {
    source = specimenSource(device.view, comparedOf(device.view, device.id).specimen);
    known.set(device, source);
  }
  return source;
}
