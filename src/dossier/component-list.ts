import { CsvError, parse } from 'csv-parse/sync';
import type { z } from 'zod';
import {
  type Component,
  candidateSchema,
  componentSchema,
  type Dossier,
  type Identification,
  identificationSchema,
} from '../model/dossier.ts';
import type { Problem } from '../model/problems.ts';
import { didYouMean } from '../text/near.ts';
import { decodeText } from './decode.ts';
import { same } from './document/same.ts';
import { explainValue, placeholder } from './explain.ts';
import { limited } from './limited.ts';
import { schemaAt } from './schema-walk.ts';

/** What a spreadsheet of components gives; it goes into a dossier that has device, specimen, teardown and boards. */
export interface ComponentList {
  readonly components: readonly Component[];
  readonly identifications: readonly Identification[];
}

/** Columns of a component list, in any order, and the field of a component or candidate that each fills. */
const COLUMNS = {
  designator: ['id'],
  board: ['board'],
  side: ['side'],
  x_mm: ['at', 'x'],
  y_mm: ['at', 'y'],
  rotation_deg: ['rotation'],
  package: ['package'],
  pins: ['pins'],
  marking: ['marking'],
  category: ['category'],
  part: ['part'],
  probability: ['probability'],
  note: ['note'],
} as const satisfies Readonly<Record<string, readonly string[]>>;
type Column = keyof typeof COLUMNS;
const NAMES = Object.keys(COLUMNS) as Column[];
const NUMBERS: ReadonlySet<Column> = new Set(['x_mm', 'y_mm', 'rotation_deg', 'pins', 'probability']);

/** One row: its cells by column, without those left empty, and its line in the file. */
interface Row {
  readonly line: number;
  readonly cells: ReadonlyMap<Column, string>;
}

/**
 * Reads a component list saved from a spreadsheet as CSV (RFC 4180, UTF-8; comma, semicolon or tab between cells; with
 * semicolons also a decimal comma). The first row names the columns. Cells left empty are left out. A `category`
 * without `probability` says what the component plainly is to the eye; with one, it is a candidate like `part`. Further
 * rows of the same designator add rival candidates.
 */
export function readComponentList(
  bytes: Uint8Array,
  file: string,
): { readonly list?: ComponentList; readonly problems: readonly Problem[] } {
  const decoded = decodeText(bytes, file);
  if ('problem' in decoded) return { problems: [decoded.problem] };
  const read = rowsOf(decoded.text, file);
  if ('problems' in read) return { problems: limited(read.problems) };
  const problems: Problem[] = [];
  const components = new Map<string, Component>();
  const candidates = new Map<string, unknown[]>();
  for (const row of read.rows) {
    const say = (column: Column | undefined, what: string, fix: string) =>
      problems.push({ file, line: row.line, ...(column ? { path: column } : {}), what, fix });
    const judged = row.cells.has('probability');
    const written = grouped(row, judged ? ['part', 'category', 'probability'] : ['part'], read.decimalComma);
    const component = accepted(componentSchema, seenOf(written, judged), say);
    if (!component) continue;
    if (row.cells.has('part') && !judged) {
      say('part', `${component.id} has a part but no probability`, 'add how sure it is, between 0 and 1');
    }
    const before = components.get(component.id);
    if (!before) components.set(component.id, component);
    else if (!judged)
      say('designator', `${component.id} is in two rows`, 'keep one, or add a probability for a rival');
    else if (!same({ ...before, ...component }, before)) {
      say(
        'designator',
        `${component.id} is described differently in a row above`,
        'leave all but part, category and probability empty in rows for rivals',
      );
    }
    if (!judged) continue;
    const { part, category, probability } = grouped(row, [], read.decimalComma);
    const candidate = accepted(candidateSchema, { part, category, probability }, say);
    if (candidate) candidates.set(component.id, [...(candidates.get(component.id) ?? []), candidate]);
  }
  if (problems.length > 0) return { problems: limited(problems) };
  const identifications = [...candidates].map(([component, rivals]) =>
    identificationSchema.parse({ component, candidates: rivals }),
  );
  return { list: { components: [...components.values()], identifications }, problems: [] };
}

/**
 * The dossier with the components of a list, and identifications of them, after its own. The checks of the dossier then
 * report designators given twice and missing boards.
 */
export function withComponentList(dossier: Dossier, list: ComponentList): Dossier {
  return {
    ...dossier,
    components: [...dossier.components, ...list.components],
    identifications: [...dossier.identifications, ...list.identifications],
  };
}

