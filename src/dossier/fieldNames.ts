import { z } from 'zod';
import type { Path } from './tree.ts';

interface JsonSchema {
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly items?: JsonSchema;
  readonly prefixItems?: readonly JsonSchema[];
  readonly anyOf?: readonly JsonSchema[];
  readonly additionalProperties?: JsonSchema | boolean;
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, JsonSchema>>;
}

/** Answers which fields a schema has at a path, by walking its JSON Schema. */
export function fieldNames(schema: z.ZodType): (path: Path) => readonly string[] {
  const root = z.toJSONSchema(schema, { io: 'input' }) as JsonSchema;
  const resolve = (at: JsonSchema): JsonSchema => {
    const name = at.$ref?.split('/').at(-1);
    return name ? resolve(root.$defs?.[name] ?? {}) : at;
  };
  const step = (from: JsonSchema, key: PropertyKey): readonly JsonSchema[] => {
    const at = resolve(from);
    const next = typeof key === 'number' ? (at.prefixItems?.[key] ?? at.items) : at.properties?.[String(key)];
    const open = typeof at.additionalProperties === 'object' ? at.additionalProperties : undefined;
    return [next ?? open ?? [], ...(at.anyOf ?? []).map((one) => step(one, key))].flat();
  };
  const names = (from: JsonSchema): readonly string[] => {
    const at = resolve(from);
    return [...Object.keys(at.properties ?? {}), ...(at.anyOf ?? []).flatMap(names)];
  };
  return (path) =>
    path
      .reduce<readonly JsonSchema[]>((at, key) => at.flatMap((one) => step(one, key)), [root])
      .flatMap(names);
}
