import { disagreementsOf } from '../../identification/questions.ts';
import { partIdOf } from '../../model/catalogue.ts';
import { thingId } from '../../model/ids.ts';
import { fixed } from '../../text/rounding.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { CONFUSION_OPTION } from '../frame/common-options.ts';

export const command = defineCommand({
  name: 'disagreements',
  about:
    'Recorded identifications that the evidence contradicts, the most improbable first: recorded as more likely than not, less than 0.05 by the evidence, which speaks for another part or for none in the catalogue. With what speaks most against the record, in decibans. Nothing is changed.',
  options: CONFUSION_OPTION,
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: ['disagreements', 'disagreements --format json'],

  async run(call) {
    const all = (await disagreementsOf(await call.view())).map(({ placed, instead, ...one }) => ({
      component: thingId(placed.opened.id, placed.component.id),
      ...one,
      instead: instead ? partIdOf(instead) : null,
    }));
    return {
      table: () =>
        all.map(
          ({
            component,
            recorded,
            recordedProbability,
            probability,
            instead,
            insteadProbability,
            against,
          }) => ({
            component,
            recorded,
            as: String(recordedProbability),
            evidence: fixed(probability, 4),
            'speaks for': instead ?? '(none in the catalogue)',
            at: fixed(insteadProbability, 4),
            against: against.map(({ kind, decibans }) => `${kind} ${fixed(decibans, 1)}`).join(', '),
          }),
        ),
      heading: ['component', 'recorded', 'as', 'evidence', 'speaks for', 'at', 'against'],
      json: () => all,
      messages: [
        `${counted(all.length, 'identification')} that the evidence contradicts; weights in decibans`,
      ],
    };
  },
});
