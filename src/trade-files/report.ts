import type { Problem } from '../model/problems.ts';
import type { ColumnReading, TableReading, TradeFile } from './board-design.ts';
import type { Difference } from './difference.ts';

// What an import of trade files would do, or did, for a person to judge.

/** How one file was read. */
export interface FileReport {
  readonly file: string;
  readonly format: TradeFile['format'];
  /** Boards of the dossier that it is of. */
  readonly boards: readonly string[];
  readonly components: number;
  readonly nets: number;
  readonly understood: readonly string[];
  readonly columns: readonly ColumnReading[];
  /** For lists. */
  readonly table?: TableReading;
}

/** What files bring to one board. */
export interface BoardReport {
  readonly board: string;
  /** Whether the dossier has no such board yet. */
  readonly isNew: boolean;
  readonly components: { readonly inFiles: number; readonly added: number; readonly completed: number };
  readonly nets: { readonly inFiles: number; readonly added: number; readonly completed: number };
}

export const PROPOSAL_KINDS = ['net', 'class', 'part', 'not-fitted', 'appearance', 'board'] as const;

/** Something concluded from the files, with its reason. */
export interface Proposal {
  readonly kind: (typeof PROPOSAL_KINDS)[number];
  /** Local id of the net, component or board. */
  readonly of: string;
  readonly proposed: string;
  readonly because: string;
}

/** Something that a dossier wants and the files do not say. */
export interface Missing {
  readonly board: string;
  readonly what: string;
  /** How many things lack it. */
  readonly count: number;
  /** Some of them. */
  readonly of: readonly string[];
}

/** Where the archive says something else than the files; the archive stays. */
export interface Conflict {
  /** Local id of the component, net or board. */
  readonly of: string;
  readonly field: string;
  readonly archive: string;
  readonly files: string;
}

/** What a draft gathers while it is made. */
export interface Gathered {
  readonly proposals: Proposal[];
  readonly missing: Missing[];
  readonly conflicts: Conflict[];
}

export interface TradeReport {
  /** Id of the specimen whose dossier takes it. */
  readonly specimen: string;
  /** Whether the dossier is made by this import. */
  readonly isNew: boolean;
  /** Whether anything changes. */
  readonly changes: boolean;
  readonly files: readonly FileReport[];
  readonly boards: readonly BoardReport[];
  readonly proposals: readonly Proposal[];
  readonly missing: readonly Missing[];
  readonly differences: readonly Difference[];
  readonly conflicts: readonly Conflict[];
  readonly cautions: readonly Problem[];
}
