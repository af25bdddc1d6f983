import { cautionsFor } from '../model/cautions.ts';
import {
  convert,
  formatQuantity,
  type Quantity,
  QuantityError,
  sameDimension,
  unitCode,
} from '../model/quantity.ts';
import { allCorners, type CheckedValue, cornersThatMatter, type Numbers, overTheBox } from './box.ts';
import { formatValue } from './format-value.ts';
import { keptInOrder, notesOnInput, notesOnOutput, type Plausible, type Tie } from './notes.ts';

/** What a check says about the design reason it was asked to support. */
export type CheckVerdict = 'supports' | 'neutral' | 'speaks-against';

/** A range that a newcomer may start from. Never filled in for a missing input. */
export interface TypicalRange {
  /** In the unit of the input. */
  readonly low: number;
  readonly high: number;
  readonly note: 'common practice, no source';
}

/** What an input may be. `min` and `max` are physical ends that an uncertain value is cut off at, which the result tells. */
export interface InputRule {
  /** UCUM code; any unit of the same dimension is accepted. Counts and ratios have `1`. */
  readonly unit: string;
  readonly meaning: string;
  readonly typical?: TypicalRange;
  readonly min?: number;
  readonly max?: number;
  /** Why `min` and `max` are ends of the formula and not of nature: a value that may lie beyond them is refused, not cut. */
  readonly beyond?: string;
  /** The value must be greater than this over the whole of its uncertainty. */
  readonly above?: number;
  readonly whole?: true;
}

export interface CheckInput extends InputRule {
  readonly name: string;
  /** The check runs without it, and says more with it. */
  readonly optional: boolean;
}

export interface CheckResult {
  /** By name. Empty when a required input is missing. */
  readonly values: Readonly<Record<string, CheckedValue>>;
  readonly sentence: string;
  /** `neutral` when an input is missing. */
  readonly verdict: CheckVerdict;
  /** What to know of the figures: where an uncertain input was cut off, and what is far from usual. */
  readonly notes: readonly string[];
  /** Required inputs that were not given, by name, in the order of the declaration. */
  readonly missing?: readonly string[];
}

/** Quantities by the name of the input. */
export type CheckInputs = Readonly<Record<string, Quantity | undefined>>;

/** One calculator that tests a design reason with numbers. */
export interface DesignCheck {
  readonly name: string;
  readonly title: string;
  readonly inputs: readonly CheckInput[];
  readonly outputs: readonly { readonly name: string; readonly unit: string; readonly meaning: string }[];
  readonly formula: string;
  /** The published source of the formula. */
  readonly source: string;
  /** Where the formula holds, and the threshold behind the verdict. */
  readonly limits: string;
  /** What to mind at the bench when its inputs are measured; the standing sentence alone where no hazard is named. */
  readonly cautions: readonly string[];
  /**
   * Pure: equal inputs give equal answers, whatever units they are written in.
   * @throws CheckInputError for an unknown name, a wrong dimension or a value outside its range
   */
  run(inputs: CheckInputs): CheckResult;
}

/** Raised when a check is given an input it cannot use; the message names check, input and fix. */
export class CheckInputError extends Error {
  override readonly name = 'CheckInputError';
}

interface OutputRule {
  readonly unit: string;
  readonly meaning: string;
  /** Where such values lie; the result tells of one outside, with the note. */
  readonly plausible?: Plausible;
}

type Answers<T, Always extends string, Sometimes extends string> = Readonly<Record<Always, T>> &
  Readonly<Partial<Record<Sometimes, T>>>;

interface Definition<
  Required extends string,
  Optional extends string,
  Always extends string,
  Sometimes extends string,
