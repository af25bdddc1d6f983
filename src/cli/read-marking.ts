import { toTable } from '../export/table.ts';
import { partsNumbered } from '../identification/part-numbers.ts';
import { weightInDecibans } from '../identification/posterior.ts';
import { identifierOf } from '../identification/questions.ts';
import { readMarking } from '../identification/read-marking.ts';
import { partIdOf } from '../model/catalogue.ts';
import { isPartialDate } from '../model/dates.ts';
import { formatMarking, MarkingError } from '../model/marking.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError } from './command.ts';
import { CONFUSION_HELP, CONFUSION_OPTION, confusionFor, followConfusion } from './confusion.ts';
import { DATA_HELP, DATA_OPTION, dataFolder, holdsArchive } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage: 'read-marking TEXT [--released DATE] [--format table|json] [--confusion FILE] [--data FOLDER]',
  help: `What a marking may mean: every reading by the codes of standards and the trade, rivals side by side with the rule that
read them, and the parts of the catalogue that carry the like. "?" is an unread character, "[8B]" one of
several, lines are parted by line breaks or " / ", logos stand in round brackets. Without an archive the codes
alone are read.

${DATA_HELP}
  --released DATE   when the device was first sold; later dates are doubted
  --format table    rows (default), or json
${CONFUSION_HELP}
${AUDIENCE_HELP}

  caseback read-marking "44[1I]0 / 903" --released 2019
  caseback read-marking 472`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    ...CONFUSION_OPTION,
    released: { type: 'string' },
    format: { type: 'string' },
  },
  words: 1,

  async run([text], values) {
    if (text === undefined) throw new UsageError('give the marking');
    const released = textOf(values, 'released');
    if (released !== undefined && !isPartialDate(released))
      throw new UsageError(`--released is "${released}"; write 2019, 2019-04 or 2019-04-17`);
    const format = choiceOf(values, 'format', ['table', 'json'], 'table');
    const context = { thisYear: new Date().getUTCFullYear(), ...(released ? { released } : {}) };
    const read = reading(text, context);
    const { matches, numbered } = await partsOf(read.marking, text, values);
    if (format === 'json') {
      const answer = {
        text: formatMarking(read.marking),
        logos: read.logos,
        lines: read.lines,
        matches,
        numbered,
      };
      process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
      return EXIT.fine;
    }
    const readings = read.lines.flatMap((line) =>
      line.readings.map(({ as, rule, says, doubt = '' }) => ({ line: line.text, as, rule, says, doubt })),
    );
    process.stdout.write(`Codes\n${toTable(readings)}\nParts that carry the like\n`);
    process.stdout.write(toTable(matches.map((one) => ({ ...one, decibans: one.decibans.toFixed(1) }))));
    if (numbered.length > 0)
      process.stdout.write(`\nParts of such a number, whatever they carry\n${toTable(numbered)}`);
    if (readings.length === 0 && matches.length === 0 && numbered.length === 0)
      process.stderr.write(
        'Neither a code nor a marking known of a part. Put "?" for a character that is not certain, " / " between lines.\n',
      );
    return EXIT.fine;
  },
};

function reading(...args: Parameters<typeof readMarking>): ReturnType<typeof readMarking> {
  try {
    return readMarking(...args);
  } catch (error) {
    if (error instanceof MarkingError) throw new UsageError(error.message);
    throw error;
  }
}

async function partsOf(
  marking: ReturnType<typeof readMarking>['marking'],
  text: string,
  values: Parameters<typeof dataFolder>[0],
) {
  const folder = dataFolder(values);
  const confusion = confusionFor(folder, values);
  if (!holdsArchive(folder)) return { matches: [], numbered: [] };
  const archive = await openArchive(folder);
  try {
    followConfusion(archive, confusion);
    const view = archive.view(audienceOf(values));
    const identifier = await identifierOf(view);
    const matches = identifier.matches(marking, 10).map(({ part, template, logRatio }) => ({
      part,
      marking: template,
      decibans: weightInDecibans(logRatio),
    }));
    const numbered = partsNumbered(view, text).map((part) => ({
      part: partIdOf(part),
      name: part.name ?? '',
    }));
    return { matches, numbered };
  } finally {
    await archive.close();
  }
}
