import { checkOfDecision } from '../decisions/decision-check.ts';
import { type Decision, decisionById, decisionsByPattern, decisionsOf } from '../decisions/decisions.ts';
import { toCsv } from '../export/csv.ts';
import { toTable } from '../export/table.ts';
import { parseDecisionId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { resolved } from '../state/resolve.ts';
import type { View } from '../state/view.ts';
import { likelihoodPhrase } from '../statistics/likelihood-words.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { decisionText } from './decision-text.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage:
    'decisions DEVICE | DECISION | --pattern PATTERN [--format table|csv|json] [--data FOLDER] [--audience reader|desk]',
  help: `Design decisions that named patterns suggest of a device, or the devices of which a pattern suggests one: with
probability, how it stands, and what the arithmetic of its check says. The id of a decision (device:pattern) gives that
one in full: reasons the designers may have had, what else would explain it, where it was seen, the observations
underneath, and the arithmetic. What an editor makes of one is entered with judge-decision.

${DATA_HELP}
  --pattern PATTERN the decision of one named pattern in all devices
  --format table    a row a decision (default); csv the same; json with all matches, reasons and rivals
${AUDIENCE_HELP}

  caseback decisions tarn-loop-3
  caseback decisions thovane-calcar-2:duplicated-sensors
  caseback decisions --pattern amplifier-at-the-sensor`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    pattern: { type: 'string' },
    format: { type: 'string' },
  },
  words: 1,

  async run([device], values) {
    const pattern = textOf(values, 'pattern');
    if ((device === undefined) === (pattern === undefined))
      throw new UsageError('name a device, or a pattern with --pattern');
    const format = choiceOf(values, 'format', ['table', 'csv', 'json'], 'table');
    const archive = await openArchive(dataFolder(values));
    try {
      const view = archive.view(audienceOf(values));
      const one =
        device === undefined || !parseDecisionId(device) ? undefined : await decisionAt(view, device);
      const found = one
        ? [one]
        : device === undefined
          ? await decisionsByPattern(view, pattern as string)
          : await decisionsOf(view, device);
      const sorted = found.toSorted((a, b) => b.probability - a.probability);
      if (format === 'json') process.stdout.write(`${JSON.stringify(sorted, null, 2)}\n`);
      else if (one && format === 'table') process.stdout.write(decisionText(view, one));
      else {
        const rows = sorted.map((one) => ({
          decision: one.id,
          probability: one.probability.toFixed(3),
          likelihood: likelihoodPhrase(one.probability),
          standing: one.standing,
          matches: String(one.matches.length),
          check: checkOf(view, one),
          name: one.name,
        }));
        process.stdout.write(format === 'csv' ? toCsv(rows) : toTable(rows));
      }
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

async function decisionAt(view: View, id: string): Promise<Decision> {
  const decision = await decisionById(view, id);
  if (decision) return decision;
  const { device } = resolved(view, id, ['Decision']);
  throw new CasebackError(
    'NOT_FOUND',
    `No pattern suggests a decision "${id}"; "caseback decisions ${device.id}" lists those of the device`,
  );
}

/** What the arithmetic says of the most certain match, in a few words. */
function checkOf(view: View, decision: Decision): string {
  const bound = checkOfDecision(view, decision);
  if (!bound) return '';
  if (bound.missing.length > 0) return `wants ${bound.missing.map(({ name }) => name).join(', ')}`;
  return bound.result?.verdict.replaceAll('-', ' ') ?? 'not reckoned';
}
