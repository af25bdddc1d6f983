import type { BoundCheck } from '../../decisions/check-inputs.ts';
import {
  type CheckInput,
  CheckInputError,
  type CheckResult,
  type DesignCheck,
} from '../../design-checks/check.ts';
import { checkNamed } from '../../design-checks/table.ts';
import { CasebackError } from '../../model/problems.ts';
import type { Quantity } from '../../model/quantity.ts';
import { unitCode } from '../../model/quantity.ts';
import { enumName } from '../base/enums.ts';

/** An input as it comes in. */
export interface Given {
  readonly name: string;
  readonly quantity: { readonly value: number; readonly unit: string; readonly plusMinus?: number | null };
}

/** Inputs in one question. */
const MOST_INPUTS = 40;

/**
 * Quantities by name.
 * @throws CasebackError BAD_INPUT for an unknown unit or a name given twice
 */
export function givenInputs(inputs: readonly Given[]): Record<string, Quantity> {
  if (inputs.length > MOST_INPUTS)
    throw new CasebackError('TOO_LARGE', `${inputs.length} inputs are given; at most ${MOST_INPUTS}`);
  const byName = new Map<string, Quantity>();
  for (const { name, quantity } of inputs) {
    const { value, unit, plusMinus } = quantity;
    if (byName.has(name)) throw new CasebackError('BAD_INPUT', `the input "${name}" is given twice`);
    const code = unitCode(unit);
    if (code === undefined)
      throw new CasebackError(
        'BAD_INPUT',
        `${name}: "${unit}" is no unit that UCUM knows; write for example "mA"`,
      );
    byName.set(name, { value, unit: code, ...(plusMinus == null ? {} : { plusMinus }) });
  }
  return Object.fromEntries(byName);
}

/** Runs work on checks; what a check cannot reckon with is the asker's to mend. */
export function mended<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof CheckInputError) throw new CasebackError('BAD_INPUT', error.message);
    throw error;
  }
}

/** A check as the schema has it. */
export function checkSource({ inputs, run: _, ...check }: DesignCheck) {
  return { ...check, inputs: inputs.map(inputSource) };
}

function inputSource(input: CheckInput) {
  return { ...input, whole: input.whole ?? false };
}

export function resultSource(check: DesignCheck, { values, sentence, verdict, missing = [] }: CheckResult) {
  const meanings = new Map(check.outputs.map(({ name, meaning }) => [name, meaning]));
  return {
    values: Object.entries(values).map(([name, value]) => ({ name, ...value, meaning: meanings.get(name) })),
    sentence,
    verdict: enumName(verdict),
    missing: wanted(check, missing),
    check: checkSource(check),
  };
}

function wanted(check: DesignCheck, names: readonly string[]) {
  return check.inputs.filter(({ name }) => names.includes(name)).map(inputSource);
}

/** The check of a pattern with its figures, as the schema has it; null when there is none. */
export function boundCheckSource(bound: BoundCheck | undefined) {
  if (!bound) return null;
  const check = checkNamed(bound.check);
  const names = bound.missing.map(({ name }) => name);
  return {
    check: checkSource(check),
    inputs: bound.inputs.map(({ identified: _, ...input }) => ({ ...input, origin: enumName(input.origin) })),
    missing: wanted(check, names),
    result: bound.result ? resultSource(check, bound.result) : null,
    problem: bound.problem,
    probability: bound.probability,
  };
}
