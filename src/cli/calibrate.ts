import { toTable } from '../export/table.ts';
import { calibrate } from '../identification/calibration.ts';
import { identifierOf } from '../identification/questions.ts';
import { CasebackError } from '../model/problems.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, numberOf, textOf } from './command.ts';
import { CONFUSION_HELP, CONFUSION_OPTION, confusionFor, followConfusion } from './confusion.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';
import { counted } from './words.ts';

export const command: Command = {
  usage:
    'calibrate [--sample N] [--seed S] [--format table|json] [--confusion FILE] [--data FOLDER] [--audience reader|desk]',
  help: `How far the probabilities of "candidates" can be trusted on this archive: every settled identification is hidden, one at
a time and with its whole device, worked out anew, and compared. Stated probabilities that are right lie inside
the exact 95 % interval of what came true. About one interval in twenty misses by chance. What is settled is in the
catalogue, so "none in the catalogue" is left out and the rest scaled to 1.

${DATA_HELP}
  --sample N        work out no more than N components, drawn at random (default: all)
  --seed S          whole number that decides the draw (default: 1)
  --format table    rows by tenths of stated probability (default), or json
${CONFUSION_HELP}
${AUDIENCE_HELP}

  caseback calibrate
  caseback calibrate --sample 2000 --seed 7`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    ...CONFUSION_OPTION,
    sample: { type: 'string' },
    seed: { type: 'string' },
    format: { type: 'string' },
  },
  words: 0,

  async run(_, values) {
    const format = choiceOf(values, 'format', ['table', 'json'], 'table');
    const sample = textOf(values, 'sample');
    const draw = {
      sample: sample === undefined ? undefined : numberOf(sample, '--sample', { least: 1, most: 10_000_000 }),
      seed: numberOf(textOf(values, 'seed') ?? '1', '--seed', { least: 0, most: 2 ** 32 - 1 }),
    };
    const folder = dataFolder(values);
    const confusion = confusionFor(folder, values);
    const archive = await openArchive(folder);
    try {
      followConfusion(archive, confusion);
      const view = archive.view(audienceOf(values));
      const found = await calibrate(await identifierOf(view), view, draw);
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
        `\n${counted(found.components, 'settled component')}${found.settled > found.components ? ` of ${found.settled}` : ''}: likeliest part right ${percent(found.first)}, among three ${percent(found.firstThree)}; Brier ${found.brier.toFixed(4)}, log loss ${found.logLoss.toFixed(4)} nats\n`,
      );
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};
