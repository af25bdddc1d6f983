// A state as files of other programs. The code that writes them is loaded when first needed.

import type { ExportFile, ExportFormat, WrittenFile } from '../export/files.ts';
import type { Loss } from '../export/graph/things.ts';
import type { Provenance } from '../export/tables/csvw.ts';
import type { State } from '../state/state.ts';

export type { ExportFile, ExportFormat, WrittenFile } from '../export/files.ts';
export type { Loss } from '../export/graph/things.ts';
export type { Provenance } from '../export/tables/csvw.ts';

/**
 * Files of all that a state holds, or of a device or specimen, each made piece by piece when it is read.
 * @param id of a device or a specimen; undefined for everything
 * @throws CasebackError NOT_FOUND when nothing visible has the id
 */
export async function exportFiles(
  state: State,
  id: string | undefined,
  format: ExportFormat,
  provenance: Provenance,
): Promise<readonly ExportFile[]> {
  const { filesOf } = await import('../export/files.ts');
  const { scopeOf, WHOLE } = await import('../export/graph/graph.ts');
  return filesOf(state, id === undefined ? WHOLE : scopeOf(state, id), format, provenance);
}

/**
 * The same files with their texts, of one device or specimen, and what was lost in writing them.
 * @throws CasebackError NOT_FOUND; OUT_OF_BUDGET for more than an answer may hold; the signal's reason
 */
export async function exportedTexts(
  state: State,
  id: string,
  format: ExportFormat,
  provenance: Provenance,
  signal?: AbortSignal,
): Promise<{ readonly files: readonly WrittenFile[]; readonly losses: readonly Loss[] }> {
  const files = await exportFiles(state, id, format, provenance);
  const { writtenFiles } = await import('../export/files.ts');
  return writtenFiles(files, signal);
}

/** The formats, for whoever lists them. */
export const EXPORT_FORMATS = ['csv', 'graphml'] as const satisfies readonly ExportFormat[];

/** The day of a state without an instant of its own, as readers may be told it: today, in UTC. */
export function today(now = new Date()): string {
  return now.toISOString().slice(0, 10);
}
