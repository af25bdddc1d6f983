import { MOST_MEASURED } from '../../measurement/limits.ts';
import { SIDES } from '../../model/board.ts';
import { measured } from '../../questions/measurement.ts';
import { measurementRows, measurementText } from '../answers/measurement-text.ts';
import { BODIES, LENGTHS, PLACES, POINTS } from '../arguments/spots.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { choice, decimal, readBy, text } from '../frame/options.ts';
import { inspectedFile } from '../frame/photos.ts';

export const command = defineCommand({
  name: 'measure',
  about:
    'Measures on a photo with points of known position: where its regions put components and how large they are, beside what is recorded, and any place, length or body asked for, in mm, each with its 95 % interval. It says how sure that is: what the known points leave over, the tilt of the view, whether the lens bends, and what is not known. Lengths that a ruler or caliper tells check a printed target. Places on the photo are percent from the left and from the top.',
  arguments: [
    {
      name: 'PHOTO',
      help: 'id of the photo, device/specimen/photo; left out, --file (or --size) and --points give a picture',
      optional: true,
    },
  ],
  options: {
    points: POINTS,
    places: PLACES,
    lengths: LENGTHS,
    bodies: BODIES,
    side: choice('SIDE', SIDES, { help: 'side of the board that it shows, where that is not on record' }),
    size: readBy(
      'WIDTHxHEIGHT',
      'size of the picture in pixels, where the archive does not have its file',
      readSize,
    ),
    file: text('FILE', 'a picture that is not in the archive, such as the photo of a printed target'),
    picked: decimal('PIXELS', {
      help: 'standard uncertainty with which places are picked (default 1)',
      above: 0,
      default: 1,
    }),
    cameraDistance: decimal('MM', {
      help: 'distance of the camera from the middle of what it shows, where somebody measured it',
      above: 0,
    }),
  },
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: [
    'measure nolvey-ferrule-3/a/photo-strip-top',
    'measure nolvey-ferrule-3/a/photo-strip-top --places "50,50" --lengths "26,49 31,49"',
    'measure --size 4000x3000 --points "5,5=0,0; 95,5=100,0; 95,95=100,70; 5,95=0,70" --lengths "5,50 95,50=99.2 +- 0.1"',
  ],

  async run(call) {
    const { size: written, file, ...asked } = call.options;
    const [photo] = call.arguments;
    if (photo !== undefined && file !== undefined)
      throw new UsageError('give a photo of the archive or a file, not both');
    for (const name of ['points', 'places', 'lengths', 'bodies'] as const) {
      const count = asked[name]?.length ?? 0;
      if (count > MOST_MEASURED[name])
        throw new UsageError(`--${name} has ${count}; at most ${MOST_MEASURED[name]} at once`);
    }
    const size = file === undefined ? written : (await inspectedFile(file)).file;
    // A picture that is in no archive needs none.
    const view = photo === undefined ? undefined : await call.view();
    const found = await measured(view, { photo, size, ...asked });
    const rows = () => measurementRows(found);
    return {
      text: () => measurementText(found),
      table: rows,
      csv: rows,
      json: () => {
        const { photo, components, ...rest } = found;
        return {
          photo: photo?.id ?? null,
          ...rest,
          components: components.map(({ component: _, ...one }) => one),
        };
      },
      messages: found.cautions.map((caution) => `caution: ${caution}`),
    };
  },
});

function readSize(written: string, option: string) {
  const [, width, height] = /^(\d{1,6})[x×](\d{1,6})$/u.exec(written) ?? [];
  if (!(Number(width) > 0 && Number(height) > 0))
    throw new UsageError(
      `${option} is ${quoted(written)}; write width and height in pixels, such as 4000x3000`,
    );
  return { width: Number(width), height: Number(height) };
}
