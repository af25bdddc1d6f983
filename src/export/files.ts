import type { State } from '../state/state.ts';
import type { Scope } from './graph/graph.ts';
import type { Loss } from './graph/things.ts';
import { graphmlOf } from './graphml.ts';
import { METADATA_FILE, metadataOf, type Provenance } from './tables/csvw.ts';
import { csvOf, TABLE_FILES } from './tables/tables.ts';

/** What a state can be exported as. */
export const EXPORT_FORMATS = ['csv', 'graphml'] as const;
export type ExportFormat = (typeof EXPORT_FORMATS)[number];

/** A file of an export, made piece by piece each time it is asked for. */
export interface ExportFile {
  readonly name: string;
  readonly mediaType: string;
  /** Its text. @param lose told of what cannot be written, or not as it is on record @throws the signal's reason */
  readonly text: (lose: (loss: Loss) => void, signal?: AbortSignal) => AsyncIterable<string>;
}

/** The files of an export of a state. */
export function filesOf(
  state: State,
  scope: Scope,
  format: ExportFormat,
  provenance: Provenance,
): readonly ExportFile[] {
  switch (format) {
    case 'csv':
      return [
        ...TABLE_FILES.map((name) => ({
          name,
          mediaType: 'text/csv; charset=utf-8; header=present',
          text: (lose: (loss: Loss) => void, signal?: AbortSignal) => csvOf(state, scope, name, lose, signal),
        })),
        {
          name: METADATA_FILE,
          mediaType: 'application/csvm+json',
          text: () => whole(`${JSON.stringify(metadataOf(scope, provenance), null, 2)}\n`),
        },
      ];
    case 'graphml':
      return [
        {
          name: 'graph.graphml',
          mediaType: 'application/graphml+xml',
          text: (lose, signal) => graphmlOf(state, scope, lose, signal),
        },
      ];
    default:
      return format satisfies never;
  }
}

async function* whole(text: string): AsyncGenerator<string> {
  yield text;
}
