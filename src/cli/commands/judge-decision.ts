import { DECISION_VERDICTS } from '../../model/decision.ts';
import { didYouMean } from '../../text/near.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';

export const command = defineCommand({
  name: 'judge-decision',
  about:
    "Records an editor's verdict on a design decision. The probability stays what the evidence makes it. A rejected decision counts for nothing until its evidence changes; then it is listed as reopened.",
  arguments: [
    { name: 'DECISION', help: 'id of the decision, device:pattern' },
    { name: 'VERDICT', help: `one of ${DECISION_VERDICTS.join(', ')}` },
  ],
  uses: 'change',
  formats: ['text', 'json'],
  examples: [
    'judge-decision tarn-sennit-3:duplicated-sensors rejected --reason "second one is an assembly option"',
  ],

  async run(call) {
    const [id, written] = call.arguments;
    const verdict = DECISION_VERDICTS.find((one) => one === written);
    if (!verdict) {
      const fix = didYouMean(written, DECISION_VERDICTS) ?? `say ${DECISION_VERDICTS.join(', ')}`;
      throw new UsageError(`${quoted(written)} is not a valid verdict; ${fix}`);
    }
    const by = call.authorship();
    const archive = await call.changing();
    const entry = await archive.judgeDecision(id, verdict, by, 'desk');
    return { json: () => entry, messages: [`${id} ${verdict}, journaled as entry ${entry.sequence}`] };
  },
});
