/**
 * What a function is: a row of a table. The standard's functions are in the files beside this one; an application that
 * knows what the graph is about adds extension functions with `withFunctions`, and the language need not know them.
 */
import { type ElementAccess, hasType, type TypeName, type Value } from '../value.ts';

/** What a function may ask besides its arguments. */
export interface FunctionSetting {
  readonly elements: ElementAccess;
  /** Milliseconds since 1970-01-01T00:00Z: one instant for a whole query (20.26 on CURRENT_TIMESTAMP). */
  readonly now: number;
}

export interface FunctionDefinition {
  /** Upper case. */
  readonly name: string;
  readonly parameters: readonly Parameter[];
  readonly result: TypeName;
  /** One sentence for people. */
  readonly doc: string;
  /** The subclause or feature of the standard; undefined for an extension. */
  readonly standard?: string;
  /** Set for functions that want to see null arguments; for others null or a wrong type makes the answer null. */
  readonly takesNull?: boolean;
  /** Set for functions whose result depends on labels of elements. */
  readonly readsLabels?: boolean;
  /** Never throws; answers null for what cannot be computed. */
  readonly fn: (given: readonly Value[], setting: FunctionSetting) => Value;
}

export interface Parameter {
  readonly name: string;
  readonly type: TypeName | readonly TypeName[];
  /** May be left out; only at the end. */
  readonly optional?: boolean;
  /** May be given any number of times; only at the end. */
  readonly repeated?: boolean;
}

/** By upper-case name. */
export type FunctionTable = ReadonlyMap<string, FunctionDefinition>;

/**
 * A table with more functions; a function of the same name is replaced. Throws when a definition is not well formed.
 */
export function withFunctions(table: FunctionTable, more: readonly FunctionDefinition[]): FunctionTable {
  for (const { name } of more) {
    if (!/^[A-Z_][A-Z0-9_]*$/.test(name))
      throw new Error(`"${name}" is not a valid name for a function: upper case only`);
  }
  return new Map([...table, ...more.map((definition) => [definition.name, definition] as const)]);
}

/** Fewest and most arguments. */
export function arity({ parameters }: FunctionDefinition): { readonly least: number; readonly most: number } {
  const least = parameters.filter(({ optional }) => !optional).length;
  return { least, most: parameters.at(-1)?.repeated ? Number.POSITIVE_INFINITY : parameters.length };
}

/** The parameter of an argument. */
export function parameterAt({ parameters }: FunctionDefinition, index: number): Parameter | undefined {
  return parameters[index] ?? (parameters.at(-1)?.repeated ? parameters.at(-1) : undefined);
}

export function typesOf(parameter: Parameter): readonly TypeName[] {
  return typeof parameter.type === 'string' ? [parameter.type] : parameter.type;
}

/** `LEFT(text, count)`, as people read it. */
export function signature({ name, parameters }: FunctionDefinition): string {
  const list = parameters.map((p) => (p.optional ? `[${p.name}]` : p.repeated ? `${p.name}, …` : p.name));
  return `${name}(${list.join(', ')})`;
}

/** Calls a function: null for null or mistyped arguments, unless it takes them. */
export function apply(
  definition: FunctionDefinition,
  given: readonly Value[],
  setting: FunctionSetting,
): Value {
  if (!definition.takesNull) {
    for (let i = 0; i < given.length; i++) {
      const value = given[i]!;
      const parameter = parameterAt(definition, i);
      if (value === null || !parameter) return null;
      if (!typesOf(parameter).some((type) => hasType(value, type))) return null;
    }
  }
  return definition.fn(given, setting);
}
