import { SIDES } from '../../model/board.ts';
import { photoChangeSchema } from '../../model/dossier.ts';
import { cautionLines } from '../answers/cautions.ts';
import { checkedRecord } from '../arguments/record.ts';
import { POINTS, REGIONS } from '../arguments/spots.ts';
import { defineCommand } from '../frame/command.ts';
import { UsageError } from '../frame/exit.ts';
import { choice, text } from '../frame/options.ts';
import { given } from './add-photo.ts';

export const command = defineCommand({
  name: 'change-photo',
  about:
    'Records a photo anew with other points of known position, regions, words, board or side. What is left out stays; a list stands in place of the one on record, and an empty one ("") takes it away. What the photo was stays in history.',
  arguments: [{ name: 'PHOTO', help: 'id of the photo, device/specimen/photo' }],
  options: {
    points: POINTS,
    regions: REGIONS,
    caption: text('TEXT', 'its caption'),
    credit: text('NAME', 'who took it'),
    licence: text('LICENCE', 'SPDX identifier or a plain sentence'),
    board: text('ID', 'local id of the board that it shows'),
    side: choice('SIDE', SIDES, { help: 'side of the board that it shows' }),
    recordDigest: text(
      'SHA-256',
      'recordDigest of the photo as it was seen: where it was changed since, nothing is written',
    ),
  },
  uses: 'change',
  formats: ['text', 'json'],
  examples: [
    'change-photo nolvey-ferrule-3/a/photo-strip-top --caption "Strip, outer side" --reason "shorter"',
    'change-photo nolvey-ferrule-3/a/photo-strip-top --points "7.46,68.98=-2.9,-2.9; 94,74.15=60.9,-2.9; 94.39,30.19=60.9,8.5; 7.47,26.66=-2.9,8.5 +- 0.02" --reason "measured the target"',
  ],

  async run(call) {
    const [id] = call.arguments;
    const { recordDigest, points, regions, caption, credit, licence, board, side } = call.options;
    const by = call.authorship();
    const { points: known, ...other } = given({ points, regions, caption, credit, licence, board, side });
    if (known === undefined && Object.keys(other).length === 0)
      throw new UsageError(
        'say what is to be changed: --points, --regions, --caption, --credit, --licence, --board or --side',
      );
    const change = checkedRecord(photoChangeSchema, 'photo', {
      ...other,
      ...(known && known.length > 0 ? { points: known } : {}),
    });
    const archive = await call.changing();
    const entry = await archive.changePhoto(
      id,
      known?.length === 0 ? { ...change, points: [] } : change,
      by,
      'desk',
      recordDigest,
    );
    return {
      json: () => entry,
      messages: [...cautionLines(entry.cautions), `${id} changed, journaled as entry ${entry.sequence}`],
    };
  },
});
