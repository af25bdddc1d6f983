import type { Archive } from '../../archive.ts';
import type { View } from '../../state/view.ts';

/** What every resolver of one request shares. */
export interface Context {
  readonly archive: Archive;
  /** What this request may see; decided once. */
  readonly view: View;
  /** Ends when the asker has gone; long work should watch it. */
  signal(): AbortSignal;
}

/** Root of a query: empty for the present, or the view of an earlier instant. */
export interface Root {
  readonly view?: View;
}

/** The view that a root field answers from. */
export function viewOf(root: Root | undefined, context: Context): View {
  return root?.view ?? context.view;
}

// The most general function type, so that resolvers may state the precise source and arguments they take.
export type Resolver = (source: never, args: never, context: Context) => unknown;

/** One part of the schema with what answers it. A new subject is a new folder and one line in `domains.ts`. */
export interface Domain {
  /** Type definitions; root fields stand in `extend type Query` or `extend type Mutation`. */
  readonly schema: string;
  /**
   * Resolvers by type and field. Fields not named here are read from the source by their own name; a source
   * holds values, never functions, which compiled documents would not call.
   */
  readonly resolvers: Readonly<Record<string, Readonly<Record<string, Resolver>>>>;
  /** For each scalar the check of a value that comes in; it throws TypeError. */
  readonly scalars?: Readonly<Record<string, (value: unknown) => unknown>>;
  /**
   * Work of a field in units of one plain field, by `Type.field`; 1 where nothing is said. See
   * `limits/cost.ts`.
   */
  readonly weights?: Readonly<Record<string, number>>;
}
