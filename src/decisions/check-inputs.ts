import {
  type Binding,
  BindingError,
  type Leaf,
  leavesOf,
  parseBinding,
  quantityOf,
} from '../design-checks/binding.ts';
import {
  type CheckInput,
  CheckInputError,
  type CheckResult,
  type DesignCheck,
  type TypicalRange,
} from '../design-checks/check.ts';
import { CHECKS } from '../design-checks/table.ts';
import type { NamedPattern, Part } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { convert, type Quantity, sameDimension } from '../model/quantity.ts';
import type { PatternMatch } from '../patterns/answer.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import { tidy } from '../statistics/tidy.ts';
import { type Figure, figureOf, type Place } from './check-sources.ts';

/** Where the value of an input comes from: the graph, an assumption in the check's bindings, or the caller. */
export const INPUT_ORIGINS = ['graph', 'stated', 'given'] as const;

/** An input of a check that the pattern binds or an editor gives. */
export interface BoundInput {
  readonly name: string;
  /** Unit of the check; `quantity` is in another one only where the two measure different things. */
  readonly unit: string;
  /** Left out where the binding found nothing. */
  readonly quantity?: Quantity;
  readonly origin: (typeof INPUT_ORIGINS)[number];
  /** In words where it came from, or why it is not known. */
  readonly from: string;
  /** Global ids of what supports it. */
  readonly supportedBy: readonly string[];
  /** Probability that everything it depends on was identified correctly, 0 to 1; 1 for what was seen, stated or given. */
  readonly probability: number;
  /** The components that `probability` is about, by global id; left out where there are none. */
  readonly identified?: Readonly<Record<string, number>>;
}

/** A required input that nobody knows: asked for by name, never filled in. */
export interface WantedInput {
  readonly name: string;
  readonly unit: string;
  readonly meaning: string;
  readonly typical?: TypicalRange;
}

/** The check of a pattern with the figures of one match. */
export interface BoundCheck {
  readonly check: string;
  readonly title: string;
  readonly inputs: readonly BoundInput[];
  /** Probability that every component the inputs depend on was identified correctly, each counted once. */
  readonly probability: number;
  readonly missing: readonly WantedInput[];
  /** Left out while something is missing or wrong. */
  readonly result?: CheckResult;
  readonly formula: string;
  readonly source: string;
  readonly limits: string;
  readonly cautions: readonly string[];
  /** Why it could not be calculated although nothing is missing, such as a value outside its range. */
  readonly problem?: string;
}

/**
 * The check that supports a pattern, with its inputs taken from the graph: parameters of the parts that the favoured
 * candidates name, and what was seen. Undefined when the pattern names no existing check.
 * @param match what the pattern's variables stand for, in `specimen`, which is of `device`
 * @param given inputs by hand; they override the pattern's bindings
 */
export function boundCheck(
  pattern: NamedPattern,
  match: PatternMatch,
  specimen: OpenedSpecimen,
  device: Device,
  partOf: (id: string) => Part | undefined,
  given: Readonly<Record<string, Quantity>> = {},
): BoundCheck | undefined {
  if (!pattern.check) return undefined;
  return checkWith(pattern.check, { match, specimen, device, partOf }, given);
}

/** A check with bindings, wherever they were written. Undefined when there is no such check. */
export function checkWith(
  { name, inputs: written }: NonNullable<NamedPattern['check']>,
  place: Place,
  given: Readonly<Record<string, Quantity>>,
): BoundCheck | undefined {
  if (!Object.hasOwn(CHECKS, name)) return undefined;
  const check = CHECKS[name];
  const inputs = check.inputs.flatMap((input): BoundInput[] => {
    if (Object.hasOwn(given, input.name)) return [byHand(input, given[input.name])];
    if (!Object.hasOwn(written, input.name)) return [];
    const one = bound(input, written[input.name], place);
    // An optional input that is not known is not worth reporting.
    return one.quantity || !input.optional ? [one] : [];
  });
  const identified = new Map(inputs.flatMap((input) => Object.entries(input.identified ?? {})));
  return { ...describedCheck(check), ...outcome(check, inputs, given), probability: together(identified) };
}

