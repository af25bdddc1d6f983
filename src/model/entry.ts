import type { CatalogueRecord, Collection } from './catalogue.ts';
import type { ClockCorrected } from './clock.ts';
import type { CorrectionMade } from './correction.ts';
import type { DecisionJudged } from './decision.ts';
import type { Dossier, EditorJudgement, Identification, Observation, Photo } from './dossier.ts';
import type { PhotoFile } from './photo-file.ts';

/** Who changes the archive, and why; both are journaled. */
export interface Authorship {
  readonly actor: string;
  readonly reason: string;
}

/** A change as asked for: what happened, by whom and why. The journal adds order, time and hash. */
export type Change = Authorship &
  (
    | { readonly kind: 'record-put'; readonly payload: RecordPut }
    | { readonly kind: 'dossier-put'; readonly payload: DossierPut }
    | { readonly kind: 'observation-recorded'; readonly payload: ObservationRecorded }
    | { readonly kind: 'observation-withdrawn'; readonly payload: ObservationWithdrawn }
    | { readonly kind: 'identification-set'; readonly payload: IdentificationSet }
    | { readonly kind: 'identification-judged'; readonly payload: IdentificationJudged }
    | { readonly kind: 'decision-judged'; readonly payload: DecisionJudged }
    | { readonly kind: 'correction-made'; readonly payload: CorrectionMade }
    | { readonly kind: 'clock-corrected'; readonly payload: ClockCorrected }
    | { readonly kind: 'recalled'; readonly payload: Recalled }
    | { readonly kind: 'photo-kept'; readonly payload: PhotoKept }
    | { readonly kind: 'photo-recorded'; readonly payload: PhotoRecorded }
  );

export interface RecordPut {
  readonly collection: Collection;
  readonly record: CatalogueRecord;
  readonly recalls?: true | undefined;
}

/**
 * A dossier as filed. `recalls` says that readers no longer see what was filed before under its id, at any instant: it is set
 * in entries from before a recall was an entry of its own, when filing something as a draft took it back.
 */
export type DossierPut = Dossier & { readonly recalls?: true | undefined };

/** Takes things back: readers see no version of them that was filed before, at no instant. */
export interface Recalled {
  /** Ids of records, specimens and corrections. */
  readonly ids: readonly string[];
}

export interface ObservationRecorded {
  /** Global id of the specimen, `device/specimen`. */
  readonly specimen: string;
  readonly observation: Observation;
}

export interface IdentificationSet {
  /** Global id of the specimen, `device/specimen`. */
  readonly specimen: string;
  readonly identification: Identification;
}

/** Withdraws an observation; who, when and why are the entry's own. */
export interface ObservationWithdrawn {
  /** Global id of the specimen, `device/specimen`. */
  readonly specimen: string;
  /** Local id of the observation. */
  readonly observation: string;
}

export interface IdentificationJudged {
  /** Global id of the specimen, `device/specimen`. */
  readonly specimen: string;
  readonly judgement: EditorJudgement;
}

/** The archive has the file of a photo since, or of several that are one file. */
export interface PhotoKept {
  /** Global id of the specimen, `device/specimen`. */
  readonly specimen: string;
  /** Local ids of the photos that the file is of. */
  readonly photos: readonly string[];
  readonly file: PhotoFile;
}

/** A photo added to a specimen, or recorded anew with other points, regions or words: the whole record, which stands in place of the last. */
export interface PhotoRecorded {
  /** Global id of the specimen, `device/specimen`. */
  readonly specimen: string;
  readonly photo: Photo;
}

export type EntryKind = Change['kind'];

/** One line of the journal. */
export type Entry = Change & {
  /** 1, 2, 3 … without gaps. */
  readonly sequence: number;
  /** UUID version 7 (RFC 9562). */
  readonly id: string;
  /** Instant of the append, ISO 8601 in UTC with milliseconds; all entries of one append share it. */
  readonly instant: string;
  /** Hash of the entry before, 64 zeros for the first. */
  readonly previousHash: string;
  /** SHA-256 over the previous hash and this entry's canonical text. */
  readonly hash: string;
};
