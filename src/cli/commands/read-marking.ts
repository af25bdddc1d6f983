import { toTable } from '../../export/table.ts';
import { partsNumbered } from '../../identification/part-numbers.ts';
import { weightInDecibans } from '../../identification/posterior.ts';
import { identifierOf } from '../../identification/questions.ts';
import { readMarking } from '../../identification/read-marking.ts';
import { partIdOf } from '../../model/catalogue.ts';
import { isPartialDate } from '../../model/dates.ts';
import { formatMarking, MarkingError } from '../../model/marking.ts';
import type { State } from '../../state/state.ts';
import { fixed } from '../../text/rounding.ts';
import { defineCommand } from '../frame/command.ts';
import { CONFUSION_OPTION } from '../frame/common-options.ts';
import { confusionFor } from '../frame/confusion.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { readBy } from '../frame/options.ts';

/** Parts of the catalogue that are listed at most. */
const MAX_PARTS = 10;

type Marking = ReturnType<typeof readMarking>['marking'];

export const command = defineCommand({
  name: 'read-marking',
  about:
    'What a marking may mean: every reading by the codes of standards and the trade, rivals side by side with the rule that read them, and the parts of the catalogue that carry a similar one. "?" is an unread character, "[8B]" one of several; lines are separated by line breaks or " / ", logos are in round brackets. Without an archive the codes alone are read.',
  arguments: [{ name: 'TEXT', help: 'the marking' }],
  options: {
    released: readBy('DATE', 'when the device was first sold; later dates are doubted', dateIn),
    ...CONFUSION_OPTION,
  },
  uses: 'view',
  formats: ['text', 'json'],
  examples: ['read-marking "4T[1I]0 / 903" --released 2019', 'read-marking 472'],

  async run(call) {
    const [written] = call.arguments;
    const { released } = call.options;
    const { marking, lines, logos } = readingOf(written, {
      thisYear: new Date().getUTCFullYear(),
      ...(released ? { released } : {}),
    });
    if (!call.hasArchive) confusionFor(call.place.folder, call.options.confusion);
    const { matches, numbered } = call.hasArchive
      ? await partsLike(await call.view(), marking, written)
      : { matches: [], numbered: [] };
    return {
      text: () => {
        const readings = lines.flatMap((line) =>
          line.readings.map(({ as, rule, description, doubt = '' }) => ({
            line: line.text,
            as,
            rule,
            meaning: description,
            doubt,
          })),
        );
        const sources = new Map(
          lines.flatMap((line) => line.readings.map(({ rule, source }) => [rule, source] as const)),
        );
        const rows = matches.map((one) => ({ ...one, decibans: fixed(one.decibans, 1) }));
        return [
          `Codes\n${toTable(readings)}${[...sources].map(([rule, source]) => `${rule}: ${source}\n`).join('')}\nParts with a similar marking\n${toTable(rows)}`,
          ...(numbered.length > 0
            ? [`\nParts of such a number, whatever they carry\n${toTable(numbered)}`]
            : []),
          ...(readings.length === 0 && rows.length === 0 && numbered.length === 0 ? [NOTHING_READ] : []),
        ].join('');
      },
      json: () => ({ text: formatMarking(marking), logos, lines, matches, numbered }),
    };
  },
});

const NOTHING_READ =
  '\nNeither a code nor a marking known of a part. Put "?" for a character that is not certain, " / " between lines.\n';

function dateIn(written: string, option: string): string {
  if (isPartialDate(written)) return written;
  throw new UsageError(`${option} is ${quoted(written)}; write 2019, 2019-04 or 2019-04-17`);
}

function readingOf(...args: Parameters<typeof readMarking>): ReturnType<typeof readMarking> {
  try {
    return readMarking(...args);
  } catch (error) {
    if (error instanceof MarkingError) throw new UsageError(error.message);
    throw error;
  }
}

async function partsLike(view: State, marking: Marking, written: string) {
  const identifier = await identifierOf(view);
  return {
    matches: identifier.matches(marking, MAX_PARTS).map(({ part, template, logRatio }) => ({
      part,
      marking: template,
      decibans: weightInDecibans(logRatio),
    })),
    numbered: partsNumbered(view, written).map((part) => ({ part: partIdOf(part), name: part.name ?? '' })),
  };
}
