import { CheckInputError, type CheckResult, type DesignCheck } from '../../design-checks/check.ts';
import { CHECKS, checkNamed } from '../../design-checks/table.ts';
import { CasebackError } from '../../model/problems.ts';
import { parseQuantity, type Quantity, QuantityError } from '../../model/quantity.ts';
import { notFound, notOpened } from '../../state/resolve.ts';
import { boundRows, boundText, checkText, inputRows, resultRows, resultText } from '../answers/check-text.ts';
import type { Answer } from '../frame/answer.ts';
import type { Call } from '../frame/call.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT, quoted, UsageError } from '../frame/exit.ts';
import { text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'calculate',
  about:
    'Calculates one design check: values with the range that the uncertainty of the inputs allows, a sentence, and whether it supports the design reason or speaks against it. Without a check all are listed; with a check and no inputs, its inputs are, with their usual ranges (common practice, no source), formula, source and limits. What is missing is asked for and never filled in. Any unit of the right kind will do; "45 mA +- 3" is uncertain by 3 mA. Nothing of this is medical advice. An archive is needed for --device only: it gives some checks what is known of a device\'s parts (schema/device-checks.yaml) and where each figure came from.',
  arguments: [
    { name: 'CHECK', help: 'name of the check', optional: true },
    { name: 'INPUT=VALUE', help: 'an input with its value and unit', optional: true, many: true },
  ],
  options: {
    device: text('ID', 'take inputs from the first specimen of a device; values given here replace them'),
  },
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: [
    'calculate',
    'calculate charge-rate',
    'calculate haptic-start --device tarn-sennit-5 "lowestVoltage=3 V"',
    'calculate charge-rate "capacity=90 mA.h" "chargeCurrent=45 mA +- 3" "rateAllowed=1 /h"',
  ],

  async run(call) {
    const { device } = call.options;
    const [name, ...inputs] = call.arguments;
    if (name === undefined) {
      if (device !== undefined) throw new UsageError('name the check to calculate for the device');
      const all = Object.values(CHECKS);
      return {
        table: () => all.map((check) => ({ check: check.name, 'what it shows': check.title })),
        json: () => all.map(recordOf),
      };
    }
    const check = checkOfName(name);
    if (device !== undefined) return deviceAnswer(check, device, inputsIn(inputs, check), call);
    if (inputs.length === 0)
      return { text: () => checkText(check), table: () => inputRows(check), json: () => recordOf(check) };
    const result = resultOf(check, inputsIn(inputs, check));
    return {
      text: () => resultText(check, result),
      table: () => resultRows(check, result),
      json: () => ({ check: recordOf(check), result }),
      exit: result.missing ? EXIT.problems : EXIT.fine,
    };
  },
});

async function deviceAnswer(
  check: DesignCheck,
  id: string,
  given: Readonly<Record<string, Quantity>>,
  call: Call,
): Promise<Answer> {
  const { DEVICE_CHECKS, deviceChecks } = await import('../../decisions/check-device.ts');
  if (!DEVICE_CHECKS.some(({ name }) => name === check.name)) {
    const names = DEVICE_CHECKS.map(({ name }) => name).join(', ');
    throw new UsageError(`"${check.name}" takes no input from a device; these do: ${names}`);
  }
  const view = await call.view();
  const device = view.device(id);
  const [row] = view.specimensOf(id);
  const specimen = row && view.specimen(row.id);
  if (!device || !specimen) throw device ? notOpened(device) : notFound(view, id, ['Device']);
  const [bound] = deviceChecks(specimen, device, (part) => view.part(part), check.name, given);
  if (!bound) throw new CasebackError('BAD_INPUT', `${id} has nothing that "${check.name}" is about`);
  const { problem } = bound;
  return {
    text: () => boundText(check, bound),
    table: () => boundRows(bound),
    json: () => bound,
    messages: problem === undefined ? [] : [`caseback calculate: ${problem}`],
    exit: bound.result ? EXIT.fine : EXIT.problems,
  };
}

function checkOfName(name: string): DesignCheck {
  try {
    return checkNamed(name);
  } catch (error) {
    if (error instanceof CheckInputError) throw new UsageError(error.message);
    throw error;
  }
}

function resultOf(check: DesignCheck, inputs: Readonly<Record<string, Quantity>>): CheckResult {
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
        `${quoted(word)} is not a valid input; write name=value, such as "${example.name}=1 ${example.unit}"`,
      );
    }
    const name = word.slice(0, cut).trim();
    if (inputs.has(name)) throw new UsageError(`${quoted(name)} is given twice`);
    inputs.set(name, quantityIn(word.slice(cut + 1), name));
  }
  return Object.fromEntries(inputs);
}

/** The uncertainty behind the unit, as people write it: `45 mA +- 3`. */
const SPREAD_LAST =
  /^(\s*[+-]?[\d.]+(?:[eE][+-]?\d+)?)\s*([^\d\s±+.].*?)\s*(±|\+\/-|\+-)\s*([\d.]+(?:[eE][+-]?\d+)?)\s*$/u;

function quantityIn(text: string, name: string): Quantity {
  const [, value, unit, , spread] = SPREAD_LAST.exec(text) ?? [];
  try {
    return parseQuantity(value === undefined ? text : `${value} ± ${spread} ${unit}`);
  } catch (error) {
    if (error instanceof QuantityError) throw new UsageError(`${name}: ${error.message}`);
    throw error;
  }
}

function recordOf({ run: _, ...check }: DesignCheck) {
  return check;
}
