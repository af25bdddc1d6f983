import type { CatalogueRecord, Collection } from '../../model/catalogue.ts';
import type { Dossier } from '../../model/dossier.ts';
import type { Problem } from '../../model/problems.ts';
import type { Visible } from '../../model/visibility.ts';
import { type DossierDocument, type Path, pathText, type ReadDocument } from '../document/document.ts';

/** What the archive already holds; files being read come on top of it. */
export interface Held {
  record<C extends Collection>(collection: C, id: string): CatalogueRecord<C> | undefined;
  ids(collection: Collection): Iterable<string>;
  /** Whether anything of any kind has this global id: a device, specimen, component, claim, part … */
  hasId(id: string): boolean;
  /** The dossier of a specimen with what was recorded since it was filed. */
  dossierNow(specimenId: string): Dossier | undefined;
  /** Ids of the specimens of a device. */
  specimensOf(deviceId: string): readonly string[];
  /** Ids of the specimens in which something cites a sentence, `publication/claim`. */
  specimensCiting(claimId: string): readonly string[];
  /**
   * Who may see what an id names: a record, device, specimen or sentence, by the version that readers see or will see first;
   * `recalled` where nobody will. Undefined where the archive has no such thing, or does not say.
   */
  visibleNow?(id: string): Visible | 'recalled' | undefined;
  /** The dossier as last filed. */
  dossierAsFiled?(specimenId: string): Dossier | undefined;
  /** Latest day that it may be now, YYYY-MM-DD. @default by the machine's clock */
  readonly today?: string;
}

/** What the archive holds of dossiers, to find what an import changes. */
export interface HeldDossiers extends Held {
  /** The dossier as last filed. */
  dossierAsFiled(specimenId: string): Dossier | undefined;
}

/** An archive without anything in it. */
export const NOTHING_HELD: Held = {
  record: () => undefined,
  ids: () => [],
  hasId: () => false,
  dossierNow: () => undefined,
  specimensOf: () => [],
  specimensCiting: () => [],
};

/** An error keeps a file out; a caution is worth a second look and keeps nothing out. */
export type Severity = 'error' | 'caution';

export interface Finding extends Problem {
  readonly severity: Severity;
}

/** Reports what is wrong at a path of a document, and how to fix it; near names are looked up only if listed. */
export type Report = (
  document: ReadDocument,
  path: Path,
  what: string,
  fix: string | (() => string),
  severity?: Severity,
) => void;

/** A rule about one dossier by itself. */
export type DossierRule = (document: DossierDocument, report: Report) => void;

/** A rule about all files together with what the archive holds. */
export type ArchiveRule = (documents: readonly ReadDocument[], held: Held, report: Report) => void;

/** Findings whose near names are looked up; more are not listed anyway. */
const WITH_NEAR_NAMES = 200;

/**
 * A report that collects findings with their places.
 * @param later gets what looks up near names and sets the fix, one finding each: a look-up takes some milliseconds in a large
 * archive. Whoever does not call them leaves these findings with "check the name".
 */
export function gatherInto(findings: Finding[], later: (() => void)[]): Report {
  return (document, path, what, fix, severity = 'error') => {
    const { file, written } = document;
    const inFile = written ? written(path) : path;
    const at = findings.length;
    const fixText = typeof fix === 'string' ? fix : 'check the name';
    findings.push({ severity, file, ...document.locate(path), path: pathText(inFile), what, fix: fixText });
    if (typeof fix === 'function' && at < WITH_NEAR_NAMES)
      later.push(() => {
        findings[at] = { ...(findings[at] as Finding), fix: fix() };
      });
  };
}
