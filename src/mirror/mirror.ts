import type { Audience } from '../state/audience.ts';
import type { State } from '../state/state.ts';

/** What a mirror holds, and since when. */
export interface Watermark {
  readonly audience: Audience;
  /** Sequence of the last journal entry in it, and its instant. */
  readonly sequence: number;
  readonly instant: string;
  readonly mirroredOn: string;
}

export interface MirrorReport {
  /** Segments in the mirror: specimens, makers, product lines and parts. */
  readonly segments: number;
  /** Segments that were written because they are new or changed. */
  readonly written: number;
  /** Segments that are not seen any more. */
  readonly removed: number;
  readonly sequence: number;
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

/** Whether a place is the address of a database; else it is a folder. */
export function isDatabase(place: string): boolean {
  return /^postgres(?:ql)?:\/\//iu.test(place);
}

/** Opens the mirror at an address or in a folder, to bring it to states. */
export async function openMirror(place: string): Promise<Mirror> {
  if (isDatabase(place)) {
    const { PostgresMirror } = await import('./postgres-mirror.ts');
    return PostgresMirror.open(place);
  }
  const { ParquetMirror } = await import('./parquet-mirror.ts');
  return new ParquetMirror(place);
}
