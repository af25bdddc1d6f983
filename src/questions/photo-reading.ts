// Markings read on photos, as suggestions. The code is loaded on first use.

import type { PhotoChannel, ReadCharacter } from '../identification/photo-channel.ts';
import type { Posterior } from '../identification/posterior.ts';
import type { Placed } from '../identification/questions.ts';
import { partIdOf } from '../model/catalogue.ts';
import type { PhotoRegion, Suggestion } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import { formatMarking } from '../model/marking.ts';
import { type Box, boxOfRegion } from '../model/photo-region.ts';
import { CasebackError } from '../model/problems.ts';
import { keptFile } from '../photos/kept.ts';
import type { Photos } from '../photos/photos.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { type FoundPhoto, photoNamed } from './photos.ts';

/** What is to be read. */
export interface PhotoReadingWish {
  /** Id of a component, which regions of photos show, or of a photo. */
  readonly of: string;
  /** Id of the photo, where a component is on several; of a photo without a region of it together with `region`. */
  readonly photo?: string | undefined;
  /** Left, top, width, height in percent of the photo, in place of its regions. */
  readonly region?: readonly number[] | undefined;
  /** How far the region is turned clockwise to be read, degrees, 0 to 360. Where left out, all four ways up are tried, along the component's own axes. */
  readonly turned?: number | undefined;
}

/** Characters read on a part of a photo, with what they suggest. */
export interface PhotoReading {
  readonly photo: FoundPhoto;
  /** The part that was read, as the smallest rectangle that holds it. */
  readonly region: Box;
  /** How far it was turned clockwise for that, degrees. */
  readonly turned: number;
  /** Characters with what each may truly be. */
  readonly lines: readonly (readonly ReadCharacter[])[];
  /** What is suggested; undefined where nothing legible was found. */
  readonly suggestion: Suggestion | undefined;
  /** The component, where one was asked for. */
  readonly placed: Placed | undefined;
  /** What it would be if the suggestion were confirmed. */
  readonly ifConfirmed: IfConfirmed | undefined;
  /** Photos of the component that were read as well and told less, and what was read on each. */
  readonly others: readonly OtherReading[];
}

export interface OtherReading {
  readonly photo: string;
  /** undefined where nothing legible was found. */
  readonly marking: string | undefined;
}

/** Odds with the reading beside all that is recorded. */
export interface IfConfirmed {
  readonly recorded: Posterior;
  readonly odds: Posterior;
  /** What the reading says for a part against none in the catalogue, bits. */
  bitsFor(part: string): number | undefined;
}

interface Place {
  readonly photo: FoundPhoto;
  readonly region: Pick<PhotoRegion, 'xywh' | 'polygon'>;
}

/** Photos of one component that are read at most. */
const MOST_PHOTOS = 6;

/**
 * Reads the marking of a component on the photos that show it, or a region of a photo. Nothing is recorded.
 * @throws CasebackError NOT_FOUND; BAD_INPUT where no photo shows it or a region has too few pixels; UNAVAILABLE, OUT_OF_BUDGET
 */
export async function readPhoto(
  state: State,
  photos: Photos | undefined,
  wish: PhotoReadingWish,
): Promise<PhotoReading> {
  if (!photos) throw new CasebackError('UNAVAILABLE', 'This archive was opened without a place for photos');
  const turned = turnOf(wish.turned);
  const { placed, places } = placesOf(state, wish);
  const { readPhotoPart } = await import('../photo-reading/read-photo.ts');
  const { READER } = await import('../photo-reading/reader.ts');
  const { channelOf } = await import('../identification/photo-channel.ts');
  const rotation = placed?.component.rotation;
  const readings: { place: Place; channel: PhotoChannel; turned: number }[] = [];
  let refused: unknown;
  for (const place of places.slice(0, MOST_PHOTOS)) {
    const { photo, region } = place;
    try {
      const read = await readPhotoPart(photos, { file: photo.file, region, turned, rotation }, photo.id);
      readings.push({ place, channel: channelOf(read.lines), turned: read.turned });
    } catch (error) {
      refused = error;
    }
  }
  if (readings.length === 0) throw refused;
  // Characters that are certain, doubled: two photos of one chip are seldom worn in the same places, and the better one tells all.
  readings.sort((a, b) => b.channel.told - a.channel.told);
  const [{ place, channel, turned: so }, ...rest] = readings;
  const written = (one: PhotoChannel) => {
    const marking = one.suggestion();
    return marking && formatMarking(marking);
  };
  const marking = written(channel);
  const region = boxOfRegion(place.region);
  return {
    photo: place.photo,
    region,
    turned: so,
    lines: channel.characters(),
    suggestion:
      marking === undefined
        ? undefined
        : { by: READER, marking, region: `xywh=percent:${region.join(',')}`, turned: so },
    placed,
    ifConfirmed: placed && marking !== undefined ? await oddsWith(state, placed, channel) : undefined,
    others: rest.map((one) => ({ photo: one.place.photo.id, marking: written(one.channel) })),
  };
}

