import type { BoundCheck } from '../../../decisions/check-inputs.ts';
import type { CheckInput, CheckResult, DesignCheck } from '../../../design-checks/check.ts';
import { decisionId } from '../../../model/ids.ts';
import { CasebackError } from '../../../model/problems.ts';
import { type Quantity, unitCode } from '../../../model/quantity.ts';
import {
  designChecks as allChecks,
  checkOfDecision,
  checksOfDevice,
  decisionById,
  designCheck,
  runCheck,
} from '../../../questions/decisions.ts';
import { resolved } from '../../../state/resolve.ts';
import { viewOf } from '../context.ts';
import type * as Api from '../resolver-types.ts';
import { enumName } from '../words.ts';

/** Inputs in one question. */
const MAX_INPUTS = 40;

/**
 * Quantities by name.
 * @throws CasebackError BAD_INPUT for an unknown unit or a name given twice
 */
export function givenInputs(inputs: readonly Api.CheckInputValue[]): Record<string, Quantity> {
  if (inputs.length > MAX_INPUTS)
    throw new CasebackError('TOO_LARGE', `${inputs.length} inputs are given; at most ${MAX_INPUTS}`);
  const byName = new Map<string, Quantity>();
  for (const { name, quantity } of inputs) {
    const { value, unit, plusMinus } = quantity;
    if (byName.has(name)) throw new CasebackError('BAD_INPUT', `the input "${name}" is given twice`);
    const code = unitCode(unit);
    if (code === undefined)
      throw new CasebackError(
        'BAD_INPUT',
        `${name}: "${unit}" is not a unit that UCUM knows; write for example "mA"`,
      );
    byName.set(name, { value, unit: code, ...(plusMinus == null ? {} : { plusMinus }) });
  }
  return Object.fromEntries(byName);
}

/** A check as the schema has it. */
function checkSource({ inputs, run: _, ...check }: DesignCheck) {
  return { ...check, inputs: inputs.map(inputSource) };
}

function inputSource({ whole, optional, ...input }: CheckInput) {
  return { ...input, isOptional: optional, isInteger: whole ?? false };
}

function resultSource(check: DesignCheck, { values, sentence, verdict, notes, missing = [] }: CheckResult) {
  const meanings = new Map(check.outputs.map(({ name, meaning }) => [name, meaning]));
  return {
    values: Object.entries(values).map(([name, value]) => ({
      name,
      ...value,
      meaning: meanings.get(name) ?? name,
    })),
    sentence,
    verdict: enumName(verdict),
    notes,
    missing: wanted(check, missing),
    check: checkSource(check),
  };
}

function wanted(check: DesignCheck, names: readonly string[]) {
  return check.inputs.filter(({ name }) => names.includes(name)).map(inputSource);
}

/** A check with the figures of one device, as the schema has it. */
export async function boundCheckSource(bound: BoundCheck) {
  const check = await designCheck(bound.check);
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

/** Calculators that test design reasons with numbers. */
export const designChecks: Api.Resolvers = {
  Query: {
    designChecks: async () => (await allChecks()).map(checkSource),
    calculate: async (_root, { check: name, inputs }) => {
      const check = await designCheck(name);
      return resultSource(check, await runCheck(check, givenInputs(inputs)));
    },
    patternCheck: async (root, { pattern: id, device, given }, context) => {
      const view = viewOf(root, context);
      const { thing: pattern } = resolved(view, id, ['Pattern']);
      resolved(view, device, ['Device']);
      if (!pattern.check) return null;
      const decision = await decisionById(view, decisionId(device, id), context.signal());
      const bound = decision && (await checkOfDecision(view, decision, givenInputs(given)));
      return bound ? boundCheckSource(bound) : null;
    },
    deviceChecks: async (root, { device, check, given }, context) => {
      const view = viewOf(root, context);
      const bound = await checksOfDevice(view, device, check ?? undefined, givenInputs(given));
      return Promise.all(bound.map(boundCheckSource));
    },
  },
  Pattern: {
    check: async ({ check }) => {
      const found = check && (await allChecks()).find(({ name }) => name === check.name);
      return found ? checkSource(found) : null;
    },
  },
};
