import { type CheckInput, CheckInputError, type CheckResult, type DesignCheck } from '../checks/check.ts';
import { short, spoken } from '../checks/spoken.ts';
import { CHECKS, checkNamed } from '../checks/table.ts';
import { toTable } from '../export/table.ts';
import { CasebackError } from '../model/problems.ts';
import { parseQuantity, type Quantity, QuantityError } from '../model/quantity.ts';
import { type Command, choiceOf, EXIT, UsageError } from './command.ts';

export const command: Command = {
  usage: 'reckon [CHECK [NAME=VALUE ...]] [--format table|json]',
  help: `Reckons one design check: values with the range that the uncertainty of the inputs allows, a sentence, and whether it
supports the design reason or speaks against it. Without a check all are listed; with a check and no values, its
inputs are, with the ranges that are usual (common practice, no source), formula, source and limits. What is
missing is asked for and never filled in. Any unit of the right kind will do; "45 mA +- 3" is uncertain by 3 mA.
Nothing of this is medical advice. No archive is needed.

  --format table    text (default), or json at full precision

  caseback reckon
  caseback reckon charge-rate
  caseback reckon charge-rate "capacity=90 mA.h" "chargeCurrent=45 mA +- 3" "rateAllowed=1 /h"`,
  options: { format: { type: 'string' } },

  async run([name, ...words], values) {
    const format = choiceOf(values, 'format', ['table', 'json'], 'table');
    const print = (data: unknown, text: () => string) =>
      process.stdout.write(format === 'json' ? `${JSON.stringify(data, null, 2)}\n` : text());
    if (name === undefined) {
      const all = Object.values(CHECKS);
      print(all.map(told), () =>
        toTable(all.map((check) => ({ check: check.name, 'what it tells': check.title }))),
      );
      return EXIT.fine;
    }
    const check = named(name);
    if (words.length === 0) {
      print(told(check), () => described(check));
      return EXIT.fine;
    }
    const result = run(check, inputsIn(words, check));
    print({ check: told(check), result }, () => answered(check, result));
    return result.missing ? EXIT.problems : EXIT.fine;
  },
};

function named(name: string): DesignCheck {
  try {
    return checkNamed(name);
  } catch (error) {
    if (error instanceof CheckInputError) throw new UsageError(error.message);
    throw error;
  }
}

function run(check: DesignCheck, inputs: Readonly<Record<string, Quantity>>): CheckResult {
  try {
    return check.run(inputs);
  } catch (error) {
    if (error instanceof CheckInputError) throw new CasebackError('BAD_INPUT', error.message);
    throw error;
  }
}

function inputsIn(words: readonly string[], check: DesignCheck): Record<string, Quantity> {
  const inputs = new Map<string, Quantity>();
  for (const word of words) {
    const cut = word.indexOf('=');
    if (cut < 1) {
      const example = check.inputs[0];
      throw new UsageError(
        `"${word}" is no input; write name=value, such as "${example.name}=1 ${example.unit}"`,
      );
    }
    const name = word.slice(0, cut).trim();
    if (inputs.has(name)) throw new UsageError(`"${name}" is given twice`);
    inputs.set(name, quantityIn(word.slice(cut + 1), name));
  }
  return Object.fromEntries(inputs);
}

/** The uncertainty behind the unit, as people write it: `45 mA +- 3`. */
const SPREAD_LAST =
  /^(\s*[+-]?[\d.]+(?:[eE][+-]?\d+)?)\s*([^\d\s±+].*?)\s*(±|\+\/-|\+-)\s*([\d.]+(?:[eE][+-]?\d+)?)\s*$/u;

function quantityIn(text: string, name: string): Quantity {
  const [, value, unit, , spread] = SPREAD_LAST.exec(text) ?? [];
  try {
    return parseQuantity(value === undefined ? text : `${value} ± ${spread} ${unit}`);
  } catch (error) {
    if (error instanceof QuantityError) throw new UsageError(`${name}: ${error.message}`);
    throw error;
  }
}

function told({ run: _, ...check }: DesignCheck) {
  return check;
}

function described(check: DesignCheck): string {
  const inputs = check.inputs.map((input) => ({
    input: input.name,
    unit: input.unit,
    wanted: input.optional ? 'if known' : 'yes',
    typical: typicalOf(input),
    meaning: input.meaning,
  }));
  const outputs = check.outputs.map(({ name, unit, meaning }) => ({ output: name, unit, meaning }));
  return `${check.title}\n\n${toTable(inputs)}\n${toTable(outputs)}\n${footing(check)}`;
}

function typicalOf({ typical }: CheckInput): string {
  return typical ? `${short(typical.low)} to ${short(typical.high)} (${typical.note})` : '';
}

function answered(check: DesignCheck, { values, sentence, verdict, missing = [] }: CheckResult): string {
  if (missing.length > 0) {
    const wanted = check.inputs
      .filter(({ name }) => missing.includes(name))
      .map((input) => ({
        wanted: input.name,
        unit: input.unit,
        typical: typicalOf(input),
        meaning: input.meaning,
      }));
    return `Not reckoned yet.\n\n${toTable(wanted)}`;
  }
  const meanings = new Map(check.outputs.map(({ name, meaning }) => [name, meaning]));
  const rows = Object.entries(values).map(([name, value]) => ({
    value: name,
    comes_to: spoken(value),
    meaning: meanings.get(name) ?? '',
  }));
  const says = verdict.replaceAll('-', ' ');
  return `${toTable(rows)}\n${sentence}\nVerdict: ${says}.\n\n${footing(check)}`;
}

function footing({ formula, source, limits, cautions }: DesignCheck): string {
  const minded = cautions.map((caution) => `caution: ${caution}`).join('\n');
  return `Formula: ${formula}\nSource: ${source}\nLimits: ${limits}\n${minded}\n`;
}