> {
  readonly name: string;
  readonly title: string;
  readonly required: Readonly<Record<Required, InputRule>>;
  readonly optional?: Readonly<Record<Optional, InputRule>>;
  readonly outputs: Readonly<Record<Always, OutputRule>>;
  /** Outputs that need an optional input. */
  readonly furtherOutputs?: Readonly<Record<Sometimes, OutputRule>>;
  readonly formula: string;
  readonly source: string;
  readonly limits: string;
  /** Hazards of schema/cautions.yaml that measuring the inputs brings. */
  readonly hazards?: readonly string[];
  /** Inputs that cannot be above another of the same unit. Figures that contradict it are refused. */
  readonly notAbove?: readonly Tie<NoInfer<Required | Optional>>[];
  /** Optional inputs that are wanted all the same, by what is given; in the order in which they are asked for. */
  readonly alsoWanted?: (given: ReadonlySet<Required | Optional>) => readonly Optional[];
  /**
   * Numbers in the declared units to numbers in the declared units. Must be monotone in each input over its
   * range (rising or falling, the others held), but for the places in `turns`: then the corners of the box of uncertain
   * inputs carry the extremes, and the interval is exact (Moore, Kearfott & Cloud, Introduction to Interval Analysis, 2009,
   * ch. 5).
   */
  readonly compute: (given: Answers<number, Required, Optional>) => Readonly<
    Record<NoInfer<Always>, number>
  > & {
    readonly [name in NoInfer<Sometimes>]?: number | undefined;
  };
  /** Verdict and sentence from the intervals, so that it holds for the whole uncertainty of the inputs. */
  readonly judge: (
    values: Answers<CheckedValue, Always, Sometimes>,
    given: Answers<CheckedValue, Required, Optional>,
  ) => { readonly verdict: CheckVerdict; readonly sentence: string };
  /** Where an output turns in an input, the others held. */
  readonly turns?: Readonly<
    Partial<Record<NoInfer<Required | Optional>, (given: Answers<number, Required, Optional>) => number>>
  >;
  /**
   * True when each output rises or falls in an input the same way whatever the other inputs are. One corner then carries
   * each extreme, which a check of many inputs needs: n uncertain inputs have 2^n corners.
   */
  readonly sameWay?: true;
}

/** Makes a calculator from its arithmetic: units, ranges, missing inputs and uncertainty are seen to here. */
export function defineCheck<
  Required extends string,
  Always extends string,
  Optional extends string = never,
  Sometimes extends string = never,
>(definition: Definition<Required, Optional, Always, Sometimes>): DesignCheck {
  const { name, title, formula, source, limits, compute, judge } = definition;
  const listed = (rules: Readonly<Record<string, InputRule>>, optional: boolean): CheckInput[] =>
    Object.entries(rules).map(([input, rule]) => Object.freeze({ name: input, ...rule, optional }));
  const inputs = [...listed(definition.required, false), ...listed(definition.optional ?? {}, true)];
  const outputs = Object.entries<OutputRule>({
    ...(definition.outputs as Record<string, OutputRule>),
    ...(definition.furtherOutputs as Record<string, OutputRule> | undefined),
  }).map(([output, rule]) => Object.freeze({ name: output, ...rule }));

  const ties = {
    notAbove: (definition.notAbove ?? []).map(({ lower, upper }) => [lower, upper] as const),
    turns: (definition.turns ?? {}) as Record<string, (numbers: Numbers) => number>,
  };
  const corners = (given: Readonly<Record<string, CheckedValue>>) => allCorners(given, ties);
  const run = (quantities: CheckInputs): CheckResult => {
    for (const given of Object.keys(quantities)) {
      if (!inputs.some((input) => input.name === given)) {
        const known = inputs.map((input) => input.name).join(', ');
        throw new CheckInputError(`${name} has no input "${given}"; its inputs are ${known}`);
      }
    }
    const read: Record<string, CheckedValue> = {};
    const notes: string[] = [];
    for (const input of inputs) {
      const quantity = quantities[input.name];
      if (quantity === undefined) continue;
      const { value, stated } = readInput(name, input, quantity);
      read[input.name] = value;
      notes.push(...notesOnInput(input, value, stated));
    }
    const { given, cut } = inOrder(name, read, definition.notAbove ?? []);
    notes.push(...cut);
    const also = definition.alsoWanted?.(new Set(Object.keys(given) as (Required | Optional)[])) ?? [];
    const wanted = new Set<string>(also);
    const missing = inputs.filter(
      ({ name: one, optional }) => (!optional || wanted.has(one)) && !(one in given),
    );
    if (missing.length > 0) {
      return {
        values: {},
        verdict: 'neutral',
        sentence: `Not calculated yet; wanted: ${missing.map(askFor).join('; ')}.`,
        notes: [],
        missing: missing.map((input) => input.name),
      };
    }
    // The compiler cannot see that the loop above filled in every required name.
    const answer = (numbers: Record<string, number>) =>
      compute(numbers as Answers<number, Required, Optional>) as Record<string, number | undefined>;
    const values = overTheBox(outputs, given, answer, definition.sameWay ? cornersThatMatter : corners);
    for (const [output, { low, high }] of Object.entries(values)) {
      if (!Number.isFinite(high - low))
        throw new CheckInputError(`${name}: with these inputs ${output} has no finite value`);
    }
    const judged = judge(
      values as Answers<CheckedValue, Always, Sometimes>,
      given as Answers<CheckedValue, Required, Optional>,
    );
    for (const output of outputs) notes.push(...notesOnOutput(output, values[output.name]));
    return { values, ...judged, notes };
  };
  return Object.freeze({
    name,
    title,
    inputs: Object.freeze(inputs),
    outputs: Object.freeze(outputs),
    formula,
    source,
    limits,
    cautions: Object.freeze(cautionsFor(definition.hazards ?? [])),
    run,
  });
}

