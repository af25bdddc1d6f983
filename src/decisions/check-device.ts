import { z } from 'zod';
import { type Part, patternSchema } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { term } from '../model/fields.ts';
import type { Quantity } from '../model/quantity.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { readYamlFile } from '../text/yaml-file.ts';
import { type BoundCheck, checkWith } from './check-inputs.ts';

const fileSchema = z.strictObject({
  checks: z.array(patternSchema.shape.check.unwrap().extend({ of: term.optional() })),
});

/** Checks that can be asked of any device, with their bindings, as in schema/device-checks.yaml. */
export const DEVICE_CHECKS = fileSchema.parse(
  readYamlFile(new URL('../../schema/device-checks.yaml', import.meta.url)),
).checks;

/**
 * Checks of a device by itself, without a pattern: share of power, display, haptic start, altitude and the like, with what
 * the archive knows of their inputs. A check of something that the device does not hold (of 0.5 or less) is left out.
 * @param only name of one check; all when left out
 * @param given inputs by hand, for `only`
 */
export function deviceChecks(
  specimen: OpenedSpecimen,
  device: Device,
  partOf: (id: string) => Part | undefined,
  only?: string,
  given: Readonly<Record<string, Quantity>> = {},
): readonly BoundCheck[] {
  const match = { specimenId: specimen.id, bindings: [], certain: true, probability: 1 };
  const holds = (category: string) =>
    [...specimen.labels.values()].some((weights) => (weights.get(category) ?? 0) > 0.5);
  return DEVICE_CHECKS.filter(
    ({ name, of }) => (only === undefined || name === only) && (of === undefined || holds(of)),
  ).flatMap((written) => checkWith(written, { match, specimen, device, partOf }, given) ?? []);
}
