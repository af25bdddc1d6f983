import type { Catalogue } from '../../model/catalogue.ts';
import type { Dossier } from '../../model/dossier.ts';

/** Place in a file; both count from 1. */
export interface Place {
  readonly line: number;
  readonly column: number;
}

export type Path = readonly PropertyKey[];

/** Nets of the archive that a dossier filed again says nothing of: they were added to it. */
export interface KeptNets {
  readonly nets: number;
  /** Components that only those nets name, by local id. */
  readonly components: readonly string[];
}

/** A file that was read without a problem. */
export type ReadDocument = {
  readonly file: string;
  /** Place of the value at a path. */
  locate(path: Path): Place;
  /** Path in the file of a path in the record, where they differ: one line of a file may stand for several components. */
  readonly written?: ((path: Path) => Path) | undefined;
} & (
  | { readonly kind: 'dossier'; readonly dossier: Dossier; readonly kept?: KeptNets | undefined }
  | { readonly kind: 'catalogue'; readonly catalogue: Catalogue }
);

export type DossierDocument = Extract<ReadDocument, { kind: 'dossier' }>;
export type CatalogueDocument = Extract<ReadDocument, { kind: 'catalogue' }>;

/** `components[3].at.x` */
export function pathText(path: Path): string {
  return path
    .map((step, i) => (typeof step === 'number' ? `[${step}]` : `${i > 0 ? '.' : ''}${String(step)}`))
    .join('');
}
