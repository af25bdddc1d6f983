import { SIDES } from '../../model/board.ts';
import { photoSchema } from '../../model/dossier.ts';
import { thingId } from '../../model/ids.ts';
import { cautionLines } from '../answers/cautions.ts';
import { checkedRecord } from '../arguments/record.ts';
import { POINTS, REGIONS } from '../arguments/spots.ts';
import { defineCommand } from '../frame/command.ts';
import { UsageError } from '../frame/exit.ts';
import { choice, text } from '../frame/options.ts';
import { inspectedFile } from '../frame/photos.ts';

export const command = defineCommand({
  name: 'add-photo',
  about:
    'Adds a photo to a specimen\'s dossier and keeps its file: JPEG, PNG or WebP by content, as it is. With points of known position, "measure" gives positions and sizes on it.',
  arguments: [
    { name: 'SPECIMEN', help: 'id of the specimen, device/specimen' },
    { name: 'ID', help: 'local id of the new photo' },
    { name: 'FILE', help: 'the photo' },
  ],
  options: {
    credit: text('NAME', 'who took it'),
    licence: text('LICENCE', 'SPDX identifier, such as CC-BY-4.0, or a plain sentence'),
    caption: text('TEXT', 'its caption'),
    board: text('ID', 'local id of the board that it shows'),
    side: choice('SIDE', SIDES, { help: 'side of the board that it shows' }),
    points: POINTS,
    regions: REGIONS,
  },
  uses: 'change',
  formats: ['text', 'json'],
  examples: [
    'add-photo tarn-sennit-3/a bench-top shots/top.jpg --credit "I. Wenlow" --licence CC-BY-4.0 --board main --side top --points "8,90=0,0; 92,91=30,0; 91,9=30,20; 9,8=0,20" --reason "photographed again"',
  ],

  async run(call) {
    const [specimen, id, file] = call.arguments;
    const { credit, licence, caption, board, side, points, regions } = call.options;
    if (credit === undefined || licence === undefined)
      throw new UsageError(
        'say who took the photo (--credit) and under which licence it may be shown (--licence)',
      );
    const by = call.authorship();
    const inspected = await inspectedFile(file);
    const photo = checkedRecord(photoSchema, 'photo', {
      id,
      sha256: inspected.file.sha256,
      credit,
      licence,
      ...given({ caption, board, side, points, regions }),
    });
    const archive = await call.changing(inspected.file.sha256);
    const entry = await archive.addPhoto(specimen, photo, by, 'desk', inspected);
    return {
      json: () => entry,
      messages: [
        ...cautionLines(entry.cautions),
        `${thingId(specimen, id)} added (${inspected.file.width} × ${inspected.file.height} px), journaled as entry ${entry.sequence}`,
      ],
    };
  },
});

/** Fields without those that were left out. */
export function given<T extends object>(fields: T): Partial<T> {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as Partial<T>;
}
