import { z } from 'zod';
import { HAZARDS } from '../model/cautions.ts';
import { OBSERVATION_KINDS } from '../model/dossier.ts';
import { readYamlFile } from '../text/yaml-file.ts';

const methodSchema = z.strictObject({
  name: z.string(),
  /** The same of one pin, `{pin}`, where that can be done. */
  atPin: z.string().includes('{pin}').optional(),
  reads: z.enum(OBSERVATION_KINDS),
  minutes: z.number().positive(),
  succeeds: z.number().gt(0).max(1),
  destructive: z.boolean().default(false),
  /** Only for what lies under a shield. */
  covered: z.boolean().default(false),
  hazards: z.array(z.enum(HAZARDS as [string, ...string[]])),
});

/** A way of looking at a component, with its cost in minutes of bench work and how often it succeeds. */
export type BenchMethod = z.infer<typeof methodSchema> & { readonly id: string };

const file = z
  .strictObject({ methods: z.record(z.string(), methodSchema) })
  .parse(readYamlFile(new URL('../../schema/bench-methods.yaml', import.meta.url)));

/** All bench methods, in the order of schema/bench-methods.yaml. */
export const BENCH_METHODS: readonly BenchMethod[] = Object.entries(file.methods).map(([id, method]) => ({
  id,
  ...method,
}));
