import { nextObservationsUnder } from '../decisions/next-observations.ts';
import { toTable } from '../export/table.ts';
import { thingId } from '../model/ids.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, numberOf, textOf, UsageError } from './command.ts';
import { CONFUSION_HELP, CONFUSION_OPTION, confusionFor, followConfusion } from './confusion.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

/** Bits below which an observation reads 0.000; JSON has all. */
const LEAST_SHOWN = 0.0005;

export const command: Command = {
  usage:
    'next ID [--first N] [--format table|json] [--confusion FILE] [--data FOLDER] [--audience reader|desk]',
  help: `What to look at next on a component, specimen, device, or for a decision or claim: ranked by the bits that a minute of bench work
is expected to tell about which part it is. Destructive steps are marked; cautions follow on standard error.

${DATA_HELP}
  --first N         how many to show, 1 to 200 (default: 10)
  --format table    a row each (default); json has everything, cautions with each
${CONFUSION_HELP}
${AUDIENCE_HELP}

  caseback next tarn-loop-3
  caseback next tarn-loop-3/a/U3 --format json`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    ...CONFUSION_OPTION,
    first: { type: 'string' },
    format: { type: 'string' },
  },
  words: 1,

  async run([id], values) {
    if (id === undefined) throw new UsageError('name a component, specimen, device, decision or claim');
    const first = numberOf(textOf(values, 'first') ?? '10', '--first', { least: 1, most: 200 });
    const format = choiceOf(values, 'format', ['table', 'json'], 'table');
    const folder = dataFolder(values);
    const confusion = confusionFor(folder, values);
    const archive = await openArchive(folder);
    try {
      followConfusion(archive, confusion);
      const found = (await nextObservationsUnder(archive.view(audienceOf(values)), id)).slice(0, first);
      const answer = found.map(({ placed, method, gainBits, bitsPerMinute, cautions }) => ({
        component: thingId(placed.opened.id, placed.component.id),
        action: method.name,
        bits: gainBits,
        minutes: method.minutes,
        bitsPerMinute,
        destructive: method.destructive,
        cautions,
      }));
      if (format === 'json') {
        process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
        return EXIT.fine;
      }
      const telling = answer.filter(({ bits }) => bits >= LEAST_SHOWN);
      const rows = telling.map(({ bits, minutes, bitsPerMinute, destructive, component, action }) => ({
        component,
        action: destructive ? `${action} (DESTRUCTIVE)` : action,
        bits: bits.toFixed(3),
        minutes: String(minutes),
        'bits/min': bitsPerMinute.toFixed(4),
      }));
      process.stdout.write(toTable(rows));
      const dropped = answer.length - telling.length;
      if (dropped > 0) process.stderr.write(`${dropped} more would tell less than ${LEAST_SHOWN} bits\n`);
      const cautions = new Set(telling.flatMap((one) => one.cautions));
      for (const caution of cautions) process.stderr.write(`caution: ${caution}\n`);
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};
