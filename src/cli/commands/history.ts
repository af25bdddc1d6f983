import { onOneLine } from '../../export/table.ts';
import type { Entry } from '../../model/entry.ts';
import { recordOfId } from '../../model/ids.ts';
import { entriesAbout, subjectOf } from '../../questions/history.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT } from '../frame/exit.ts';
import { whole } from '../frame/options.ts';

export const command = defineCommand({
  name: 'history',
  about:
    'Without an id: every entry of the journal, oldest first: sequence, instant, who, what, why. With one: the entries about that record, device, specimen or anything inside it. json has the complete entries.',
  arguments: [{ name: 'ID', help: 'what the entries must be about', optional: true }],
  options: { last: whole('N', { help: 'only the last N entries', min: 1 }) },
  uses: 'folder',
  formats: ['text', 'json'],
  examples: ['history --last 20', 'history tarn-sennit-3', 'history tarn-sennit-3/a/U3 --format json'],

  async run(call) {
    const [id] = call.arguments;
    const { last } = call.options;
    const asJson = call.format === 'json';
    let written = 0;
    const write = (entry: Entry) => {
      const before = written === 0 ? '[\n' : ',\n';
      call.terminal.out(asJson ? `${before}${JSON.stringify(entry)}` : `${lineOf(entry)}\n`);
      written++;
    };
    const subjects = new Set<string>();
    if (id !== undefined) {
      const read = noting(call.journal().read(), subjects);
      const found = await entriesAbout(id, read, () => subjects);
      found.slice(last === undefined ? 0 : -last).forEach(write);
    } else {
      // Written entry by entry, since a journal may be longer than memory; only the last ones are held back.
      const held: Entry[] = [];
      for await (const entries of call.journal().read())
        for (const entry of entries) {
          if (last === undefined) write(entry);
          else if (held.push(entry) > last) held.shift();
        }
      held.forEach(write);
    }
    if (asJson) call.terminal.out(written === 0 ? '[]\n' : '\n]\n');
    return EXIT.fine;
  },
});

/** The entries, with what they are about noted. */
async function* noting(read: AsyncIterable<readonly Entry[]>, subjects: Set<string>) {
  for await (const entries of read) {
    for (const entry of entries) subjects.add(subjectOf(entry)).add(recordOfId(subjectOf(entry)));
    yield entries;
  }
}

function lineOf(entry: Entry): string {
  const { sequence, instant, actor, kind, reason } = entry;
  return onOneLine(
    `${String(sequence).padStart(6)}  ${instant}  ${actor}  ${kind} ${subjectOf(entry)}  ${reason}`,
  );
}
