import type { BoundCheck } from '../decisions/check-inputs.ts';
import { CheckInputError, type CheckResult, type DesignCheck } from '../design-checks/check.ts';
import { CHECKS, checkNamed } from '../design-checks/table.ts';
import { toTable } from '../export/table.ts';
import { CasebackError } from '../model/problems.ts';
import { parseQuantity, type Quantity, QuantityError } from '../model/quantity.ts';
import { notFound } from '../state/resolve.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { answered, boundAnswer, footing, typicalOf } from './check-text.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError, type Values } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage:
    'reckon [CHECK [NAME=VALUE ...]] [--device ID] [--format table|json] [--data FOLDER] [--audience reader|desk]',
  help: `Reckons one design check: values with the range that the uncertainty of the inputs allows, a sentence, and whether it
supports the design reason or speaks against it. Without a check all are listed; with a check and no values, its
inputs are, with the ranges that are usual (common practice, no source), formula, source and limits. What is
missing is asked for and never filled in. Any unit of the right kind will do; "45 mA +- 3" is uncertain by 3 mA.
Nothing of this is medical advice. An archive is needed for --device only, and for some checks: it fills in what is
known of a device's parts (schema/device-checks.yaml), says where each figure came from, and asks for the rest.

  --device ID       take inputs from the first specimen of a device; values given here stand above them
  --format table    text (default), or json at full precision
${DATA_HELP}
${AUDIENCE_HELP}

  caseback reckon
  caseback reckon charge-rate
  caseback reckon haptic-start --device tarn-loop-5 "lowestVoltage=3 V"
  caseback reckon charge-rate "capacity=90 mA.h" "chargeCurrent=45 mA +- 3" "rateAllowed=1 /h"`,
  options: { ...DATA_OPTION, ...AUDIENCE_OPTION, device: { type: 'string' }, format: { type: 'string' } },

  async run([name, ...words], values) {
    const device = textOf(values, 'device');
    const format = choiceOf(values, 'format', ['table', 'json'], 'table');
    const print = (data: unknown, text: () => string) =>
      process.stdout.write(format === 'json' ? `${JSON.stringify(data, null, 2)}\n` : text());
    if (name === undefined) {
      if (device !== undefined) throw new UsageError('name the check that is to be reckoned for the device');
      const all = Object.values(CHECKS);
      print(all.map(told), () =>
        toTable(all.map((check) => ({ check: check.name, 'what it tells': check.title }))),
      );
      return EXIT.fine;
    }
    const check = named(name);
    if (device !== undefined) {
      const bound = await ofDevice(device, check.name, inputsIn(words, check), values);
      print(bound, () => boundAnswer(check, bound));
      if (bound.problem !== undefined) throw new CasebackError('BAD_INPUT', bound.problem);
      return bound.result ? EXIT.fine : EXIT.problems;
    }
    if (words.length === 0) {
      print(told(check), () => described(check));
      return EXIT.fine;
    }
    const result = run(check, inputsIn(words, check));
    print({ check: told(check), result }, () => answered(check, result));
    return result.missing ? EXIT.problems : EXIT.fine;
  },
};

async function ofDevice(
  id: string,
  check: string,
  given: Readonly<Record<string, Quantity>>,
  values: Values,
): Promise<BoundCheck> {
  const { DEVICE_CHECKS, deviceChecks } = await import('../decisions/check-device.ts');
  if (!DEVICE_CHECKS.some(({ name }) => name === check)) {
    const names = DEVICE_CHECKS.map(({ name }) => name).join(', ');
    throw new UsageError(`"${check}" takes nothing from a device by itself; these do: ${names}`);
  }
  const archive = await openArchive(dataFolder(values));
  try {
    const view = archive.view(audienceOf(values));
    const device = view.device(id);
    const [row] = view.specimensOf(id);
    const specimen = row && view.specimen(row.id);
    if (!device || !specimen) throw notFound(view, id, ['Device']);
    const [bound] = deviceChecks(specimen, device, (part) => view.part(part), check, given);
    if (!bound) throw new CasebackError('BAD_INPUT', `${id} holds nothing that "${check}" is about`);
    return bound;
  } finally {
    await archive.close();
  }
}

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
