import { parseThingId, specimenOfId } from '../../model/ids.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';

export const command = defineCommand({
  name: 'withdraw',
  about:
    'Withdraws an observation: it stays on record, marked, and counts for nothing. Where something published may be supported by it, "correct withdraw" does the same and names every sentence that it touches.',
  arguments: [{ name: 'OBSERVATION', help: 'id of the observation, device/specimen/local' }],
  uses: 'change',
  formats: ['text', 'json'],
  examples: ['withdraw tarn-sennit-3/a/o4 --reason "another unit was on the bench"'],

  async run(call) {
    const [id] = call.arguments;
    const thing = parseThingId(id);
    if (!thing)
      throw new UsageError(`${quoted(id)} is not a valid observation id; write it as tarn-sennit-3/a/o4`);
    const by = call.authorship();
    const archive = await call.changing();
    const entry = await archive.withdrawObservation(specimenOfId(id), thing.local, by, 'desk');
    return { json: () => entry, messages: [`${id} withdrawn, journaled as entry ${entry.sequence}`] };
  },
});
