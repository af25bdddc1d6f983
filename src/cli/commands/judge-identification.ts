import { judgementSchema } from '../../model/dossier.ts';
import { lastOfId, specimenOfId } from '../../model/ids.ts';
import { cautionLines } from '../answers/cautions.ts';
import { checkedRecord } from '../arguments/record.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { pointFor } from '../frame/options.ts';

export const command = defineCommand({
  name: 'judge-identification',
  about:
    'Records an editor\'s own judgement of what a component is, as one more piece of evidence beside all others; nothing is overwritten, and "candidates" shows it with its weight. 10 decibans for a part make it ten times as likely, 10 against it a tenth; 0 to 60. To replace the identification on record, use "correct identify".',
  arguments: [
    { name: 'COMPONENT', help: 'id of the component, device/specimen/local' },
    { name: 'SIDE', help: '"for" or "against"' },
    { name: 'PART', help: 'id of the part, maker/number' },
    { name: 'DECIBANS', help: 'weight of the judgement, 0 to 60' },
  ],
  uses: 'change',
  formats: ['text', 'json'],
  examples: [
    'judge-identification tarn-sennit-5/a/U2 for quistle/QWR4T70 6 --reason "the same lid as in the Sennit 6"',
    'judge-identification tarn-sennit-5/a/U2 against quistle/QWR4T60 10 --reason "that one was out of production"',
  ],

  async run(call) {
    const [id, side, part, weight] = call.arguments;
    if (side !== 'for' && side !== 'against')
      throw new UsageError(
        `${quoted(side)} is not a valid side; write COMPONENT for PART DECIBANS, or against`,
      );
    const decibans = Number(weight);
    if (weight.trim() === '' || !(decibans >= 0))
      throw new UsageError(
        `${quoted(weight)} is not a valid weight; ${pointFor(weight) ?? 'give decibans, 0 to 60'}`,
      );
    const by = call.authorship();
    const judgement = checkedRecord(judgementSchema, 'judgement', {
      component: lastOfId(id),
      part,
      decibans: side === 'for' ? decibans : -decibans,
      by: by.actor,
      reason: by.reason,
      on: new Date().toISOString().slice(0, 10),
    });
    const archive = await call.changing();
    const entry = await archive.judgeIdentification(specimenOfId(id), judgement, by, 'desk');
    return {
      json: () => entry,
      messages: [...cautionLines(entry.cautions), `${id} judged, journaled as entry ${entry.sequence}`],
    };
  },
});
