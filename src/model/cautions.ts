import { z } from 'zod';
import { readYamlFile } from '../text/yaml-file.ts';

const fileSchema = z.strictObject({
  standing: z.string(),
  hazards: z.record(z.string(), z.strictObject({ title: z.string(), cautions: z.array(z.string()).min(1) })),
});

const file = fileSchema.parse(readYamlFile(new URL('../../schema/cautions.yaml', import.meta.url)));

/** Names of the hazards a bench step may carry, as in schema/cautions.yaml. */
export const HAZARDS: readonly string[] = Object.keys(file.hazards);

/** The sentence that ends every list of cautions. */
export const STANDING_CAUTION: string = file.standing;

/** Whatever a dossier says: opening a wearable meets a cell, edges, heat and solvents. */
export const STANDING_HAZARDS: readonly string[] = ['lithium-cell', 'blade', 'heat', 'solvent'];

/** Hazards of a step at the bench; one that destroys carries {@link STANDING_HAZARDS} as well as its own. */
export function hazardsOfStep(step: {
  readonly destructive?: boolean | undefined;
  readonly hazards: readonly string[];
}): readonly string[] {
  return step.destructive ? [...new Set([...step.hazards, ...STANDING_HAZARDS])] : step.hazards;
}

/** The cautions of the given hazards, each once, then the standing sentence. */
export function cautionsFor(hazards: readonly string[]): readonly string[] {
  const sentences = hazards.flatMap((hazard) => file.hazards[hazard]?.cautions ?? []);
  return [...new Set(sentences), STANDING_CAUTION];
}
