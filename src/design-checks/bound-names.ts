import type { NamedPattern } from '../model/catalogue.ts';
import { QuantityError, sameDimension } from '../model/quantity.ts';
import { PARAMETERS, TERMS } from '../model/taxonomy.ts';
import { didYouMean } from '../text/near.ts';
import { BindingError, type Leaf, leavesOf, parseBinding, quantityOf } from './binding.ts';
import { CheckInputError, type DesignCheck } from './check.ts';
import { CHECKS } from './table.ts';

/** Parameters of a part that are quantities or counts, with their unit. */
export const PARAMETER_UNITS: ReadonlyMap<string, string> = new Map(
  [...PARAMETERS].flatMap(([name, { unit, text, flag }]) =>
    unit ? [[name, unit] as const] : text || flag ? [] : [[name, '1'] as const],
  ),
);

/** What is seen of a thing beside the parameters of its part, with the unit. */
export const SEEN_UNITS = {
  component: {
    bodyLength: 'mm',
    bodyWidth: 'mm',
    bodyHeight: 'mm',
    bodyArea: 'mm2',
    bodyVolume: 'mm3',
    pins: '1',
    followsLit: '1',
  },
  board: { area: 'mm2', length: 'mm', width: 'mm', sides: '1', components: '1', colours: '1' },
  device: { mass: 'g', length: 'mm', width: 'mm', height: 'mm', area: 'mm2', volume: 'mm3' },
  specimen: {
    boards: '1',
    components: '1',
    boardArea: 'mm2',
    componentArea: 'mm2',
    innerLength: 'mm',
    innerArea: 'mm2',
  },
} as const;

/** A mistake in the check of a pattern: where in the record, what, and the fix. */
export interface BindingMistake {
  readonly path: readonly string[];
  readonly what: string;
  readonly fix: string;
}

/** Everything wrong with what a pattern says of its check; empty when it has none. */
export function mistakesOfCheck({ text, check }: NamedPattern): readonly BindingMistake[] {
  return check ? mistakesOfBindings(check, variablesOf(text)) : [];
}

/** The same of a check whose bindings may use these variables. */
export function mistakesOfBindings(
  check: NonNullable<NamedPattern['check']>,
  variables: ReadonlySet<string>,
): readonly BindingMistake[] {
  if (!Object.hasOwn(CHECKS, check.name)) {
    const fix =
      didYouMean(check.name, Object.keys(CHECKS)) ?? `the checks are ${Object.keys(CHECKS).join(', ')}`;
    return [{ path: ['name'], what: `no design check "${check.name}"`, fix }];
  }
  const known = CHECKS[check.name];
  return Object.entries(check.inputs).flatMap(([name, written]) =>
    mistakesOfInput(known, name, written, variables).map((one) => ({ path: ['inputs', name], ...one })),
  );
}

type Mistake = Omit<BindingMistake, 'path'>;

function mistakesOfInput(
  check: DesignCheck,
  name: string,
  written: string | number | Parameters<typeof parseBinding>[0],
  variables: ReadonlySet<string>,
): readonly Mistake[] {
  const input = check.inputs.find((one) => one.name === name);
  if (!input) {
    const names = check.inputs.map((one) => one.name);
    const fix = didYouMean(name, names) ?? `its inputs are ${names.join(', ')}`;
    return [{ what: `the check "${check.name}" has no input "${name}"`, fix }];
  }
  try {
    const binding = parseBinding(written);
    const unknown = leavesOf(binding).flatMap((leaf) =>
      leaf.kind === 'call'
        ? leaf.variables.flatMap((one) => unknownOwner(one, variables, []))
        : unknownProperty(leaf, variables),
    );
    if (unknown.length > 0) return unknown;
    // A figure of 1 in the unit of each name: what comes out has the unit of the whole.
    const stood = quantityOf(binding, (leaf) => ({
      value: 1,
      unit: leaf.kind === 'call' ? (leaf.name === 'count' ? '1' : 'mm') : (unitOf(leaf, variables) as string),
    }));
    return stood === undefined || sameDimension(stood.unit, input.unit)
      ? []
      : [{ what: `comes out in ${stood.unit}`, fix: `give it in ${input.unit} or a unit of the same kind` }];
  } catch (error) {
    if (error instanceof BindingError || error instanceof QuantityError || error instanceof CheckInputError)
      return [
        { what: error.message, fix: 'write for example "sensor.accelerationNoise" or "distance(a, b)"' },
      ];
    throw error;
  }
}

