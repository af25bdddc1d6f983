import type { Agreement } from '../../../measurement/agreement.ts';
import { MOST_MEASURED } from '../../../measurement/limits.ts';
import type { Spot } from '../../../measurement/measure.ts';
import { SIDES } from '../../../model/board.ts';
import type { PhotoPoint } from '../../../model/dossier.ts';
import { CasebackError } from '../../../model/problems.ts';
import type { AskedBody, FoundBody, MeasureRequest } from '../../../questions/measurement.ts';
import { componentSource } from '../component-sources.ts';
import { viewOf } from '../context.ts';
import type * as Api from '../resolver-types.ts';
import { partSource } from '../sources.ts';
import { boardSource, photoSource } from '../specimens/sources.ts';
import { enumName, enumWord } from '../words.ts';

/** Places and sizes on photos. */
export const measurement: Api.Resolvers = {
  Query: {
    measure: async (root, args, context) => {
      const view = viewOf(root, context);
      const { measured } = await import('../../../questions/measurement.ts');
      const found = await measured(view, requestOf(args), context.signal());
      const { calibration, photo } = found;
      return {
        photo: photo && photoSource(view, photo.opened, photo.photo),
        side: enumName(found.side),
        plane: enumName(calibration.kind),
        points: found.points.map((point, i) => {
          const { px, mm, standsOut } = calibration.points[i];
          return {
            point: pointSource(point),
            rightPx: px[0],
            downPx: px[1],
            xMm: mm[0],
            yMm: mm[1],
            standsOutMm: standsOut,
          };
        }),
        degreesOfFreedom: calibration.degreesOfFreedom,
        residualPx: calibration.residualPx,
        residualMm: calibration.residualMm,
        fitProbability: calibration.fits,
        scatter: calibration.scatter,
        mmPerPxLeast: calibration.mmPerPx[0],
        mmPerPxMost: calibration.mmPerPx[1],
        tilt: calibration.viewpoint?.tilt,
        cameraDistance: calibration.viewpoint?.distance,
        tiltEffects: calibration.tiltEffects,
        bending: calibration.bending && {
          kind: enumName(calibration.bending.kind),
          corners: calibration.bending.percent,
          leftMm: calibration.bending.left,
        },
        places: found.places,
        lengths: found.lengths.map(({ measured: length, known, agreement }) => ({
          length,
          known,
          agreement: agreementSource(agreement),
        })),
        scale: found.scale && {
          lengths: found.scale.lengths,
          inside: found.scale.inside,
          tooLong: found.scale.percent,
          isOff: found.scale.isOff,
          alongX: found.scale.along,
          alongY: found.scale.across,
          sentence: found.scale.sentence,
        },
        bodies: found.bodies.map(bodySource),
        components: found.components.map((one) => {
          const part = one.part && view.part(one.part.id);
          return {
            component: componentSource(view, (photo as NonNullable<typeof photo>).opened, one.component),
            body: bodySource(one),
            parallaxMm: one.parallax,
            position: agreementSource(one.position),
            length: agreementSource(one.length),
            width: agreementSource(one.width),
            part: part && partSource(view, part),
            partLength: agreementSource(one.part?.length),
            partWidth: agreementSource(one.part?.width),
          };
        }),
        cautions: found.cautions,
      };
    },
  },
  Photo: {
    board: ({ view, opened, board }) => {
      const found = opened.dossier.boards.find(({ id }) => id === board);
      return found && boardSource(view, opened, found);
    },
    side: ({ side }) => enumName(side),
    points: ({ points }) => (points ?? []).map(pointSource),
  },
};

function requestOf({
  photo,
  size,
  points,
  side,
  places,
  lengths,
  bodies,
  ...more
}: Api.QueryMeasureArgs): MeasureRequest {
  mostOf('points', points);
  mostOf('places', places);
  mostOf('lengths', lengths);
  mostOf('bodies', bodies);
  return {
    photo: photo ?? undefined,
    size: size ? sizeOf(size) : undefined,
    points: points?.map(pointOf),
    side: side ? enumWord(SIDES, side) : undefined,
    picked: pickedOf(more.picked),
    cameraDistance: distanceOf(more.cameraDistance),
    places: places.map(spotOf),
    lengths: lengths.map(({ from, to, is, within }) => {
      if (is != null && !(is > 0)) throw new CasebackError('BAD_INPUT', 'a known length is above 0 mm');
      return { from: spotOf(from), to: spotOf(to), is: is ?? undefined, within };
    }),
    bodies: bodies.map(bodyOf),
  };
}

/** @throws CasebackError BAD_INPUT */
export function pickedOf(picked: number): number {
  if (picked > 0) return picked;
  throw new CasebackError('BAD_INPUT', 'picked is a number of pixels above 0');
}

/** @throws CasebackError BAD_INPUT */
export function distanceOf(distance: number | null | undefined): number | undefined {
  if (distance == null || distance > 0) return distance ?? undefined;
  throw new CasebackError('BAD_INPUT', 'cameraDistance is a number of mm above 0');
}

function mostOf(name: keyof typeof MOST_MEASURED, list: readonly unknown[] | null | undefined): void {
  if (list && list.length > MOST_MEASURED[name])
    throw new CasebackError('TOO_LARGE', `${list.length} ${name} are given; at most ${MOST_MEASURED[name]}`);
}

function sizeOf({ widthPx, heightPx }: Api.PictureSizeInput) {
  if (widthPx < 1 || heightPx < 1)
    throw new CasebackError('BAD_INPUT', 'width and height of a picture are 1 pixel or more');
  return { width: widthPx, height: heightPx };
}

const spotOf = ({ left, top }: Api.PhotoSpotInput): Spot => [left, top];

/** A point as records have it. */
export function pointOf({ at, x, y, within }: Api.PhotoPointInput): PhotoPoint {
  if (within != null && !(within > 0))
    throw new CasebackError(
      'BAD_INPUT',
      'the uncertainty of a known position is above 0 mm; leave it out where it is exact',
    );
  return { at: [at.left, at.top], mm: [x, y], ...(within == null ? {} : { within }) };
}

/** A body as questions have it. @throws CasebackError BAD_INPUT, TOO_LARGE */
export function bodyOf({ corners, box, rotation }: Api.PhotoBodyInput): AskedBody {
  mostOf('corners', corners);
  const turned = rotation == null ? {} : { rotation };
  if (corners && !box) return { corners: corners.map(spotOf), ...turned };
  if (box && !corners) return { xywh: [box.left, box.top, box.width, box.height], ...turned };
  throw new CasebackError(
    'BAD_INPUT',
    'a body is given by its corners or by the box around it, one of the two',
  );
}

const pointSource = ({ at: [left, top], mm: [x, y], within }: PhotoPoint) => ({
  at: { left, top },
  x,
  y,
  within,
});

function agreementSource(agreement: Agreement | undefined) {
  return agreement && { ...agreement, verdict: enumName(agreement.verdict) };
}

const bodySource = ({ body, parallaxPerMm, problem }: FoundBody) => ({
  x: body?.x,
  y: body?.y,
  length: body?.length,
  width: body?.width,
  rotation: body?.rotation,
  parallax: parallaxPerMm,
  problem,
});
