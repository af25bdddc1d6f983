import { readPhoto } from '../../questions/photo-reading.ts';
import {
  charactersTable,
  ifConfirmedTable,
  photoReadingJson,
  suggestionSentence,
} from '../answers/photo-reading.ts';
import { defineCommand } from '../frame/command.ts';
import { whole } from '../frame/options.ts';
import { PHOTO_OPTIONS, photoWish } from '../frame/photo-options.ts';

export const command = defineCommand({
  name: 'read-photo',
  about:
    'Reads the marking of a component on the photos that show it, or a region of a photo: each character with what it may truly be, and what the component would be if the reading were confirmed, with its weight in bits. It is a suggestion: nothing is recorded. Look at the photo, then record what you read with "confirm-reading".',
  arguments: [
    { name: 'ID', help: 'id of a component that a region of a photo shows, or of a photo with --region' },
  ],
  options: {
    ...PHOTO_OPTIONS,
    first: whole('N', { help: 'how many parts to show', min: 1, max: 100, default: 5 }),
  },
  uses: 'view',
  formats: ['text', 'json'],
  examples: [
    'read-photo tarn-sennit-3/a/U3',
    'read-photo tarn-sennit-3/a/photo-main-top --region 20,30,15,20 --format json',
  ],

  async run(call) {
    const [of] = call.arguments;
    const { first } = call.options;
    const { photos } = await call.archive();
    const reading = await readPhoto(await call.view(), photos, photoWish(of, call.options));
    return {
      text: () =>
        [charactersTable(reading.lines), ifConfirmedTable(reading, first)]
          .filter((one) => one !== '')
          .join('\n'),
      json: () => photoReadingJson(reading, first),
      messages: [suggestionSentence(reading)],
    };
  },
});
