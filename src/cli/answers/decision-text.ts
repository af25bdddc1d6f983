import type { BoundCheck } from '../../decisions/check-inputs.ts';
import { type Decision, decisionEvidence } from '../../decisions/decision.ts';
import { checkOfDecision } from '../../decisions/decision-check.ts';
import { CHECKS } from '../../design-checks/table.ts';
import { describeThing } from '../../evidence/named.ts';
import { toTable } from '../../export/table.ts';
import { isInside, lastOfId } from '../../model/ids.ts';
import { formatQuantity } from '../../model/quantity.ts';
import type { State } from '../../state/state.ts';
import { phraseAsShown } from '../../statistics/likelihood-words.ts';
import { fixed } from '../../text/rounding.ts';
import { boundText } from './check-text.ts';
import { counted } from './figures.ts';

/** Matches and observations shown of one decision. */
const MAX_SHOWN = 10;

/** One decision in full: the probability and what it is made of, reasons, alternatives, where it was seen, and the arithmetic. */
export function decisionText(view: State, decision: Decision): string {
  const { id, deviceId, name, idea, probability, shape, strength, method, standing } = decision;
  const found = method === 'exact' ? '' : ' (an estimate)';
  return [
    `${id}: ${name}\n${view.device(deviceId)?.name ?? deviceId}. ${idea}\n`,
    `Probability ${fixed(probability, 3)}, ${phraseAsShown(probability)}: the shape is there with ${fixed(shape, 3)}${found}, and means the idea with ${strength}.\nStanding: ${standing}.\n`,
    listed('Reasons the designers may have had', decision.reasons),
    listed('What else would explain it', decision.against),
    matchesOf(decision),
    observationsOf(view, decision),
    arithmeticOf(view, decision),
    listed(
      'Verdicts of editors',
      decision.judgements.map(
        ({ verdict, by, reason, on }) => `${on.slice(0, 10)} ${by}: ${verdict}. ${reason}`,
      ),
    ),
  ]
    .filter((text) => text !== '')
    .join('\n');
}

function listed(title: string, lines: readonly string[]): string {
  return lines.length === 0 ? '' : `${title}\n${lines.map((line) => `  - ${line}\n`).join('')}`;
}

function matchesOf({ matches }: Decision): string {
  const rows = matches.slice(0, MAX_SHOWN).map(({ specimenId, bindings, probability }) => ({
    'seen in': specimenId,
    ...Object.fromEntries(
      bindings.map(({ variable, ids }) => [
        variable,
        ids.map((id) => (isInside(id, specimenId) ? lastOfId(id) : id)).join(' '),
      ]),
    ),
    probability: fixed(probability, 3),
  }));
  return `${toTable(rows)}${more(matches.length, 'match', 'matches')}`;
}

function observationsOf(view: State, { matches }: Decision): string {
  const { observations } = decisionEvidence(matches, (id) => view.specimen(id));
  if (observations.length === 0)
    return 'No observation is under it; identifications and positions alone support it.\n';
  const rows = observations.slice(0, MAX_SHOWN).map((id) => ({
    'observation underneath': id,
    'what was seen': describeThing(view, id)?.description ?? '',
  }));
  return `${toTable(rows)}${more(observations.length, 'observation')}`;
}

function more(count: number, one: string, many?: string): string {
  return count > MAX_SHOWN ? `… of ${counted(count, one, many)}; --format json has all\n` : '';
}

function arithmeticOf(view: State, decision: Decision): string {
  const bound = checkOfDecision(view, decision);
  if (!bound) return '';
  const problem = bound.problem === undefined ? '' : `Not calculated: ${bound.problem}\n`;
  const wanted =
    bound.missing.length === 0 ? '' : `\nTo calculate it: caseback calculate ${asArguments(bound)}\n`;
  return `The arithmetic: ${bound.title}\n${boundText(CHECKS[bound.check], bound)}${problem}${wanted}`;
}

/** What the archive knows as arguments of the command line, dots where a figure is wanted. */
function asArguments({ check, inputs, missing }: BoundCheck): string {
  const known = inputs.flatMap(({ name, quantity }) =>
    quantity ? [`"${name}=${formatQuantity(quantity)}"`] : [],
  );
  return [check, ...known, ...missing.map(({ name }) => `"${name}=…"`)].join(' ');
}
