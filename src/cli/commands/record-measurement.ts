import { specimenOfId, thingId } from '../../model/ids.ts';
import { measuredObservation } from '../../questions/measured-observation.ts';
import { cautionLines } from '../answers/cautions.ts';
import { BODIES } from '../arguments/spots.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { decimal, text } from '../frame/options.ts';

const KINDS = ['position', 'body-size'] as const;

export const command = defineCommand({
  name: 'record-measurement',
  about:
    'Takes a position or a size that was measured on a photo over as an observation of a component, with its 95 % interval, and the photo as its evidence. Look at it first: "measure".',
  arguments: [
    { name: 'PHOTO', help: 'id of the photo, device/specimen/photo' },
    { name: 'COMPONENT', help: 'local id of the component' },
    { name: 'KIND', help: `what is measured: ${KINDS.join(' or ')}` },
    { name: 'ID', help: 'local id of the new observation' },
  ],
  options: {
    body: BODIES,
    picked: decimal('PIXELS', {
      help: 'standard uncertainty with which places are picked (default 1)',
      above: 0,
      default: 1,
    }),
    cameraDistance: decimal('MM', {
      help: 'distance of the camera from the middle of what it shows',
      above: 0,
    }),
    on: text('DATE', 'when it was measured (ISO 8601)'),
    by: text('NAME', 'by whom; whoever makes the change, when left out'),
    corrects: text('ID', 'local id of the observation that it corrects'),
  },
  uses: 'change',
  formats: ['text', 'json'],
  examples: [
    'record-measurement nolvey-ferrule-3/a/photo-strip-top U1 body-size u1-size-on-photo --reason "measured on the photo"',
  ],

  async run(call) {
    const [photo, component, written, id] = call.arguments;
    const kind = KINDS.find((one) => one === written);
    if (!kind) throw new UsageError(`KIND is ${quoted(written)}; it must be one of ${KINDS.join(', ')}`);
    const { body, by: measurer, ...options } = call.options;
    if (body && body.length !== 1) throw new UsageError('--body takes the body of one component');
    const by = call.authorship();
    const archive = await call.changing();
    await archive.replayKeyed();
    const observation = await measuredObservation(archive.state('desk'), {
      photo,
      component,
      kind,
      id,
      body: body?.[0],
      by: measurer ?? by.actor,
      picked: options.picked,
      cameraDistance: options.cameraDistance,
      on: options.on,
      corrects: options.corrects,
    });
    const specimen = specimenOfId(photo);
    const entry = await archive.recordObservation(specimen, observation, by, 'desk');
    return {
      json: () => ({ observation, entry }),
      messages: [
        ...cautionLines(entry.cautions),
        `${thingId(specimen, id)} recorded: ${observation.text}; journaled as entry ${entry.sequence}`,
      ],
    };
  },
});