async function oddsWith(state: State, placed: Placed, channel: PhotoChannel): Promise<IfConfirmed> {
  const { oddsWithPhoto } = await import('../identification/questions.ts');
  const { recorded, odds } = await oddsWithPhoto(state, placed, channel);
  const probabilityIn = ({ candidates }: Posterior, id: string) =>
    candidates.find(({ part }) => partIdOf(part) === id)?.probability;
  return {
    recorded,
    odds,
    bitsFor(id) {
      const [before, after] = [probabilityIn(recorded, id), probabilityIn(odds, id)];
      if (before === undefined || after === undefined) return undefined;
      return Math.log2(after / odds.none) - Math.log2(before / recorded.none);
    },
  };
}

function placesOf(state: State, { of, photo, region }: PhotoReadingWish) {
  const own = region === undefined ? undefined : { xywh: boxIn(region) };
  const found = resolved(state, of, ['Component', 'Photo']);
  if (found.kind === 'Photo') {
    if (photo !== undefined && photo !== of)
      throw new CasebackError('BAD_INPUT', 'photo names another photo; leave it out, or ask of a component');
    if (!own)
      throw new CasebackError(
        'BAD_INPUT',
        'region is missing; give left, top, width and height in percent of the photo, or ask of a component that a region shows',
      );
    return { placed: undefined, places: [{ photo: photoNamed(state, of), region: own }] };
  }
  const { opened, thing: component } = found;
  const device = state.device((state.specimenRow(opened.id) as SpecimenRow).deviceId);
  if (!device) throw new CasebackError('NOT_FOUND', `No component has the id "${of}"`);
  const placed: Placed = { opened, component, device };
  if (own) {
    if (photo === undefined)
      throw new CasebackError('BAD_INPUT', 'photo is missing; name the photo that the region is on');
    const named = photoNamed(state, photo);
    if (named.opened.id !== opened.id)
      throw new CasebackError('BAD_INPUT', `The photo "${photo}" is of another specimen than "${of}"`);
    return { placed, places: [{ photo: named, region: own }] };
  }
  const shown = opened.dossier.photos.flatMap((one) =>
    one.regions.filter((part) => part.of === component.id).map((part) => ({ one, part })),
  );
  const among = photo === undefined ? shown : shown.filter(({ one }) => thingId(opened.id, one.id) === photo);
  if (among.length === 0) {
    if (photo !== undefined) photoNamed(state, photo);
    throw new CasebackError(
      'BAD_INPUT',
      `No region of ${photo === undefined ? 'a photo' : `the photo "${photo}"`} shows ${of}; give photo and region, or add a region to the dossier`,
    );
  }
  const row = state.specimenRow(opened.id) as SpecimenRow;
  const withFile = among.flatMap(({ one, part }): readonly Place[] => {
    const file = keptFile(row, one.sha256);
    return file
      ? [{ photo: { id: thingId(opened.id, one.id), photo: one, file, opened }, region: part }]
      : [];
  });
  // Says that the file is not here, in the words of every other question.
  if (withFile.length === 0) photoNamed(state, thingId(opened.id, among[0].one.id));
  return { placed, places: withFile };
}

function boxIn(region: readonly number[]): [number, number, number, number] {
  const [left, top, width, height] = region;
  if (region.length !== 4 || !region.every(Number.isFinite) || width <= 0 || height <= 0)
    throw new CasebackError(
      'BAD_INPUT',
      `region is ${region.join(',') || 'empty'}; give left, top, width and height in percent of the photo, such as 12.5,30,8,6`,
    );
  return [left, top, width, height];
}

function turnOf(turned: number | undefined): number | undefined {
  if (turned === undefined || (turned >= 0 && turned < 360)) return turned;
  throw new CasebackError('BAD_INPUT', `turned is ${turned}; it must be 0 to 360 degrees, clockwise`);
}