function unknownOwner(
  name: string,
  variables: ReadonlySet<string>,
  others: readonly string[],
): readonly Mistake[] {
  if (variables.has(name) || others.includes(name)) return [];
  const near = didYouMean(name, [...variables, ...others]);
  return [
    {
      what: `"${name}" is not a variable of the pattern`,
      fix: near ?? `it has ${[...variables].join(', ')}`,
    },
  ];
}

const OTHER_OWNERS: readonly string[] = ['device', 'specimen', ...TERMS];

function unknownProperty(
  { owner, property, all }: Extract<Leaf, { kind: 'property' }>,
  variables: ReadonlySet<string>,
): readonly Mistake[] {
  const wrong = all ? unknownTerm(owner) : unknownOwner(owner, variables, OTHER_OWNERS);
  if (wrong.length > 0 || unitOf({ owner, property }, variables) !== undefined) return wrong;
  const names = [...unitsOf(owner, variables).keys()];
  const near = didYouMean(property, names);
  const fix =
    near ??
    `there are ${names.slice(0, 8).join(', ')} …; parameters of parts are listed in schema/taxonomy.yaml`;
  return [{ what: `nothing is known as "${property}" of "${owner}"`, fix }];
}

function unknownTerm(name: string): readonly Mistake[] {
  if (TERMS.includes(name)) return [];
  const fix =
    didYouMean(name, TERMS) ?? 'a sum is over the components of a term, such as sum(Sensor.activeCurrent)';
  return [{ what: `"${name}" is not a term of schema/taxonomy.yaml`, fix }];
}

function unitOf(
  { owner, property }: { readonly owner: string; readonly property: string },
  variables: ReadonlySet<string>,
): string | undefined {
  return unitsOf(owner, variables).get(property);
}

function unitsOf(owner: string, variables: ReadonlySet<string>): ReadonlyMap<string, string> {
  const { component, board, device, specimen } = SEEN_UNITS;
  if (variables.has(owner)) {
    // A variable may bind anything; each name has one meaning, so it does not matter what.
    return new Map([
      ...Object.entries({ ...component, ...board, ...device, ...specimen }),
      ...PARAMETER_UNITS,
    ]);
  }
  if (owner === 'device') return new Map(Object.entries(device));
  if (owner === 'specimen') return new Map(Object.entries(specimen));
  return new Map([...Object.entries(component), ...PARAMETER_UNITS]);
}

/** Variables that a pattern binds to things: those of its node patterns, without what stands inside EXISTS alone. */
export function variablesOf(text: string): ReadonlySet<string> {
  const bare = withoutExists(text.replaceAll(/'(?:[^'\\]|\\.|'')*'|"(?:[^"\\]|\\.)*"/gu, "''"));
  return new Set(
    [...bare.matchAll(/\(\s*([A-Za-z_]\w*)\s*(?:[:)]|WHERE\b|IS\b)/giu)].map(([, name]) => name),
  );
}

function withoutExists(text: string): string {
  const start = /\bEXISTS\s*\{/iu.exec(text);
  if (!start) return text;
  let depth = 1;
  let at = start.index + start[0].length;
  for (; at < text.length && depth > 0; at++) {
    if (text[at] === '{') depth += 1;
    if (text[at] === '}') depth -= 1;
  }
  return withoutExists(text.slice(0, start.index) + text.slice(at));
}
