// A state as files of other programs. The code that writes them is loaded when first needed.

import type { ExportFile, ExportFormat } from '../export/export-file.ts';
import type { Provenance } from '../export/tables/csvw.ts';
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
  const { scopeOf, WHOLE } = await import('../export/graph/graph.ts');
  return filesOf(state, id === undefined ? WHOLE : scopeOf(state, id), format, provenance);
}

/** The day of a state without an instant of its own, as readers may be told it: today, in UTC. */
export function today(now = new Date()): string {
  return now.toISOString().slice(0, 10);
}
