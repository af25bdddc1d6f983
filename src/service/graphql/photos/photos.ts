import { recordDigest } from '../../../archive/changed-photo.ts';
import type { Recorded } from '../../../archive.ts';
import { limited } from '../../../dossier/limited.ts';
import { SIDES } from '../../../model/board.ts';
import { type Photo, photoChangeSchema, photoSchema } from '../../../model/dossier.ts';
import { parseThingId, specimenOfId, thingId } from '../../../model/ids.ts';
import type { State } from '../../../state/state.ts';
import { authorship, entrySource, recordOf } from '../changes/input.ts';
import { bodyOf, distanceOf, pickedOf, pointOf } from '../measurement/measurement.ts';
import { observationIn } from '../node.ts';
import type * as Api from '../resolver-types.ts';
import { photoSource } from '../specimens/sources.ts';
import { enumName, enumWord } from '../words.ts';

/** Photos added and changed, and what was measured on them recorded. */
export const photos: Api.Resolvers = {
  Mutation: {
    addPhoto: async (_root, { input }, { archive, view, who }) => {
      const { specimen, id, sha256, actor, reason, points, regions, side, ...words } = input;
      const photo = recordOf(
        photoSchema,
        {
          ...words,
          id,
          sha256,
          side: side ? enumWord(SIDES, side) : undefined,
          points: points?.map(pointOf),
          regions: regions.map(regionOf),
        },
        'input',
      );
      const entry = await archive.addPhoto(
        specimen,
        photo,
        authorship({ actor, reason }, who),
        view.audience,
      );
      return payloadOf(archive.state(view.audience), specimen, id, entry);
    },
    changePhoto: async (_root, { input }, { archive, view, who }) => {
      const { photo: id, actor, reason, points, regions, side, recordDigest: seen, ...words } = input;
      const change = recordOf(
        photoChangeSchema,
        {
          ...words,
          side: side ? enumWord(SIDES, side) : undefined,
          points: points && points.length > 0 ? points.map(pointOf) : undefined,
          regions: regions?.map(regionOf),
        },
        'input',
      );
      const entry = await archive.changePhoto(
        id,
        points && points.length === 0 ? { ...change, points: [] } : change,
        authorship({ actor, reason }, who),
        view.audience,
        seen ?? undefined,
      );
      return payloadOf(archive.state(view.audience), specimenOfId(id), parseThingId(id)?.local ?? '', entry);
    },
    recordMeasurement: async (_root, { input }, { archive, view, who }) => {
      const { photo, component, kind, id, body, picked, cameraDistance, on, by, corrects, actor, reason } =
        input;
      const author = authorship({ actor, reason }, who);
      await archive.replayKeyed();
      const { measuredObservation } = await import('../../../questions/measured-observation.ts');
      const observation = await measuredObservation(archive.state(view.audience), {
        photo,
        component,
        kind: enumWord(['position', 'body-size'], kind),
        id,
        body: body ? bodyOf(body) : undefined,
        picked: pickedOf(picked),
        cameraDistance: distanceOf(cameraDistance),
        by: by ?? author.actor,
        on: on ?? undefined,
        corrects: corrects ?? undefined,
      });
      const specimen = specimenOfId(photo);
      const entry = await archive.recordObservation(specimen, observation, author, view.audience);
      return {
        entry: entrySource(entry),
        observation: observationIn(archive.state(view.audience), specimen, observation.id),
        cautions: limited(entry.cautions),
      };
    },
  },
  Photo: {
    alike: async ({ view, opened, localId }) => {
      // What it needs decodes pictures, too.
      const { alikeTo } = await import('../../../questions/alike.ts');
      return alikeTo(view, thingId(opened.id, localId)).map(({ photo, opened: other, likeness, bits }) => ({
        photo: photoSource(view, other, photo),
        likeness: enumName(likeness),
        bitsApart: bits,
      }));
    },
    recordDigest: ({ opened, localId }) =>
      recordDigest(opened.dossier.photos.find(({ id }) => id === localId) as Photo),
  },
};

const regionOf = ({ of, box, corners }: Api.PhotoRegionInput) => ({
  of,
  ...(box ? { xywh: [box.left, box.top, box.width, box.height] } : {}),
  ...(corners ? { polygon: corners.map(({ left, top }) => [left, top]) } : {}),
});

function payloadOf(state: State, specimen: string, id: string, entry: Recorded) {
  const opened = state.specimen(specimen);
  const found = opened?.dossier.photos.find((photo) => photo.id === id);
  return {
    entry: entrySource(entry),
    photo: opened && found ? photoSource(state, opened, found) : null,
    cautions: limited(entry.cautions),
  };
}
