import { candidatesOf } from '../../identification/questions.ts';
import { partIdOf } from '../../model/catalogue.ts';
import { defineCommand } from '../frame/command.ts';
import { CONFUSION_OPTION } from '../frame/common-options.ts';
import { whole } from '../frame/options.ts';

/** Kinds that a table tells of; json has all. */
const KINDS_SHOWN = 3;

export const command = defineCommand({
  name: 'candidates',
  about:
    'What a component may be: each part with its probability and the weight of every piece of evidence in decibans, for (+) and against (-), compared with "none in the catalogue". 10 decibans make a part ten times as likely.',
  arguments: [{ name: 'COMPONENT', help: 'id of the component, device/specimen/local' }],
  options: {
    first: whole('N', { help: 'how many parts to show', min: 1, max: 100, default: 5 }),
    ...CONFUSION_OPTION,
  },
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: ['candidates tarn-sennit-3/a/U3', 'candidates tarn-sennit-3/a/U3 --first 1 --format json'],

  async run(call) {
    const [id] = call.arguments;
    const { odds, state, kinds } = await candidatesOf(await call.view(), id);
    const parts = odds.candidates
      .slice(0, call.options.first)
      .map(({ part, probability, priorDecibans }) => ({
        part: partIdOf(part),
        probability,
        priorDecibans,
        evidence: odds.evidenceFor(partIdOf(part)),
      }));
    return {
      table: () => [
        ...parts.map(({ part, probability, priorDecibans, evidence }) => ({
          part,
          probability: probability.toFixed(4),
          prior: signed(priorDecibans),
          ...Object.fromEntries(evidence.map(({ kind, decibans }) => [kind, signed(decibans)])),
        })),
        { part: '(none in the catalogue)', probability: odds.none.toFixed(4) },
      ],
      json: () => ({ component: id, state, parts, none: odds.none, kinds }),
      messages: [
        `${id}: ${state.replaceAll('-', ' ')}; weights in decibans`,
        ...kinds
          .slice(0, KINDS_SHOWN)
          .flatMap(({ term, probability, evidence: [why] }) =>
            why
              ? [
                  `by its pins ${term} ${probability.toFixed(2)}: ${why.description} (${signed(why.decibans)})`,
                ]
              : [],
          ),
      ],
    };
  },
});

function signed(decibans: number): string {
  return `${decibans >= 0 ? '+' : ''}${decibans.toFixed(1)}`;
}
