import type { CandidateOdds, Posterior } from '../../../identification/posterior.ts';
import { partIdOf } from '../../../model/catalogue.ts';
import { lastOfId } from '../../../model/ids.ts';
import { CasebackError } from '../../../model/problems.ts';
import { type IfConfirmed, type PhotoReading, readPhoto } from '../../../questions/photo-reading.ts';
import { componentSource } from '../component-sources.ts';
import { type Seen, viewOf } from '../context.ts';
import type { Resolvers } from '../resolver-types.ts';
import { partSource } from '../sources.ts';
import { photoSource } from '../specimens/sources.ts';
import { bounded } from '../words.ts';

/** What was read on a photo, as its resolvers see it. */
export type PhotoReadingSource = Seen<PhotoReading>;
/** A photo that was read and told less. */
export type OtherPhotoReadingSource = Seen<{
  readonly of: PhotoReading;
  readonly photo: string;
  readonly marking: string | undefined;
}>;
/** What a component would be. */
export type CandidatesIfConfirmedSource = Seen<IfConfirmed>;
/** A part that a component would be, with the odds it is one of. */
export type PartIfConfirmedSource = Seen<CandidateOdds> & { readonly of: IfConfirmed };

const probabilityIn = ({ candidates }: Posterior, id: string) =>
  candidates.find(({ part }) => partIdOf(part) === id)?.probability ?? null;

/** Markings read on photos. */
export const photoReading: Resolvers = {
  Query: {
    readPhoto: async (root, { of, photo, region, turned }, context) => {
      if (context.who.by === undefined)
        throw new CasebackError('SIGNED_OUT', 'Photos are read for people with an account; sign in');
      const view = viewOf(root, context);
      const wish = {
        of,
        photo: photo ?? undefined,
        region: region ?? undefined,
        turned: turned ?? undefined,
      };
      return { ...(await readPhoto(view, context.archive.photos, wish)), view };
    },
  },
  PhotoReading: {
    photo: ({ view, photo: { opened, photo } }) => photoSource(view, opened, photo),
    region: ({ region }) => `xywh=percent:${region.join(',')}`,
    component: ({ view, placed }) => (placed ? componentSource(view, placed.opened, placed.component) : null),
    lines: ({ lines }) =>
      lines.map((line) => ({
        characters: line.map((one) => ({ ...one, alternatives: [...one.alternatives] })),
      })),
    suggestion: ({ suggestion }) => suggestion ?? null,
    ifConfirmed: ({ view, ifConfirmed }) => (ifConfirmed ? { ...ifConfirmed, view } : null),
    others: (of) => of.others.map((one) => ({ ...one, of, view: of.view })),
  },
  OtherPhotoReading: {
    photo: ({ view, of, photo }) => {
      const { opened } = of.photo;
      const found = opened.dossier.photos.find(({ id }) => id === lastOfId(photo));
      return photoSource(view, opened, found ?? of.photo.photo);
    },
    marking: ({ marking }) => marking ?? null,
  },
  CandidatesIfConfirmed: {
    parts: (of, { first }) =>
      of.odds.candidates.slice(0, bounded('first', first, 100)).map((one) => ({ ...one, of, view: of.view })),
    none: ({ odds }) => odds.none,
    recordedNone: ({ recorded }) => recorded.none,
  },
  PartIfConfirmed: {
    part: ({ view, part }) => partSource(view, part),
    recordedProbability: ({ of, part }) => probabilityIn(of.recorded, partIdOf(part)),
    bits: ({ of, part }) => of.bitsFor(partIdOf(part)) ?? null,
  },
};
