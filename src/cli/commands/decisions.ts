import { checkOfDecision } from '../../decisions/decision-check.ts';
import { type Decision, decisionById, decisionsByPattern, decisionsOf } from '../../decisions/decisions.ts';
import { parseDecisionId } from '../../model/ids.ts';
import { CasebackError } from '../../model/problems.ts';
import { resolved } from '../../state/resolve.ts';
import type { State } from '../../state/state.ts';
import { phraseAsShown } from '../../statistics/likelihood-words.ts';
import { fixed } from '../../text/rounding.ts';
import { decisionText } from '../answers/decision-text.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'decisions',
  about:
    "Design decisions that named patterns suggest of a device, or the devices of which a pattern suggests one: with probability, standing, and the verdict of its design check. The id of a decision (device:pattern) gives that one in full: reasons the designers may have had, what else would explain it, where it was seen, the observations underneath, and the arithmetic. Record an editor's verdict on one with judge-decision.",
  arguments: [
    { name: 'ID', help: 'a device, or a decision (device:pattern) to see it in full', optional: true },
  ],
  options: { pattern: text('PATTERN', 'the decision of one named pattern in all devices') },
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: [
    'decisions tarn-sennit-3',
    'decisions thovane-calcar-2:duplicated-sensors',
    'decisions --pattern amplifier-at-the-sensor',
  ],

  async run(call) {
    const [id] = call.arguments;
    const { pattern } = call.options;
    if (id !== undefined && pattern !== undefined)
      throw new UsageError('--pattern does not go with a device; give one of the two');
    if (id === undefined && pattern === undefined)
      throw new UsageError('name a device, or a pattern with --pattern');
    const view = await call.view();
    if (id !== undefined && parseDecisionId(id)) {
      const decision = await decisionAt(view, id);
      return {
        text: () => decisionText(view, decision),
        csv: () => [rowOf(view, decision)],
        json: () => [decision],
      };
    }
    const found = await (id === undefined
      ? decisionsByPattern(view, pattern as string)
      : decisionsOf(view, id));
    const sorted = found.toSorted((a, b) => b.probability - a.probability);
    return {
      table: () => sorted.map((decision) => rowOf(view, decision)),
      heading: ['decision', 'probability', 'likelihood', 'standing', 'matches', 'check', 'name'],
      json: () => sorted,
    };
  },
});

function rowOf(view: State, decision: Decision) {
  return {
    decision: decision.id,
    probability: fixed(decision.probability, 3),
    likelihood: phraseAsShown(decision.probability),
    standing: decision.standing,
    matches: String(decision.matches.length),
    check: checkVerdict(view, decision),
    name: decision.name,
  };
}

async function decisionAt(view: State, id: string): Promise<Decision> {
  const decision = await decisionById(view, id);
  if (decision) return decision;
  const { device } = resolved(view, id, ['Decision']);
  throw new CasebackError(
    'NOT_FOUND',
    `No pattern suggests a decision ${quoted(id)}; "caseback decisions ${device.id}" lists those of the device`,
  );
}

/** What the arithmetic of the most certain match gives, in a few words. */
function checkVerdict(view: State, decision: Decision): string {
  const bound = checkOfDecision(view, decision);
  if (!bound) return '';
  if (bound.missing.length > 0) return `needs ${bound.missing.map(({ name }) => name).join(', ')}`;
  return bound.result?.verdict.replaceAll('-', ' ') ?? 'not calculated';
}
