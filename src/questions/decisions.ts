// Design decisions and the checks of their arithmetic. The code is loaded on first use.

import type { BoundCheck } from '../decisions/check-inputs.ts';
import type { Decision, DecisionEvidence } from '../decisions/decision.ts';
import type { CheckResult, DesignCheck } from '../design-checks/check.ts';
import { CasebackError } from '../model/problems.ts';
import type { Quantity } from '../model/quantity.ts';
import { notFound, notOpened } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { mistakesTold } from './pattern-mistakes.ts';

type Inputs = Readonly<Record<string, Quantity>>;

/** One decision; undefined when its pattern does not fit, or nothing visible has the id. */
export async function decisionById(
  state: State,
  id: string,
  signal?: AbortSignal,
): Promise<Decision | undefined> {
  const decisions = await import('../decisions/decisions.ts');
  return mistakesTold(() => decisions.decisionById(state, id, signal));
}

/**
 * Decisions of a device, or those of a pattern in every visible device, likeliest first.
 * @throws CasebackError NOT_FOUND
 */
export async function decisionsOf(
  state: State,
  of: { readonly device: string } | { readonly pattern: string },
  signal?: AbortSignal,
): Promise<readonly Decision[]> {
  const decisions = await import('../decisions/decisions.ts');
  return mistakesTold(() =>
    'device' in of
      ? decisions.decisionsOf(state, of.device, signal)
      : decisions.decisionsByPattern(state, of.pattern, signal),
  );
}

/** The components and boards of a decision, and their observations. */
export async function evidenceOfDecision(state: State, { matches }: Decision): Promise<DecisionEvidence> {
  const { decisionEvidence } = await import('../decisions/decision.ts');
  return decisionEvidence(matches, (id) => state.specimen(id));
}

/** The check that tests a decision, with the figures of its most certain match; undefined when its pattern has none. */
export async function checkOfDecision(
  state: State,
  decision: Decision,
  given: Inputs,
): Promise<BoundCheck | undefined> {
  const check = await import('../decisions/decision-check.ts');
  return asked(() => check.checkOfDecision(state, decision, given));
}

/** Every design check. */
export async function designChecks(): Promise<readonly DesignCheck[]> {
  return Object.values((await import('../design-checks/table.ts')).CHECKS);
}

/** The design check of a name. @throws CasebackError BAD_INPUT with near names */
export async function designCheck(name: string): Promise<DesignCheck> {
  const { checkNamed } = await import('../design-checks/table.ts');
  return asked(() => checkNamed(name));
}

/** Runs a design check. @throws CasebackError BAD_INPUT that names the input and how to fix it */
export async function runCheck(check: DesignCheck, inputs: Inputs): Promise<CheckResult> {
  return asked(() => check.run(inputs));
}

/**
 * Design checks of a single device, on its first specimen; all, or the named check.
 * @throws CasebackError NOT_FOUND, BAD_INPUT
 */
export async function checksOfDevice(
  state: State,
  id: string,
  check: string | undefined,
  given: Inputs,
): Promise<readonly BoundCheck[]> {
  const { deviceChecks } = await import('../decisions/check-device.ts');
  const device = state.device(id);
  const [row] = state.specimensOf(id);
  const specimen = row && state.specimen(row.id);
  if (!device || !specimen) throw device ? notOpened(device) : notFound(state, id, ['Device']);
  const only = check === undefined ? undefined : (await designCheck(check)).name;
  if (only === undefined && Object.keys(given).length > 0)
    throw new CasebackError('BAD_INPUT', 'inputs need a check; give the name of the check as well');
  return deviceChecks(specimen, device, (part) => state.part(part), only, given);
}

/** Errors of a check's inputs as BAD_INPUT. */
async function asked<T>(work: () => T): Promise<T> {
  const { CheckInputError } = await import('../design-checks/check.ts');
  try {
    return work();
  } catch (error) {
    if (error instanceof CheckInputError) throw new CasebackError('BAD_INPUT', error.message);
    throw error;
  }
}