function describedCheck({ name, title, formula, source, limits, cautions }: DesignCheck) {
  return { check: name, title, formula, source, limits, cautions };
}

const STATED = 'stated with the check; not a figure of the device';

function byHand({ name, unit }: CheckInput, quantity: Quantity): BoundInput {
  return { name, unit, quantity, origin: 'given', from: 'given by hand', supportedBy: [], probability: 1 };
}

function bound(
  { name, unit }: CheckInput,
  written: Parameters<typeof parseBinding>[0],
  place: Place,
): BoundInput {
  const found = new Map<Leaf, Figure>();
  const used: Leaf[] = [];
  const gaps: string[] = [];
  let binding: Binding;
  let quantity: Quantity | undefined;
  try {
    binding = parseBinding(written);
    const lookUp = (leaf: Leaf) => {
      const figure = figureOf(leaf, place);
      if (typeof figure === 'string') {
        gaps.push(figure);
        return undefined;
      }
      found.set(leaf, figure);
      return figure.quantity;
    };
    const inputFrom = quantityOf(binding, lookUp, used);
    quantity = inputFrom && inUnit(inputFrom, unit);
  } catch (error) {
    if (!(error instanceof BindingError)) throw error;
    return { name, unit, origin: 'stated', from: error.message, supportedBy: [], probability: 1 };
  }
  if (leavesOf(binding).length === 0)
    return {
      name,
      unit,
      quantity,
      origin: 'stated',
      from: STATED,
      supportedBy: [],
      probability: 1,
    };
  if (quantity === undefined)
    return { name, unit, origin: 'graph', from: gaps.join('; '), supportedBy: [], probability: 1 };
  const figures = used.flatMap((leaf) => found.get(leaf) ?? []);
  const identified = new Map(figures.flatMap((figure) => [...figure.identified]));
  return {
    name,
    unit,
    quantity,
    origin: figures.length > 0 ? 'graph' : 'stated',
    from: figures.length > 0 ? [...new Set(figures.map(({ from }) => from))].join('; ') : STATED,
    supportedBy: [...new Set(figures.flatMap(({ supportedBy }) => supportedBy))],
    probability: together(identified),
    identified: Object.fromEntries(identified),
  };
}

/**
 * Probability that all these components are identified correctly: independently of one another, and figures of one
 * component depend on the same identification.
 */
function together(identified: ReadonlyMap<string, number>): number {
  return tidy([...identified.values()].reduce((all, one) => all * one, 1));
}

function outcome(
  check: DesignCheck,
  inputs: readonly BoundInput[],
  given: Readonly<Record<string, Quantity>>,
): Pick<BoundCheck, 'inputs' | 'missing' | 'result' | 'problem'> {
  const known = Object.fromEntries(inputs.map(({ name, quantity }) => [name, quantity]));
  try {
    // The check refuses names that it does not have.
    const result = check.run({ ...given, ...known });
    const missing = (result.missing ?? []).flatMap(
      (name) => check.inputs.find((one) => one.name === name) ?? [],
    );
    if (missing.length === 0) return { inputs, missing: [], result };
    return { inputs, missing: missing.map(wanted) };
  } catch (error) {
    if (error instanceof CheckInputError) return { inputs, missing: [], problem: error.message };
    throw error;
  }
}

/** In the unit of the check where that can be; the check itself says what is wrong where it cannot. */
function inUnit(quantity: Quantity, unit: string): Quantity {
  return sameDimension(quantity.unit, unit) ? convert(quantity, unit) : quantity;
}

function wanted({ name, unit, meaning, typical }: CheckInput): WantedInput {
  return { name, unit, meaning, ...(typical && { typical }) };
}
