import { differenceText } from '../answers/difference-text.ts';
import { CHANGE_ARGUMENT, CHANGE_HELP, CHANGE_OPTION, changeFrom } from '../arguments/change.ts';
import { defineCommand } from '../frame/command.ts';

export const command = defineCommand({
  name: 'correct',
  about: `Corrects the record and journals the change together with the publications and sentences that it touches; prints the result and a text for each correction notice, which gives the reason. Try it with what-if first.\n\n${CHANGE_HELP}`,
  arguments: [CHANGE_ARGUMENT],
  options: CHANGE_OPTION,
  uses: 'change',
  formats: ['text', 'json'],
  examples: ['correct withdraw sallowby-keelson-3/a/o2 --actor "I. Marrow" --reason "misread in daylight"'],

  async run(call) {
    const change = changeFrom(call.arguments, call.options.file, call.terminal);
    const by = call.authorship();
    const archive = await call.archive();
    const { correction, difference, entry } = await archive.correct(change, by, 'desk');
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
