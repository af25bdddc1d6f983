// Positions and sizes on photos: what the known points of a photo carry, and what is recorded beside it.

import { type Agreement, agreementOf, placeAgreement } from '../measurement/agreement.ts';
import type { MeasuredBody } from '../measurement/bodies.ts';
import {
  type AskedLength,
  type FoundLength,
  lengthsOf,
  type ScaleCheck,
} from '../measurement/known-lengths.ts';
import { type Calibration, MeasurablePhoto, type MeasuredSpot, type Spot } from '../measurement/measure.ts';
import type { SIDES } from '../model/board.ts';
import { partIdOf } from '../model/catalogue.ts';
import type { Component, Photo, PhotoPoint } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import { cornersOfRegion } from '../model/photo-region.ts';
import { CasebackError } from '../model/problems.ts';
import { keptFile } from '../photos/kept.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { Pace } from '../state/pace.ts';
import { resolved } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import { fixed, significant } from '../text/rounding.ts';

type Side = (typeof SIDES)[number];

/** A body that is to be measured, in percent of the photo. */
export type AskedBody = (
  | { readonly corners: readonly Spot[] }
  | { readonly xywh: readonly [number, number, number, number] }
) & {
  /** Degrees counter-clockwise, seen from the side that the photo shows. */
  readonly rotation?: number | undefined;
};

export interface MeasureRequest {
  /** `device/specimen/photo`; without it size and points are given. */
  readonly photo?: string | undefined;
  /** Of the upright picture, pixels: for a photo whose file is not at hand. */
  readonly size?: { readonly width: number; readonly height: number } | undefined;
  /** In place of those on record, to try them out. */
  readonly points?: readonly PhotoPoint[] | undefined;
  /** Side of the board that the photo shows, where that is not on record. */
  readonly side?: Side | undefined;
  /** Standard uncertainty with which places are picked, pixels. @default 1 */
  readonly picked?: number | undefined;
  /** Of the camera from the middle of what the photo shows, mm. */
  readonly cameraDistance?: number | undefined;
  readonly places?: readonly Spot[] | undefined;
  readonly lengths?: readonly AskedLength[] | undefined;
  readonly bodies?: readonly AskedBody[] | undefined;
}

/** A body as a component would have it: rotation as seen from its own side. */
export interface FoundBody {
  readonly body: MeasuredBody | undefined;
  /** By how much a mm of its height moves its outline, mm, at most where nobody knows from how far the photo was taken; undefined where the tilt is not known. */
  readonly parallaxPerMm: number | undefined;
  /** Why it cannot be measured. */
  readonly problem: string | undefined;
}

/** A component that a region of the photo shows, measured, beside what is recorded of it. */
export interface MeasuredComponent extends FoundBody {
  readonly component: Component;
  /** Id of the component. */
  readonly id: string;
  /** Its height as recorded or of its part, mm, and what that may move it by, mm. */
  readonly height: number | undefined;
  readonly parallax: number | undefined;
  readonly position: Agreement | undefined;
  readonly length: Agreement | undefined;
  readonly width: Agreement | undefined;
  /** The part that it most likely is, where the catalogue has its body. */
  readonly part: { readonly id: string; readonly length: Agreement; readonly width: Agreement } | undefined;
}

export interface PhotoMeasurement {
  readonly photo:
    | {
        readonly id: string;
        readonly photo: Photo;
        readonly opened: OpenedSpecimen;
        /** Undefined where the archive knows the photo by its digest alone. */
        readonly file: PhotoFile | undefined;
      }
    | undefined;
  readonly width: number;
  readonly height: number;
  readonly side: Side;
  readonly points: readonly PhotoPoint[];
  readonly calibration: Calibration;
  readonly places: readonly MeasuredSpot[];
  readonly lengths: readonly FoundLength[];
  readonly scale: ScaleCheck | undefined;
  readonly bodies: readonly FoundBody[];
  readonly components: readonly MeasuredComponent[];
  /** What is not known, and what to mind, in sentences. */
  readonly cautions: readonly string[];
}

/**
 * Measures on a photo: how sure that is, and places, lengths and bodies in mm, each with its 95 % interval.
 * @param state left out, where no photo of an archive is asked about
 * @throws CasebackError NOT_FOUND; BAD_INPUT for points that carry no measurement, for a photo without points or whose size nobody knows
 */
