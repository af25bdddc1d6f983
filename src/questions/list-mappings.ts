// Which column of the lists of one origin holds what.

import type { Archive } from '../archive.ts';
import type { Authorship, Entry } from '../model/entry.ts';
import type { ListMapping } from '../model/list-mapping.ts';
import type { State } from '../state/state.ts';
import type { TradeReading } from '../trade-files/board-design.ts';
import { fileRecord } from './file-record.ts';

/**
 * Stores a list mapping, or changes one; journaled with who and why.
 * @returns the entry written; undefined when it was on record in this form
 * @throws CasebackError BAD_FILE when a rule is broken, such as a heading that is there twice
 */
export function storeListMapping(
  archive: Archive,
  state: State,
  mapping: ListMapping,
  by: Authorship,
): Promise<Entry | undefined> {
  const record = { collection: 'listMappings', kind: 'list mapping', record: mapping } as const;
  return fileRecord(archive, record, by, state.audience);
}

/** What a mapping says of a list, and beyond it what is said of this one, which comes first. */
export function readingBy(mapping: ListMapping, own: TradeReading): TradeReading {
  const { id, columns, sheet, headingRow, decimal, unit } = mapping;
  return {
    ...(sheet === undefined ? {} : { sheet }),
    ...(headingRow === undefined ? {} : { headings: headingRow }),
    ...(decimal === undefined ? {} : { decimal }),
    ...(unit === undefined ? {} : { unit }),
    ...own,
    mapping: {
      id,
      columns: new Map(
        columns.map(({ heading, field, unit: of }) => [heading, of === undefined ? field : `${field} ${of}`]),
      ),
    },
  };
}
