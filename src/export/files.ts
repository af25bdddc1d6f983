import type { State } from '../state/state.ts';
import type { ExportFile, ExportFormat } from './export-file.ts';
import type { Scope } from './graph/graph.ts';
import { graphmlOf } from './graphml.ts';
import { METADATA_FILE, metadataOf, type Provenance } from './tables/csvw.ts';
import { parquetName, parquetOf } from './tables/parquet.ts';
import { TABLES } from './tables/tables.ts';

type FilesOf = (state: State, scope: Scope, provenance: Provenance) => readonly ExportFile[];

/** Formats that are written here; linked data is written by those who know records whole. */
export type GraphFormat = Exclude<ExportFormat, 'json-ld'>;

const FILES: { readonly [format in GraphFormat]: FilesOf } = {
  csv: (state, scope, provenance) => [
    ...TABLES.map(
      ({ table: { file }, csv }): ExportFile => ({
        name: file,
        mediaType: 'text/csv; charset=utf-8; header=present',
        describedBy: METADATA_FILE,
        async *pieces(lose, signal) {
          for await (const { text } of csv(state, scope, lose, signal)) yield text;
        },
        async *rows(lose, signal) {
          for await (const { rows } of csv(state, scope, lose, signal)) yield rows;
        },
      }),
    ),
    {
      name: METADATA_FILE,
      mediaType: 'application/csvm+json',
      async *pieces() {
        yield `${JSON.stringify(metadataOf(scope, provenance), null, 2)}\n`;
      },
    },
  ],
  parquet: (state, scope, provenance) =>
    TABLES.map((filled): ExportFile => {
      const name = parquetName(filled.table);
      return {
        name,
        mediaType: 'application/vnd.apache.parquet',
        isBinary: true,
        pieces: (lose, signal) => parquetOf(filled, state, scope, provenance, lose, signal),
        async *rows(lose, signal) {
          for await (const { length } of filled.cells(state, scope, lose, signal)) yield length;
        },
      };
    }),
  graphml: (state, scope) => [
    {
      name: 'graph.graphml',
      mediaType: 'application/graphml+xml',
      pieces: (lose, signal) => graphmlOf(state, scope, lose, signal),
    },
  ],
};

/** The files of an export of a state. */
export function filesOf(
  state: State,
  scope: Scope,
  format: GraphFormat,
  provenance: Provenance,
): readonly ExportFile[] {
  return FILES[format](state, scope, provenance);
}