export async function measured(
  state: State | undefined,
  request: MeasureRequest,
  signal?: AbortSignal,
): Promise<PhotoMeasurement> {
  mustMakeSense(request);
  const found = request.photo === undefined || !state ? undefined : photoOf(state, request.photo);
  const photo = measurable(request, found);
  const { photographed, calibration } = photo;
  const pace = new Pace(signal);
  const side: Side = photographed.isBottom ? 'bottom' : 'top';
  const bodies: FoundBody[] = [];
  for (const asked of request.bodies ?? []) {
    const body = measuredBody(photo, asked, fromTop(asked.rotation, side));
    if (body.problem !== undefined) throw new CasebackError('BAD_INPUT', body.problem);
    bodies.push(body);
    await pace.rest();
  }
  const components: MeasuredComponent[] = [];
  for (const region of found?.photo.regions ?? []) {
    const component = found?.opened.components.get(region.of);
    if (!state || !found || !component) continue;
    components.push(componentOn(state, photo, found, component, region, side));
    await pace.rest();
  }
  const { lengths, scale } = lengthsOf(photo, request.lengths ?? []);
  const places = (request.places ?? []).map((place) => photo.spot(place));
  return {
    photo: found,
    width: photographed.width,
    height: photographed.height,
    side,
    points: photographed.points as readonly PhotoPoint[],
    calibration,
    places,
    lengths,
    scale,
    bodies,
    components,
    cautions: [
      ...cautionsOf(calibration, photographed.cameraDistance ?? calibration.viewpoint?.distance?.value),
      ...(places.some(({ isOutside }) => isOutside)
        ? ['Some places lie outside of what the known points span: there a bend of the lens shows most.']
        : []),
      ...(scale?.isOff || scale?.isUneven ? [scale.sentence] : []),
    ],
  };
}

/** Places lie on the photo or not far beside it. */
const SPOTS = { least: -50, most: 150 };

function mustLieOnPhoto(spots: readonly Spot[]): void {
  for (const spot of spots)
    for (const one of spot)
      if (!(one >= SPOTS.least && one <= SPOTS.most))
        throw new CasebackError(
          'BAD_INPUT',
          `A place on the photo is given as ${spot.join(', ')}: write percent from the left and from the top, such as 48.2, 31.5`,
        );
}

function mustMakeSense({ points = [], places = [], lengths = [], bodies = [] }: MeasureRequest): void {
  mustLieOnPhoto([
    ...points.map(({ at }) => at),
    ...places,
    ...lengths.flatMap(({ from, to }) => [from, to]),
    ...bodies.flatMap((body) =>
      'corners' in body
        ? body.corners
        : [[body.xywh[0], body.xywh[1]] as const, [body.xywh[2], body.xywh[3]] as const],
    ),
  ]);
  for (const { from, to } of lengths)
    if (from[0] === to[0] && from[1] === to[1])
      throw new CasebackError('BAD_INPUT', 'A length begins and ends in one place of the photo; give two');
}

type FoundPhotoOf = NonNullable<PhotoMeasurement['photo']>;

/** @throws CasebackError NOT_FOUND */
export function photoOf(state: State, id: string): FoundPhotoOf {
  const { opened, thing, id: own } = resolved(state, id, ['Photo']);
  const file = keptFile(state.specimenRow(opened.id) as SpecimenRow, thing.sha256);
  return { id: own, photo: thing, opened, file };
}

function measurable(request: MeasureRequest, found: FoundPhotoOf | undefined): MeasurablePhoto {
  const { picked = 1, cameraDistance } = request;
  const size = found?.file ?? request.size;
  if (!size)
    throw new CasebackError(
      'BAD_INPUT',
      found
        ? `The archive does not have the file of the photo "${found.id}", so that its size is not known; give width and height in pixels`
        : 'Give the photo, or the size of a picture in pixels with its known points',
    );
  const points = request.points ?? found?.photo.points;
  if (!points)
    throw new CasebackError(
      'BAD_INPUT',
      found
        ? `The photo "${found.id}" has no points of known position; give some, such as four corners of the board with their places in mm, or record them (change-photo, changePhoto)`
        : 'Give points of known position: two for the scale, four for scale and tilt',
    );
  const isBottom = (request.side ?? found?.photo.side ?? 'top') === 'bottom';
  return new MeasurablePhoto({
    width: size.width,
    height: size.height,
    points,
    isBottom,
    picked,
    cameraDistance,
  });
}

/** Rotations count as seen from the side of the component; on the bottom they turn the other way seen from the top. */
const fromTop = (rotation: number | undefined, side: Side) =>
  rotation === undefined ? undefined : side === 'bottom' ? -rotation : rotation;

/** As seen from the side that the photo shows. */
function seenFrom(side: Side, body: MeasuredBody): MeasuredBody {
  if (side === 'top' || !body.rotation) return body;
  const { value, low, high, uncertainty } = body.rotation;
  const by = value === 0 ? 0 : 360;
  return { ...body, rotation: { value: by - value, low: by - high, high: by - low, uncertainty } };
}

function measuredBody(
  photo: MeasurablePhoto,
  shape: Parameters<MeasurablePhoto['body']>[0],
  rotation: number | undefined,
): FoundBody {
  try {
    const body = photo.body(shape, rotation);
    const parallaxPerMm = photo.parallaxAt([body.x.value, body.y.value]);
    return {
      body: seenFrom(photo.photographed.isBottom ? 'bottom' : 'top', body),
      parallaxPerMm,
      problem: undefined,
    };
  } catch (error) {
    if (!(error instanceof CasebackError)) throw error;
    return { body: undefined, parallaxPerMm: undefined, problem: error.message };
  }
}

