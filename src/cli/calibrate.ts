import { toTable } from '../export/table.ts';
import { calibrate } from '../identify/calibration.ts';
import { identifierOf } from '../identify/questions.ts';
import { CasebackError } from '../model/problems.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './dataFolder.ts';
import { openArchive } from './openArchive.ts';
import { counted } from './words.ts';

export const command: Command = {
  usage: 'calibrate [--format table|json] [--data FOLDER] [--audience reader|desk]',
  help: `How far the probabilities of "candidates" can be trusted on this archive: every settled identification is hidden, one at
a time and with its whole device, worked out anew, and compared. Stated probabilities that are right lie inside
the exact 95 % interval of what came true. About one interval in twenty misses by chance.

${DATA_HELP}
  --format table    rows by tenths of stated probability (default), or json
${AUDIENCE_HELP}

  caseback calibrate`,
  options: { ...DATA_OPTION, ...AUDIENCE_OPTION, format: { type: 'string' } },
  words: 0,

  async run(_, values) {
    const format = choiceOf(values, 'format', ['table', 'json'], 'table');
    const archive = await openArchive(dataFolder(values));
    try {
      const view = archive.view(audienceOf(values));
      const found = await calibrate(await identifierOf(view), view);
      if (!found) throw new CasebackError('NOT_FOUND', 'no component of the archive is settled to be a part');
      if (format === 'json') {
        process.stdout.write(`${JSON.stringify(found, null, 2)}\n`);
        return EXIT.fine;
      }
      const fixed = (value: number | null | undefined) => value?.toFixed(3) ?? '';
      const rows = found.reliability.map(({ from, to, count, stated, observed, interval, calibrated }) => ({
        stated: `${from.toFixed(1)} to ${to.toFixed(1)}`,
        count: String(count),
        mean: fixed(stated),
        observed: fixed(observed),
        low: fixed(interval?.low),
        high: fixed(interval?.high),
        inside: calibrated === null ? '' : calibrated ? 'yes' : 'no',
      }));
      process.stdout.write(toTable(rows));
      const percent = (share: number) => `${(100 * share).toFixed(1)} %`;
      process.stdout.write(
        `\n${counted(found.components, 'settled component')}: likeliest part right ${percent(found.first)}, among three ${percent(found.firstThree)}; Brier ${found.brier.toFixed(4)}, log loss ${found.logLoss.toFixed(4)} nats\n`,
      );
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};
