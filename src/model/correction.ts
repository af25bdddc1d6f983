import { z } from 'zod';
import { identificationSchema, observationSchema } from './dossier.ts';
import { text } from './fields.ts';
import { parseThingId, specimenOfId } from './ids.ts';

const specimen = text.describe('Id of the specimen, `device/specimen`.');

/** A change that corrects the archive, or that is only tried out. Exactly one field is given. */
export const amendmentSchema = z
  .union([
    z.strictObject({
      identify: identificationSchema.extend({ specimen }).describe('Another identification of a component.'),
    }),
    z.strictObject({
      withdraw: z
        .strictObject({ observation: text.describe('Id of the observation, `device/specimen/local`.') })
        .describe('The withdrawal of an observation.'),
    }),
    z.strictObject({
      observe: observationSchema.extend({ specimen }).describe('A further observation.'),
    }),
    z.strictObject({
      value: z
        .strictObject({
          of: text.describe('Id of a part, a component, a net or a device.'),
          field: text.describe('Path of the field, such as `parameters.noise`, `pins` or `mass`.'),
          is: z.unknown().describe('The right value; null removes the field.'),
        })
        .describe('A corrected value.'),
    }),
  ])
  .describe('One change to the record.');
export type Amendment = z.infer<typeof amendmentSchema>;

/** A sentence of a publication that a correction touches. */
export interface TouchedClaim {
  /** Id of the claim, `publication/claim`. */
  readonly claim: string;
  readonly sentence: string;
  /** Probability that the evidence gave it before and gives it now; null where it has no number. */
  readonly before: number | null;
  readonly after: number | null;
  /** What is wrong with it now, in words; empty when its wording still fits. */
  readonly findings: readonly string[];
}

export interface TouchedPublication {
  readonly publication: string;
  readonly title: string;
  readonly claims: readonly TouchedClaim[];
  /** Text ready for a correction notice; null for a publication that has not appeared, which is put right before it does. */
  readonly notice: string | null;
}

/** What a correction touched, as journaled; the entries before it in the same append hold the change. */
export interface CorrectionMade {
  readonly id: string;
  readonly summary: string;
  readonly amendment: Amendment;
  readonly publications: readonly TouchedPublication[];
  /** Left out: whoever sees what was corrected. */
  readonly visibility?: 'embargoed' | undefined;
  /** Until when only the desk sees the correction and what it changed, ISO 8601 with zone. */
  readonly embargoUntil?: string | undefined;
}

/** A correction as it stands in the archive. */
export interface Correction extends CorrectionMade {
  readonly by: string;
  readonly reason: string;
  /** ISO 8601, UTC. */
  readonly on: string;
}

/** Id of the specimen, part or device that an amendment is about. */
export function subjectOf(amendment: Amendment): string {
  if ('identify' in amendment) return amendment.identify.specimen;
  if ('observe' in amendment) return amendment.observe.specimen;
  const id = 'withdraw' in amendment ? amendment.withdraw.observation : amendment.value.of;
  return parseThingId(id) ? specimenOfId(id) : id;
}
