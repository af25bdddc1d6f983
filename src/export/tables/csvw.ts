import type { Scope } from '../graph/graph.ts';
import type { Column, ExportTable } from './columns.ts';
import { NODES } from './graph-tables.ts';
import { TABLES } from './tables.ts';

/** Name of the metadata document, where readers of CSV on the Web look for it (Model for Tabular Data, section 5.3). */
export const METADATA_FILE = 'csv-metadata.json';

/** What the metadata says of an export beside its tables. */
export interface Provenance {
  /** The day, or the instant, of the state that was exported, ISO 8601. */
  readonly date: string;
  /** Licence of the tables, an address or SPDX identifier; undefined where nobody has said. */
  readonly licence?: string | undefined;
}

const XSD_OF = {
  id: 'string',
  word: 'string',
  text: 'string',
  number: 'double',
  count: 'nonNegativeInteger',
  boolean: 'boolean',
  date: 'string',
  json: 'json',
} as const;

/** UN/CEFACT Recommendation 20, the codes that schema.org wants for units. */
const UNITS = { mm: 'MMT', deg: 'DD' } as const;

/**
 * Metadata of the tables after W3C "Metadata Vocabulary for Tabular Data" (2015): columns with datatypes and units, keys, licence,
 * source and date of the state.
 */
export function metadataOf(scope: Scope, { date, licence }: Provenance): Readonly<Record<string, unknown>> {
  const of = scope.of === 'archive' ? 'the archive' : `${scope.of} ${scope.id}`;
  return {
    '@context': ['http://www.w3.org/ns/csvw', { '@language': 'en' }],
    'dc:title': `Caseback: tables of ${of}`,
    'dc:description':
      'Components of opened devices: what was seen, and what was concluded with its probability. Empty cells are not on record, which is not the same as absent.',
    'dc:source':
      'The journal of a Caseback archive; sources that single records cite are nodes of kind Source.',
    'dc:date': { '@value': date, '@type': date.length > 10 ? 'xsd:dateTime' : 'xsd:date' },
    ...(licence === undefined
      ? {
          'dc:rights':
            'No licence is stated; ask whoever keeps the archive. Photos have licences of their own.',
        }
      : { 'dc:license': /^https?:/u.test(licence) ? { '@id': licence } : licence }),
    'dc:subject': scope.of === 'archive' ? 'archive' : scope.id,
    dialect: { encoding: 'utf-8', delimiter: ',', quoteChar: '"', doubleQuote: true, header: true },
    tables: TABLES.map(({ table }) => tableOf(table)),
  };
}

function tableOf({ file, title, says, columns, primaryKey, namesNodes }: ExportTable<never>) {
  return {
    url: file,
    'dc:title': title,
    'dc:description': says,
    tableSchema: {
      columns: columns.map(columnOf),
      primaryKey: primaryKey.length === 1 ? primaryKey[0] : primaryKey,
      foreignKeys: namesNodes
        // A key of a list cannot be expressed; what it holds is said of the column.
        .filter((name) => columns.find((column) => column.name === name)?.separator === undefined)
        .map((columnReference) => ({
          columnReference,
          reference: { resource: NODES.file, columnReference: 'id' },
        })),
    },
  };
}

const GUARD =
  'Where a text begins as a formula does in a spreadsheet (=, +, -, @, signs of full width, a tab), also behind a semicolon, tab or line break, an apostrophe stands ahead of it; take it away to have the text on record. Characters that steer a terminal are written as \\u001b.';

function columnOf({ name, kind, says, unit, isRequired, separator, words }: Column<never>) {
  const [least, most] = name.includes('probability') || name === 'reading' ? [0, 1] : [];
  return {
    name,
    titles: name,
    datatype: {
      base: XSD_OF[kind],
      ...(words ? { format: words.join('|') } : {}),
      ...(least === undefined ? {} : { minimum: least, maximum: most }),
    },
    ...(isRequired ? { required: true } : {}),
    ...(separator ? { separator } : {}),
    'dc:description': kind === 'text' ? `${says} ${GUARD}` : says,
    ...(unit ? { 'schema:unitCode': UNITS[unit], 'schema:unitText': unit } : {}),
  };
}
