import type { State } from '../state/state.ts';
import type { Audience } from '../state/visibility/audience.ts';

/** What a mirror holds, and since when. */
export interface Watermark {
  readonly audience: Audience;
  /** Of the last change that is in it. */
  readonly instant: string;
  /** SHA-256 of what it holds, in hexadecimal; the same for the same content, whatever was written that its audience does not see. */
  readonly digest: string;
  readonly mirroredOn: string;
}

export interface MirrorReport {
  /** Segments in the mirror: specimens, makers, product lines and parts. */
  readonly segments: number;
  /** Segments that were written because they are new or changed. */
  readonly written: number;
  /** Segments that are not seen any more. */
  readonly removed: number;
  /** As in {@link Watermark}. */
  readonly instant: string;
  readonly digest: string;
  /** Whether there was no mirror before, or it was made anew. */
  readonly rebuilt: boolean;
}

/** The pattern graph of a state, kept where another engine reads it. */
export interface Mirror {
  watermark(): Promise<Watermark | undefined>;
  /**
   * Brings the mirror to a state, all or nothing: writes the segments that differ, and takes away those that the state does not have.
   * @throws CasebackError CONFLICT when it holds what another audience sees, or is no mirror
   */
  bring(state: State, options?: { readonly rebuild?: boolean; readonly now?: Date }): Promise<MirrorReport>;
  close(): Promise<void>;
}
