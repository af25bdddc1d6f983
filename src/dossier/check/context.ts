import type { CatalogueRecord, Collection } from '../../model/catalogue.ts';
import type { Device } from '../../model/dossier.ts';
import type { Problem } from '../../model/problems.ts';
import { pathText } from '../issues.ts';
import type { ReadDocument } from '../read.ts';
import type { Path } from '../tree.ts';

/** What the archive already holds; files being read come on top of it. */
export interface Held {
  record<C extends Collection>(collection: C, id: string): CatalogueRecord<C> | undefined;
  ids(collection: Collection): Iterable<string>;
  device(id: string): Device | undefined;
  deviceIds(): Iterable<string>;
  /** Whether anything of any kind has this global id: a device, specimen, component, claim, part … */
  hasId(id: string): boolean;
}

/** An archive without anything in it. */
export const NOTHING_HELD: Held = {
  record: () => undefined,
  ids: () => [],
  device: () => undefined,
  deviceIds: () => [],
  hasId: () => false,
};

export type DossierDocument = Extract<ReadDocument, { kind: 'dossier' }>;
export type CatalogueDocument = Extract<ReadDocument, { kind: 'catalogue' }>;

/** Says that something at a path of a document is wrong, and how to mend it. */
export type Report = (document: ReadDocument, path: Path, what: string, mend?: string) => void;

/** A rule about one dossier by itself. */
export type DossierRule = (document: DossierDocument, report: Report) => void;

/** A rule about all files together with what the archive holds. */
export type ArchiveRule = (documents: readonly ReadDocument[], held: Held, report: Report) => void;

/** A report that gathers problems with their places. */
export function gatherInto(problems: Problem[]): Report {
  return (document, path, what, mend) =>
    problems.push({ file: document.file, ...document.locate(path), path: pathText(path), what, mend });
}