function componentOn(
  state: State,
  photo: MeasurablePhoto,
  { opened }: FoundPhotoOf,
  component: Component,
  region: Photo['regions'][number],
  side: Side,
): MeasuredComponent {
  const rotation = fromTop(component.rotation ?? 0, side);
  const { xywh, polygon } = region;
  const found = measuredBody(
    photo,
    xywh && !polygon ? { xywh } : { corners: cornersOfRegion(region) },
    rotation,
  );
  const { body, parallaxPerMm } = found;
  const part = likeliestPart(state, opened, component.id);
  const height = component.body?.height ?? part?.body?.height;
  const parallax = height === undefined || parallaxPerMm === undefined ? undefined : height * parallaxPerMm;
  // Somewhere between the foot of the body and its top: as likely anywhere (GUM, section 4.3.7).
  const also = (parallax ?? 0) / Math.sqrt(3);
  const own = component.body;
  return {
    ...found,
    id: thingId(opened.id, component.id),
    component,
    height,
    parallax,
    position: body && component.at ? placeAgreement(body, component.at, also) : undefined,
    length: body && own ? agreementOf(body.length, own.length, also) : undefined,
    width: body && own ? agreementOf(body.width, own.width, also) : undefined,
    part: body && part?.body ? { id: partIdOf(part), ...sidesAgreement(body, part.body, also) } : undefined,
  };
}

/** Catalogue and bench may call different sides the length. */
function sidesAgreement(
  body: MeasuredBody,
  of: { readonly length: number; readonly width: number },
  also: number,
) {
  const isTurned = body.length.value >= body.width.value !== of.length >= of.width;
  return {
    length: agreementOf(isTurned ? body.width : body.length, of.length, also),
    width: agreementOf(isTurned ? body.length : body.width, of.width, also),
  };
}

/** The part that a component is most likely identified as. */
export function likeliestPart(state: State, opened: OpenedSpecimen, component: string) {
  const [best] = (opened.identified.get(component)?.candidates ?? []).toSorted(
    (a, b) => b.probability - a.probability,
  );
  return best?.part === undefined ? undefined : state.part(best.part);
}

const mm = (value: number) => `${significant(value, 2)} mm`;

function cautionsOf(calibration: Calibration, distance: number | undefined): readonly string[] {
  const { kind, fits, points, scatter, viewpoint, bending, tiltEffects, isMirrored, degreesOfFreedom } =
    calibration;
  const cautions: string[] = [];
  if (isMirrored)
    cautions.push(
      'The known points turn the other way than the side of the board says: the photo shows the other side, is mirrored, or the points are not as seen from the top side.',
    );
  const effects = tiltEffects
    .map(({ tilt, percent, percentNear }) => `${tilt}°: ${fixed(percent, 1)} % (${fixed(percentNear, 0)} %)`)
    .join(', ');
  if (kind === 'scale')
    cautions.push(
      `Two points give the scale alone: the tilt of the view is not known and is in no interval. It would move lengths, taken from far away (in brackets, from near, at the edge), by ${effects}. Four points tell it.`,
    );
  if (kind === 'parallel')
    cautions.push(
      `Three points give a view as if from far away: that near things look larger is in no interval. Taken from far away nothing is missing; from near, lengths at the edge would be off by up to ${tiltEffects
        .map(({ tilt, percent, percentNear }) => `${fixed(percentNear - percent, 0)} % at a tilt of ${tilt}°`)
        .join(', ')}. A fourth point tells it.`,
    );
  if (degreesOfFreedom === 0)
    cautions.push(
      `With ${points.length} points nothing is left over to check them: one that is wrong shows nowhere. One or two more would show it.`,
    );
  points.forEach(({ standsOut }, i) => {
    if (standsOut !== undefined)
      cautions.push(
        `Point ${i + 1} stands out: the others put it ${mm(standsOut)} from where it is said to be. Look at it again; it still counts in what is measured.`,
      );
  });
  if (fits !== undefined && fits < 0.01 && points.every(({ standsOut }) => standsOut === undefined))
    cautions.push(
      degreesOfFreedom <= 2
        ? 'The known points do not go together, and so few cannot tell which is wrong.'
        : 'The known points do not go together, and it is not one of them: they are picked or known worse than stated, the board is not flat, or the lens bends.',
    );
  if (scatter > 1.2)
    cautions.push(
      `The known points scatter ${fixed(scatter, 1)} times as much as stated, and all intervals are as much wider.`,
    );
  if (bending && bending.kind !== 'not-seen')
    cautions.push(
      `The lens bends lines (${bending.kind}): ${fixed(bending.percent.value, 2)} % in the corners of the photo, and ${mm(
        bending.left,
      )} of it is left among the known points.`,
    );
  cautions.push(
    viewpoint
      ? `What stands on the board is seen aslant: a mm of height moves the outline by ${
          distance === undefined ? 'up to ' : 'about '
        }${fixed(Math.tan((viewpoint.tilt[distance === undefined ? 'high' : 'value'] * Math.PI) / 180), 2)} mm in the middle of the photo, more towards its edges.`
      : 'What stands on the board is seen aslant: at a tilt of 10° a mm of height moves the outline by 0.18 mm. The tilt is not known, and this is in no interval.',
  );
  return cautions;
}