function askFor({ name, meaning, unit, typical }: CheckInput): string {
  const inUnit = unit === '1' ? '' : ` in ${unit}`;
  const range = typical ? `, typically ${typical.low} to ${typical.high} (${typical.note})` : '';
  return `${name}${inUnit} (${meaning.replace(/\.$/u, '')}${range})`;
}

/** The quantity in the unit of the input, with its interval inside the range of the input, and the interval as stated. */
function readInput(
  check: string,
  input: CheckInput,
  quantity: Quantity,
): { readonly value: CheckedValue; readonly stated: CheckedValue } {
  const code = unitCode(quantity.unit);
  const what = `${check}: input "${input.name}"`;
  if (code === undefined)
    throw new CheckInputError(`${what} has the unit "${quantity.unit}", which UCUM does not know`);
  if (!sameDimension(code, input.unit)) {
    throw new CheckInputError(
      `${what} is ${formatQuantity(quantity)}, which measures something else; give it in ${input.unit} or a unit of the same dimension`,
    );
  }
  const { value, plusMinus = 0 } = converted(what, { ...quantity, unit: code }, input.unit);
  if (!Number.isFinite(value) || !(plusMinus >= 0 && Number.isFinite(plusMinus))) {
    throw new CheckInputError(`${what} must be a finite number with an uncertainty of 0 or more`);
  }
  const { min = -Infinity, max = Infinity, above = -Infinity } = input;
  const spread = plusMinus === 0 ? '' : ` ± ${plusMinus}`;
  const reach = input.beyond === undefined ? 0 : plusMinus;
  if (value - reach < min || value + reach > max || value - plusMinus <= above) {
    const bounds = [
      ...(input.above === undefined ? [] : [`above ${above}`]),
      ...(input.min === undefined ? [] : [`at least ${min}`]),
      ...(input.max === undefined ? [] : [`at most ${max}`]),
    ];
    const reason = input.beyond === undefined ? '' : `; ${input.beyond}`;
    throw new CheckInputError(
      `${what} must be ${bounds.join(' and ')} (in ${input.unit}); it is ${value}${spread}${reason}`,
    );
  }
  if (input.whole && !Number.isInteger(value))
    throw new CheckInputError(`${what} must be a whole number; it is ${value}`);
  const stated = { value, unit: input.unit, low: value - plusMinus, high: value + plusMinus };
  const low = Math.max(min, stated.low);
  const high = Math.min(max, stated.high);
  return {
    stated,
    value: input.whole
      ? { ...stated, low: Math.ceil(low), high: Math.floor(high) }
      : { ...stated, low, high },
  };
}

/** The inputs without the part of their intervals that would put one above another that it cannot be above. */
function inOrder(
  check: string,
  read: Readonly<Record<string, CheckedValue>>,
  ties: readonly Tie<string>[],
): { readonly given: Record<string, CheckedValue>; readonly cut: readonly string[] } {
  const given = { ...read };
  const cut: string[] = [];
  for (const { lower, upper, because } of ties) {
    if (!(lower in given && upper in given)) continue;
    const kept = keptInOrder(given[lower], given[upper]);
    if (!kept) {
      const [first, second] = [lower, upper].map((one) => `"${one}" (${formatValue(given[one])})`);
      throw new CheckInputError(
        `${check}: input ${first} is above ${second}; ${because}: one of the two is wrong, or they are swapped`,
      );
    }
    if (kept.cut)
      cut.push(`${lower} cannot be above ${upper}: what would put it there is left out of both intervals.`);
    given[lower] = kept.lower;
    given[upper] = kept.upper;
  }
  return { given, cut };
}

function converted(what: string, quantity: Quantity, unit: string): Quantity {
  try {
    return convert(quantity, unit);
  } catch (error) {
    if (error instanceof QuantityError)
      throw new CheckInputError(`${what}: ${error.message}`, { cause: error });
    throw error;
  }
}
