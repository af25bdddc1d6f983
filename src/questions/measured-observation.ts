import { withInterval } from '../measurement/measuring.ts';
import type { Component, Observation } from '../model/dossier.ts';
import { componentMeant, thingId } from '../model/ids.ts';
import { CasebackError } from '../model/problems.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { fixed } from '../text/rounding.ts';
import { type AskedBody, likeliestPart, type MeasureRequest, measured, photoOf } from './measurement.ts';

/** A measurement on a photo that somebody takes over as an observation. */
export interface MeasurementToRecord extends Pick<MeasureRequest, 'picked' | 'cameraDistance'> {
  /** `device/specimen/photo` */
  readonly photo: string;
  /** Local id of the component. */
  readonly component: string;
  readonly kind: 'position' | 'body-size';
  /** Local id of the new observation. */
  readonly id: string;
  /** Left out, the region that shows the component. */
  readonly body?: AskedBody | undefined;
  readonly by?: string | undefined;
  readonly on?: string | undefined;
  readonly corrects?: string | undefined;
}

/**
 * The observation that a measurement makes: what was measured, with its 95 % interval, how, and the photo that shows it.
 * @throws CasebackError NOT_FOUND; BAD_INPUT for what cannot be measured
 */
export async function measuredObservation(state: State, asked: MeasurementToRecord): Promise<Observation> {
  const { photo: id, component: local, kind, body: drawn, picked = 1, cameraDistance } = asked;
  const { opened } = photoOf(state, id);
  const component = componentMeant(opened.dossier.components, local);
  if (!component) resolved(state, thingId(opened.id, local), ['Component']);
  const own = component as Component;
  const rotation = drawn?.rotation ?? own.rotation;
  const found = await measured(state, {
    photo: id,
    picked,
    cameraDistance,
    bodies: drawn ? [rotation === undefined ? drawn : { ...drawn, rotation }] : [],
  });
  const shown = found.components.filter((one) => one.component === own);
  if (!drawn && shown.length !== 1)
    throw new CasebackError(
      'BAD_INPUT',
      shown.length === 0
        ? `No region of the photo "${id}" shows ${local}; give its body on the photo, or record the region first`
        : `Several regions of the photo "${id}" show ${local}; give its body on the photo`,
    );
  const { body, problem, parallaxPerMm } = drawn ? found.bodies[0] : shown[0];
  if (!body) throw new CasebackError('BAD_INPUT', problem as string);
  const height = own.body?.height ?? likeliestPart(state, opened, own.id)?.body?.height;
  const also = ((height ?? 0) * (parallaxPerMm ?? 0)) / Math.sqrt(3);
  const [x, y, length, width] = [body.x, body.y, body.length, body.width].map((one) =>
    withInterval(one.value, Math.hypot(one.uncertainty, also)),
  );
  const { calibration, photo, side } = found;
  const method = `measured on a photo with ${calibration.points.length} known points (${calibration.kind}), places picked within ${picked} px; intervals are 95 %`;
  const aslant =
    parallaxPerMm === undefined
      ? 'the tilt of the view is not known and in no interval'
      : height === undefined
        ? `its height is not known: a mm of it moves the outline by up to ${fixed(parallaxPerMm, 2)} mm`
        : undefined;
  const of = kind === 'position' ? [x, y] : [length, width];
  const [first, second] = of.map(({ value, high }) => {
    const half = high - value;
    const digits = Math.min(4, Math.max(1, 1 - Math.floor(Math.log10(half))));
    return { value: fixed(value, digits), half: fixed(half, digits) };
  });
  return {
    id: asked.id,
    about: [own.id],
    kind,
    ...(kind === 'position'
      ? {
          text: `x ${first.value} ± ${first.half} mm, y ${second.value} ± ${second.half} mm${
            own.board === undefined ? '' : ` on ${own.board}`
          }, seen from the top side`,
        }
      : {
          text: `${first.value} x ${second.value} mm`,
          value: { value: Number(first.value), unit: 'mm', plusMinus: Number(first.half) },
        }),
    photo: photo?.photo.id,
    method,
    ...(asked.on === undefined ? {} : { on: asked.on }),
    ...(asked.by === undefined ? {} : { by: asked.by }),
    ...(asked.corrects === undefined ? {} : { corrects: asked.corrects }),
    note: [
      kind === 'body-size'
        ? `Length ± ${first.half} mm, width ± ${second.half} mm`
        : `Photo of the ${side} side`,
      aslant,
    ]
      .filter((one) => one !== undefined)
      .join('; '),
  } as Observation;
}
