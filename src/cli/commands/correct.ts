import { instant } from '../../model/fields.ts';
import { differenceText } from '../answers/difference-text.ts';
import { CHANGE_ARGUMENT, CHANGE_HELP, CHANGE_OPTION, changeFrom } from '../arguments/change.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'correct',
  about: `Corrects the record and journals the change together with the publications and sentences that it touches; prints the result and a text for each correction notice, which gives the reason. Try it with what-if first.\n\n${CHANGE_HELP}`,
  arguments: [CHANGE_ARGUMENT],
  options: {
    ...CHANGE_OPTION,
    embargoUntil: text(
      'INSTANT',
      'until when readers see neither the correction nor what it changes, such as 2026-12-15T09:00:00Z',
    ),
  },
  uses: 'change',
  formats: ['text', 'json'],
  examples: ['correct withdraw sallowby-keelson-3/a/o2 --actor "I. Wenlow" --reason "misread in daylight"'],

  async run(call) {
    const change = changeFrom(call.arguments, call.options.file, call.terminal);
    const by = call.authorship();
    const archive = await call.changing(change);
    const { embargoUntil } = call.options;
    if (embargoUntil !== undefined && !instant.safeParse(embargoUntil).success)
      throw new UsageError(
        `${quoted(embargoUntil)} is not a valid instant; write it as 2026-12-15T09:00:00Z (ISO 8601 with zone)`,
      );
    const { correction, difference, entry } = await archive.correct(change, by, 'desk', embargoUntil);
    const notices = correction.publications.map(({ notice, title }) =>
      notice === null
        ? `\n“${title}” has not appeared: no notice; put its sentences right before it does.\n`
        : `\n${notice}\n`,
    );
    return {
      text: () => `${differenceText(difference)}${notices.join('')}`,
      json: () => ({ correction, difference, entry }),
      messages: [`${correction.id} journaled as entry ${entry.sequence}`],
    };
  },
});
