import { OBSERVATION_KINDS, observationSchema } from '../../model/dossier.ts';
import { thingId } from '../../model/ids.ts';
import { cautionLines } from '../answers/cautions.ts';
import { checkedRecord } from '../arguments/record.ts';
import { defineCommand } from '../frame/command.ts';
import { list, text } from '../frame/options.ts';

/** Fields of the observation, one an option. */
const FIELDS = {
  about: list('ID,...', 'local ids of the components, boards or other things it is about'),
  marking: text('TEXT', 'a marking as read: "?" for an unread character, "[8B]" for one of two'),
  value: text('AMOUNT', 'what was measured, with its unit'),
  text: text('TEXT', 'what was seen, in words'),
  leadsTo: list('ID,...', 'for a trace: local ids of what it leads to'),
  photo: text('ID', 'local id of the photo that shows it'),
  method: text('TEXT', 'how it was looked at'),
  on: text('DATE', 'when (ISO 8601)'),
  by: text('NAME', 'by whom'),
  corrects: text('ID', 'local id of the observation that it corrects'),
  cites: list('ID,...', 'sentences (publication/claim) or sources that support it'),
  note: text('TEXT', 'a remark'),
};

export const command = defineCommand({
  name: 'observe',
  about:
    'Adds an observation to a specimen\'s dossier: what was seen, never what is concluded. Observations are never changed; a later one corrects an earlier one (--corrects), and one that should not have been made is withdrawn with "withdraw".',
  arguments: [
    { name: 'SPECIMEN', help: 'id of the specimen, device/specimen' },
    { name: 'ID', help: 'local id of the new observation' },
    { name: 'KIND', help: `one of ${OBSERVATION_KINDS.join(', ')}` },
  ],
  options: FIELDS,
  uses: 'change',
  formats: ['text', 'json'],
  examples: [
    'observe tarn-sennit-3/a look-again marking --about U3 --marking "220[8B]" --method "raking light" --reason "second look"',
    'observe tarn-sennit-3/a gap measurement --about D1,D3 --value "4.3 mm" --reason "for the figure"',
  ],

  async run(call) {
    const [specimen, id, kind] = call.arguments;
    const by = call.authorship();
    const fields = Object.entries(call.options).filter(
      ([name, value]) => name in FIELDS && value !== undefined,
    );
    const observation = checkedRecord(observationSchema, 'observation', {
      id,
      kind,
      ...Object.fromEntries(fields),
    });
    const archive = await call.changing();
    const entry = await archive.recordObservation(specimen, observation, by, 'desk');
    return {
      json: () => entry,
      messages: [
        ...cautionLines(entry.cautions),
        `${thingId(specimen, id)} recorded, journaled as entry ${entry.sequence}`,
      ],
    };
  },
});
