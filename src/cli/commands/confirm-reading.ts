import { observationSchema } from '../../model/dossier.ts';
import { lastOfId, specimenOfId, thingId } from '../../model/ids.ts';
import { readPhoto } from '../../questions/photo-reading.ts';
import { cautionLines } from '../answers/cautions.ts';
import { suggestionSentence } from '../answers/photo-reading.ts';
import { checkedRecord } from '../arguments/record.ts';
import { defineCommand } from '../frame/command.ts';
import { text } from '../frame/options.ts';
import { PHOTO_OPTIONS, photoWish } from '../frame/photo-options.ts';

export const command = defineCommand({
  name: 'confirm-reading',
  about:
    'Records the marking of a component that a program read on a photo, as you read it yourself: an observation with the photo as its source, what the program suggested beside it. Look at the photo first ("read-photo" says what is suggested); the marking is what you write, with "?" for each character that you cannot read.',
  arguments: [
    { name: 'COMPONENT', help: 'id of the component, device/specimen/local' },
    { name: 'OBSERVATION', help: 'local id of the new observation' },
    { name: 'MARKING', help: 'the marking as you read it; lines separated by " / "' },
  ],
  options: {
    ...PHOTO_OPTIONS,
    method: text('TEXT', 'how it was looked at'),
    on: text('DATE', 'when (ISO 8601)'),
    by: text('NAME', 'by whom'),
    corrects: text('ID', 'local id of the observation that it corrects'),
    note: text('TEXT', 'a remark'),
  },
  uses: 'change',
  formats: ['text', 'json'],
  examples: ['confirm-reading tarn-sennit-3/a/U3 read-on-photo "PTW8 / 301" --reason "read on the photo"'],

  async run(call) {
    const [component, id, written] = call.arguments;
    const { method, on, by, corrects, note } = call.options;
    const author = call.authorship();
    const archive = await call.changing();
    const reading = await readPhoto(
      archive.state('desk'),
      archive.photos,
      photoWish(component, call.options),
    );
    const { photo, suggestion } = reading;
    const observation = checkedRecord(observationSchema, 'observation', {
      ...{ id, kind: 'marking', about: [lastOfId(component)] },
      marking: written.split(/\s+\/\s+/u).join('\n'),
      photo: photo.photo.id,
      ...Object.fromEntries(
        Object.entries({ suggestion, method, on, by, corrects, note }).filter(
          ([, value]) => value !== undefined,
        ),
      ),
    });
    const specimen = specimenOfId(component);
    const entry = await archive.recordObservation(specimen, observation, author, 'desk');
    return {
      json: () => entry,
      messages: [
        suggestionSentence(reading),
        ...cautionLines(entry.cautions),
        `${thingId(specimen, id)} recorded, journaled as entry ${entry.sequence}`,
      ],
    };
  },
});
