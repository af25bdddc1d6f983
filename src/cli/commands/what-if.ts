import { differenceText } from '../answers/difference-text.ts';
import { CHANGE_ARGUMENT, CHANGE_HELP, CHANGE_OPTION, changeFrom } from '../arguments/change.ts';
import { defineCommand } from '../frame/command.ts';

export const command = defineCommand({
  name: 'what-if',
  about: `The result of a change: decisions gained and lost, probabilities moved, cells of comparisons and points of trends that change, sentences whose wording no longer fits. Nothing is written.\n\n${CHANGE_HELP}`,
  arguments: [CHANGE_ARGUMENT],
  options: CHANGE_OPTION,
  uses: 'view',
  formats: ['text', 'json'],
  examples: [
    'what-if withdraw tarn-sennit-3/a/o2',
    'what-if identify tarn-sennit-3/a/U3 quistle/QWR4T16=0.9',
  ],

  async run(call) {
    const change = changeFrom(call.arguments, call.options.file, call.terminal);
    const archive = await call.archive();
    const difference = await archive.whatIf(await call.view(), change);
    return { text: () => differenceText(difference), json: () => difference };
  },
});
