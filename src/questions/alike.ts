// Photos that are copies or near copies of one another, among those that an audience may see.

import type { ReadDocument } from '../dossier/document/document.ts';
import { type Photo, specimenIdOf } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import type { PhotoFile } from '../model/photo-file.ts';
import type { Problem } from '../model/problems.ts';
import { AlikeIndex } from '../photos/alike.ts';
import { keptFile, type PhotosAtHand } from '../photos/kept.ts';
import type { SpecimenRow } from '../state/facts.ts';
import { resolved } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';

/** How alike two photos are. */
export type Likeness = 'same-file' | 'same-picture' | 'near-copy';

/** A photo that is likely a copy of another one. */
export interface AlikePhoto {
  /** `device/specimen/photo` */
  readonly id: string;
  readonly photo: Photo;
  readonly opened: OpenedSpecimen;
  readonly likeness: Likeness;
  /** Bits of 256 in which their perceptual hashes differ. */
  readonly bits: number;
}

interface KeptOf {
  readonly likeness: string;
  readonly specimen: string;
  readonly file: PhotoFile;
}

/** Files of the photos of a state, in the order of their specimens; made once a state. */
const indexOf = (state: State): AlikeIndex<KeptOf> => state.derived(makeIndex);

function makeIndex(state: State): AlikeIndex<KeptOf> {
  const rows = [...state.facts.specimens.values()].filter(({ added }) => added.photoFiles.length > 0);
  return new AlikeIndex(
    rows
      .toSorted((a, b) => (a.id < b.id ? -1 : 1))
      .flatMap(({ id, added }) =>
        added.photoFiles.map((file) => ({ likeness: file.likeness, specimen: id, file })),
      ),
  );
}

/**
 * Photos that are likely copies of a file, in the order of their ids.
 * @param but id of a photo that is left out: the one asked about
 */
export function photosAlike(
  state: State,
  file: Pick<PhotoFile, 'sha256' | 'likeness' | 'served'>,
  but?: string,
): readonly AlikePhoto[] {
  return indexOf(state)
    .near(file.likeness)
    .flatMap(({ item, bits }) => {
      const opened = state.specimen(item.specimen);
      const named = opened?.dossier.photos.filter(({ sha256 }) => sha256 === item.file.sha256) ?? [];
      return named.flatMap((photo): readonly AlikePhoto[] => {
        const id = thingId(item.specimen, photo.id);
        if (!opened || id === but) return [];
        return [{ id, photo, opened, bits, likeness: likenessTo(file, item.file) }];
      });
    });
}

function likenessTo(one: Pick<PhotoFile, 'sha256' | 'served'>, other: PhotoFile): Likeness {
  if (one.sha256 === other.sha256) return 'same-file';
  return one.served.sha256 === other.served.sha256 ? 'same-picture' : 'near-copy';
}

/** Photos that are likely copies of one on record; none where the archive knows it by its digest alone. @throws CasebackError NOT_FOUND */
export function alikeTo(state: State, id: string): readonly AlikePhoto[] {
  const { opened, thing, id: own } = resolved(state, id, ['Photo']);
  const file = keptFile(state.specimenRow(opened.id) as SpecimenRow, thing.sha256);
  return file ? photosAlike(state, file, own) : [];
}

/** Two photos that are likely copies of one another. */
export interface AlikePair {
  readonly one: string;
  readonly other: AlikePhoto;
}

/** All pairs of photos that are likely copies, each once, in the order of their ids. */
export function allAlike(state: State): readonly AlikePair[] {
  const index = indexOf(state);
  const ids = new Set<string>();
  const pairs: AlikePair[] = [];
  for (const row of [...state.facts.specimens.values()].toSorted((a, b) => (a.id < b.id ? -1 : 1))) {
    // Nothing is unpacked for photos without copies.
    const files = row.added.photoFiles.filter(({ likeness }) => index.near(likeness).length > 1);
    if (files.length === 0) continue;
    const photos = state.specimen(row.id)?.dossier.photos ?? [];
    for (const { id, sha256 } of photos.toSorted((a, b) => (a.id < b.id ? -1 : 1))) {
      const file = files.find((one) => one.sha256 === sha256);
      if (!file) continue;
      const one = thingId(row.id, id);
      ids.add(one);
      for (const other of photosAlike(state, file, one)) if (!ids.has(other.id)) pairs.push({ one, other });
    }
  }
  return pairs;
}

/** How alike, as sentences have it. */
export const LIKENESS_WORDS: Readonly<Record<Likeness, string>> = {
  'same-file': 'the same file as',
  'same-picture': 'the same picture as',
  'near-copy': 'likely a copy of',
};

/**
 * Photos that files bring and the archive does not have yet, where they are likely copies of what it has or of one another, as something
 * worth a second look at their lines.
 * @param state as whoever brings them may see it; left out, there is no archive
 */
export function alikeBrought(
  documents: readonly ReadDocument[],
  atHand: PhotosAtHand,
  state: State | undefined,
): readonly Problem[] {
  const brought = documents.flatMap((document) =>
    document.kind !== 'dossier'
      ? []
      : document.dossier.photos.flatMap((photo, i) => {
          const specimen = specimenIdOf(document.dossier);
          const file = atHand.get(photo.sha256)?.file;
          const row = state?.specimenRow(specimen);
          if (!file || (row && keptFile(row, photo.sha256))) return [];
          return [{ document, i, id: thingId(specimen, photo.id), file, likeness: file.likeness }];
        }),
  );
  const among = new AlikeIndex(brought);
  return brought.flatMap(({ document, i, id, file }, at) => {
    const held = state
      ? photosAlike(state, file, id).map((one) => ({ id: one.id, likeness: one.likeness }))
      : [];
    const others = among
      .near(file.likeness)
      .filter(({ item }) => brought.indexOf(item) < at)
      .map(({ item }) => ({ id: item.id, likeness: likenessTo(file, item.file) }));
    return [...held, ...others].map(
      (other): Problem => ({
        file: document.file,
        ...document.locate(['photos', i]),
        path: `photos[${i}]`,
        what: `photo "${id}" is ${LIKENESS_WORDS[other.likeness]} ${other.id}`,
        fix: 'leave it if both are meant; else name the one that is on record',
      }),
    );
  });
}
