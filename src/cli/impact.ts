import { impactOf } from '../evidence/impact-of.ts';
import { toCsv } from '../export/csv.ts';
import { onOneLine, toTable } from '../export/table.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, UsageError } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';
import { counted } from './words.ts';

export const command: Command = {
  usage: 'impact ID [--format table|csv|json] [--data FOLDER] [--audience reader|desk]',
  help: `Everything that rests on a thing, directly or through others: on an observation, photo, component, part, device,
pattern, decision (device:pattern), source or claim; with the way that leads there.

${DATA_HELP}
  --format table    a row a thing (default); csv the same; json with whole paths
${AUDIENCE_HELP}

  caseback impact sallowby-keelson-3/a/o2
  caseback impact quillon/QN4416 --format csv`,
  options: { ...DATA_OPTION, ...AUDIENCE_OPTION, format: { type: 'string' } },
  words: 1,

  async run([id], values) {
    if (id === undefined) throw new UsageError('name a thing, such as sallowby-keelson-3/a/o2');
    const format = choiceOf(values, 'format', ['table', 'csv', 'json'], 'table');
    const archive = await openArchive(dataFolder(values));
    try {
      const { of, impacted } = await impactOf(archive.view(audienceOf(values)), id);
      if (format === 'json') {
        process.stdout.write(`${JSON.stringify({ of, impacted }, null, 2)}\n`);
        return EXIT.fine;
      }
      const rows = impacted.map(({ generation, kind, id: found, says, path, how }) => ({
        step: String(generation),
        kind,
        id: found,
        because: `${how.at(-1)} (${path.at(-2)})`,
        says: format === 'table' && says.length > 60 ? `${says.slice(0, 59)}…` : says,
      }));
      process.stdout.write(format === 'csv' ? toCsv(rows) : toTable(rows));
      process.stderr.write(
        `${counted(impacted.length, 'thing')} ${impacted.length === 1 ? 'rests' : 'rest'} on ${of.kind} ${of.id}: ${onOneLine(of.says)}\n`,
      );
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};
