// A state as files of other programs. The code that writes them is loaded when first needed.

import type { ExportFile, ExportFormat } from '../export/export-file.ts';
import { EXPORT_FORMATS, Losses, survey } from '../export/export-file.ts';
import type { Scope } from '../export/graph/graph.ts';
import type { Provenance } from '../export/tables/csvw.ts';
import { SharedWork } from '../identification/shared-work.ts';
import type { Facts } from '../state/facts.ts';
import type { State } from '../state/state.ts';

export {
  EXPORT_FORMATS,
  EXPORTS,
  type ExportFile,
  type ExportFormat,
  Losses,
  survey,
} from '../export/export-file.ts';
export type { Loss } from '../export/graph/things.ts';

/**
 * Files of all that a state holds, or of a device or specimen, each made piece by piece when it is read.
 * @param id of a device or a specimen, as linked data of anything; undefined for everything
 * @param base where the addresses of linked data begin; names without an address on the web when left out
 * @throws CasebackError NOT_FOUND when nothing visible has the id, BAD_INPUT for a base that is none
 */
export async function exportFiles(
  state: State,
  id: string | undefined,
  format: ExportFormat,
  provenance: Provenance,
  base?: string,
): Promise<readonly ExportFile[]> {
  if (format === 'json-ld') {
    const { linkedFiles } = await import('../linked/files.ts');
    const { NOWHERE, placeAt } = await import('../linked/places.ts');
    return linkedFiles(state, id, provenance, base === undefined ? NOWHERE : placeAt(base));
  }
  const { filesOf } = await import('../export/files.ts');
  return filesOf(state, await scopeNamed(state, id), format, provenance);
}

/** Files of one kind of a state, which belong together. */
export interface ExportSet {
  readonly format: ExportFormat;
  readonly scope: Scope;
  readonly files: readonly ExportFile[];
}

/** Files of every kind, likewise. */
export async function exportsOf(
  state: State,
  id: string | undefined,
  provenance: Provenance,
  base?: string,
): Promise<readonly ExportSet[]> {
  const scope = await scopeNamed(state, id);
  const files = (format: ExportFormat) => exportFiles(state, id, format, provenance, base);
  return Promise.all(EXPORT_FORMATS.map(async (format) => ({ format, scope, files: await files(format) })));
}

async function scopeNamed(state: State, id: string | undefined): Promise<Scope> {
  const { scopeOf, WHOLE } = await import('../export/graph/graph.ts');
  return id === undefined ? WHOLE : scopeOf(state, id);
}

/** A file in chunks of about 64 KiB, as it is made; what it loses is told by {@link surveyOf}. @throws the signal's reason */
export async function* chunksOf(file: ExportFile, signal: AbortSignal): AsyncGenerator<Buffer> {
  const { inChunks } = await import('../export/zip.ts');
  yield* inChunks(file.pieces(() => undefined, signal));
}

/** Files as one ZIP, likewise. @param date of its entries, ISO 8601 */
export async function* zipped(
  files: readonly ExportFile[],
  date: string,
  signal: AbortSignal,
): AsyncGenerator<Buffer> {
  const { zipOf } = await import('../export/zip.ts');
  yield* zipOf(files, date, () => undefined, signal);
}

/** Losses of a file that are kept, to be shown; the schema says so. */
const MOST_LOSSES = 100;

/** What going through a file found. */
export interface Surveyed {
  /** Undefined where it is no table. */
  readonly rows: number | undefined;
  readonly losses: Losses;
}

/** Found once for a file, and kept as long as what it is made of. */
const surveys = new WeakMap<Facts, Map<string, SharedWork<Surveyed>>>();

/**
 * Rows and losses of a file of an export, without writing it.
 * @throws the signal's reason
 */
export function surveyOf(
  state: State,
  scope: Scope,
  file: ExportFile,
  signal?: AbortSignal,
): Promise<Surveyed> {
  const kept = surveys.get(state.facts) ?? new Map<string, SharedWork<Surveyed>>();
  surveys.set(state.facts, kept);
  const key = JSON.stringify([state.audience, scope, file.name]);
  const shared = kept.get(key) ?? new SharedWork<Surveyed>();
  kept.set(key, shared);
  return shared.of(key, signal, async (ended) => {
    const losses = new Losses(MOST_LOSSES);
    const rows = await survey([file], losses, ended);
    return { rows: file.rows && rows, losses };
  });
}

/** The day of a state without an instant of its own, as readers may be told it: today, in UTC. */
export function today(now = new Date()): string {
  return now.toISOString().slice(0, 10);
}
