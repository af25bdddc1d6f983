import type { Board } from '../../../model/board.ts';
import type {
  Observation,
  Photo,
  PhotoRegion,
  Specimen,
  Subsystem,
  Teardown,
} from '../../../model/dossier.ts';
import { TEARDOWN, thingId } from '../../../model/ids.ts';
import type { Connection, Net } from '../../../model/net.ts';
import type { PhotoFile } from '../../../model/photo-file.ts';
import type { Feed } from '../../../nets/feeds.ts';
import type { SharedBus, SignalPath } from '../../../nets/signal-paths.ts';
import type { NetMember, PinOnNet } from '../../../state/pins.ts';
import type { OpenedSpecimen } from '../../../state/specimen.ts';
import type { State } from '../../../state/state.ts';
import { idIn } from '../instants.ts';

/** Something inside a dossier as resolvers see it; see `catalogue.ts`. Its own short id is `localId`. */
interface Inside<N extends string> {
  readonly __typename: N;
  readonly id: string;
  readonly localId: string;
  readonly view: State;
  readonly opened: OpenedSpecimen;
}

export type SpecimenSource = Specimen & Inside<'Specimen'>;
export type TeardownStepSource = Teardown['steps'][number] & {
  readonly number: number;
  readonly view: State;
  readonly opened: OpenedSpecimen;
};
export type PhotoRegionSource = {
  readonly region: PhotoRegion;
  readonly photo: Pick<Photo, 'id' | 'sha256'>;
  readonly view: State;
  readonly opened: OpenedSpecimen;
};
/** The picture of a photo, by the photo's id. */
export type PictureSource = PhotoFile & { readonly photo: string };
export type TeardownSource = Teardown & Inside<'Teardown'>;
export type BoardSource = Board & Inside<'Board'>;
export type SubsystemSource = Subsystem & Inside<'Subsystem'>;
export type ObservationSource = Observation & Inside<'Observation'>;
export type PhotoSource = Photo & Inside<'Photo'>;
export type NetSource = Net & Inside<'Net'>;
type Within<T> = T & { readonly view: State; readonly opened: OpenedSpecimen };
export type NetPinSource = Within<NetMember>;
export type PowerFeedSource = Within<Feed>;
export type SignalPathSource = Within<SignalPath>;
export type SharedBusSource = Within<SharedBus>;
export type PinSource = PinOnNet & Partial<Within<unknown>>;
export type PhysicalLinkSource = Connection & Omit<Inside<'PhysicalLink'>, 'id' | 'localId'>;

export function specimenSource(view: State, opened: OpenedSpecimen): SpecimenSource {
  const { specimen } = opened.dossier;
  return {
    ...specimen,
    id: idIn(view, opened.id),
    localId: specimen.id,
    view,
    opened,
    __typename: 'Specimen',
  };
}

export function teardownSource(view: State, opened: OpenedSpecimen): TeardownSource {
  return {
    ...opened.dossier.teardown,
    id: idIn(view, thingId(opened.id, TEARDOWN)),
    localId: TEARDOWN,
    view,
    opened,
    __typename: 'Teardown',
  };
}

function inside<N extends string>(__typename: N) {
  return <R extends { readonly id: string }>(view: State, opened: OpenedSpecimen, record: R) => ({
    ...record,
    id: idIn(view, thingId(opened.id, record.id)),
    localId: record.id,
    view,
    opened,
    __typename,
  });
}

export const boardSource = inside('Board');
export const subsystemSource = inside('Subsystem');
export const observationSource = inside('Observation');
export const photoSource = inside('Photo');
export const netSource = inside('Net');

export function physicalLinkSource(
  view: State,
  opened: OpenedSpecimen,
  link: Connection,
): PhysicalLinkSource {
  return { ...link, view, opened, __typename: 'PhysicalLink' };
}
