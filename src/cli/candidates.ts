import { toTable } from '../export/table.ts';
import { candidatesOf } from '../identification/questions.ts';
import { partIdOf } from '../model/catalogue.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, numberOf, textOf, UsageError } from './command.ts';
import { CONFUSION_HELP, CONFUSION_OPTION, confusionFor, followConfusion } from './confusion.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';

export const command: Command = {
  usage:
    'candidates COMPONENT [--first N] [--format table|json] [--confusion FILE] [--data FOLDER] [--audience reader|desk]',
  help: `What a component may be: each part with its probability and the weight of every piece of evidence in decibans, for
(+) and against (-), set against "none in the catalogue". 10 decibans make a part ten times as likely.

${DATA_HELP}
  --first N         how many parts to show, 1 to 100 (default: 5)
  --format table    a row a part (default); json has everything at full precision
${CONFUSION_HELP}
${AUDIENCE_HELP}

  caseback candidates tarn-loop-3/a/U3
  caseback candidates tarn-loop-3/a/U3 --first 1 --format json`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    ...CONFUSION_OPTION,
    first: { type: 'string' },
    format: { type: 'string' },
  },
  words: 1,

  async run([id], values) {
    if (id === undefined) throw new UsageError('name a component, such as tarn-loop-3/a/U3');
    const first = numberOf(textOf(values, 'first') ?? '5', '--first', { least: 1, most: 100 });
    const format = choiceOf(values, 'format', ['table', 'json'], 'table');
    const folder = dataFolder(values);
    const confusion = confusionFor(folder, values);
    const archive = await openArchive(folder);
    try {
      followConfusion(archive, confusion);
      const { odds, state } = await candidatesOf(archive.view(audienceOf(values)), id);
      const parts = odds.candidates.slice(0, first).map(({ part, probability, priorDecibans }) => ({
        part: partIdOf(part),
        probability,
        priorDecibans,
        evidence: odds.evidenceFor(partIdOf(part)),
      }));
      if (format === 'json') {
        const answer = { component: id, state, parts, none: odds.none };
        process.stdout.write(`${JSON.stringify(answer, null, 2)}\n`);
        return EXIT.fine;
      }
      const rows = parts.map(({ part, probability, priorDecibans, evidence }) => ({
        part,
        probability: probability.toFixed(4),
        prior: signed(priorDecibans),
        ...Object.fromEntries(evidence.map(({ kind, decibans }) => [kind, signed(decibans)])),
      }));
      process.stdout.write(
        toTable([...rows, { part: '(none in the catalogue)', probability: odds.none.toFixed(4) }]),
      );
      process.stderr.write(`${id}: ${state.replaceAll('-', ' ')}; weights in decibans\n`);
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

function signed(decibans: number): string {
  return `${decibans >= 0 ? '+' : ''}${decibans.toFixed(1)}`;
}