function rowsOf(
  text: string,
  file: string,
):
  | { readonly rows: readonly Row[]; readonly decimalComma: boolean }
  | { readonly problems: readonly Problem[] } {
  const firstLine = text.slice(0, text.search(/[\r\n]|$/u));
  const separators = [',', ';', '\t'].map((one) => [firstLine.split(one).length, one] as const);
  const [, delimiter] = separators.reduce((most, one) => (one[0] > most[0] ? one : most));
  let records: readonly { record: string[]; info: { lines: number } }[];
  try {
    // The types of csv-parse do not know that `info` wraps each record.
    records = parse(text, {
      delimiter,
      info: true,
      relax_column_count: true,
      skip_empty_lines: true,
      trim: true,
    }) as never;
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = Number(error.lines) || undefined;
    return {
      problems: [
        { file, line, what: `is not a valid CSV: ${error.message}`, fix: 'save the sheet as CSV again' },
      ],
    };
  }
  const [head, ...body] = records;
  if (!head || body.length === 0) {
    return {
      problems: [
        { file, what: 'holds no components', fix: `start with a row of column names: ${NAMES.join(', ')}` },
      ],
    };
  }
  const names = head.record.map((name) => name.toLowerCase());
  const problems = [...unknownColumns(names, file), ...cellsBeyond(names.length, body, file)];
  if (problems.length > 0) return { problems };
  const rows = body.map(({ record, info }) => ({
    line: info.lines,
    cells: new Map(record.flatMap((cell, i) => (cell === '' ? [] : [[names[i] as Column, cell] as const]))),
  }));
  return { rows: rows.filter(({ cells }) => cells.size > 0), decimalComma: delimiter === ';' };
}

function unknownColumns(names: readonly string[], file: string): readonly Problem[] {
  const problems = names.flatMap((name, i): Problem[] => {
    const place = { file, line: 1, path: name || `column ${i + 1}` };
    if (!NAMES.includes(name as Column)) {
      const what = name === '' ? 'has no name in the first row' : `"${name}" is not a column here`;
      return [{ ...place, what, fix: didYouMean(name, NAMES) ?? `the columns are ${NAMES.join(', ')}` }];
    }
    return names.indexOf(name) < i
      ? [{ ...place, what: `"${name}" is a column twice`, fix: 'keep one' }]
      : [];
  });
  if (problems.length > 0 || names.includes('designator')) return problems;
  return [{ file, line: 1, what: 'has no column "designator"', fix: 'add it; every component needs one' }];
}

function cellsBeyond(
  width: number,
  body: readonly { readonly record: readonly string[]; readonly info: { readonly lines: number } }[],
  file: string,
): readonly Problem[] {
  return body.flatMap(({ record, info }) =>
    record.slice(width).some((cell) => cell !== '')
      ? [
          {
            file,
            line: info.lines,
            what: `has ${record.length} cells under ${width} columns`,
            fix: 'put cells that hold commas into quotation marks',
          },
        ]
      : [],
  );
}

/** Cells as nested fields, numeric cells as numbers; without the columns named. */
function grouped(row: Row, without: readonly Column[], decimalComma: boolean): Record<string, unknown> {
  const fields: Record<string, unknown> = {};
  for (const [column, cell] of row.cells) {
    if (without.includes(column)) continue;
    const point = decimalComma ? cell.replace(/^([+-]?\d+),(\d+)$/u, '$1.$2') : cell;
    const value =
      NUMBERS.has(column) && /^[+-]?\d*\.?\d+(?:e[+-]?\d+)?$/iu.test(point) ? Number(point) : cell;
    const [field, inner] = COLUMNS[column] as readonly [string, string?];
    fields[field] =
      inner === undefined ? value : { ...(fields[field] as object | undefined), [inner]: value };
  }
  return fields;
}

/** What was seen: without a probability, the category is plain to the eye. */
function seenOf({ category, ...fields }: Record<string, unknown>, judged: boolean): object {
  return judged || category === undefined ? fields : { ...fields, appears: category };
}

function accepted<T>(
  schema: z.ZodType<T>,
  value: object,
  say: (column: Column | undefined, what: string, fix: string) => void,
): T | undefined {
  const result = schema.safeParse(value, { reportInput: true });
  if (result.success) return result.data;
  for (const issue of result.error.issues) {
    const path = issue.path.map(String);
    const column = NAMES.find(
      (name) => COLUMNS[name].join() === path.join() || (name === 'category' && path[0] === 'appears'),
    );
    const field = schemaAt(schema, path) ?? schema;
    if (issue.input === undefined && path.length > 0)
      say(column, `"${column}" is empty`, `fill it in: ${placeholder(field)}`);
    else {
      const { what, fix } = explainValue(issue, issue.input, field, column);
      say(column, what, fix);
    }
  }
  return undefined;
}
