import { defineCommand } from '../frame/command.ts';
import { UsageError } from '../frame/exit.ts';
import { pastInstant } from '../frame/instant.ts';

export const command = defineCommand({
  name: 'correct-clock',
  about:
    'Re-dates entries of the journal that a wrong clock dated, for whatever is asked of an instant (--as-of, asOf). Give the first and the last of them, as "caseback history" numbers them, and when the first was written; the others keep their distance from it. What the entries say stays as it was written, and the correction is an entry of its own.',
  arguments: [
    { name: 'FIRST', help: 'sequence of the first entry that a wrong clock dated' },
    { name: 'LAST', help: 'sequence of the last one' },
    {
      name: 'AT',
      help: 'when the first was written: 2026-03-01T09:00:00Z, or a date for the end of that day in UTC',
    },
  ],
  uses: 'change',
  formats: ['text', 'json'],
  examples: ['correct-clock 120 131 2026-03-01T09:00:00Z --reason "the clock was a year ahead"'],

  async run(call) {
    const [first, last] = call.arguments.slice(0, 2).map(sequenceIn) as [number, number];
    const at = pastInstant(call.arguments[2] as string, 'AT', new Date());
    const by = call.authorship();
    const archive = await call.changing();
    const entry = await archive.correctClock({ first, last, at }, by);
    return {
      json: () => entry,
      messages: [`entries ${first} to ${last} are dated from ${at} on, journaled as entry ${entry.sequence}`],
    };
  },
});

function sequenceIn(written: string): number {
  if (/^[1-9]\d{0,14}$/u.test(written)) return Number(written);
  throw new UsageError(`"${written}" is not a valid sequence; "caseback history" numbers the entries from 1`);
}
