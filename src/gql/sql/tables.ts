/**
 * A graph as the tables that compiled patterns read: `nodes`, `labels` and `edges`, of which each row says from which segment it
 * comes, so that a segment can be replaced. A property has a column for each type that its values have.
 */
import { GraphInputError, type LabelHierarchy, type SegmentInput } from '../storage/input.ts';
import { ancestorsOf, expandLabels } from '../storage/labels.ts';
import { DIALECTS, type DialectName, quotedName, textLiteral } from './dialect.ts';
import type { PropertyKind, SqlSchema } from './sql-schema.ts';

export type ElementTable = 'nodes' | 'edges';

/** A column that holds one property, of values of one type. */
export interface PropertyColumn {
  readonly table: ElementTable;
  readonly property: string;
  readonly kind: PropertyKind;
  readonly column: string;
}

/** Columns that every table has. */
export const FIXED_COLUMNS = {
  nodes: ['segment', 'id'],
  labels: ['segment', 'node', 'label', 'probability'],
  edges: ['segment', 'edge', 'id', 'source', 'target', 'label', 'directed', 'uncertain'],
} as const;

/** The columns of properties, which only ever grow. */
export class PropertyColumns {
  readonly #columns: PropertyColumn[];
  readonly #byName = new Map<string, string>();
  readonly #taken = new Set<string>();

  constructor(columns: readonly PropertyColumn[] = []) {
    this.#columns = [...columns];
    for (const { table, property, kind, column } of columns) {
      this.#byName.set(`${table} ${kind} ${property}`, column);
      this.#taken.add(`${table} ${column}`);
    }
  }

  get all(): readonly PropertyColumn[] {
    return this.#columns;
  }

  /** The column of a property; a new one when there is none yet. */
  column(table: ElementTable, property: string, kind: PropertyKind): string {
    const name = `${table} ${kind} ${property}`;
    const known = this.#byName.get(name);
    if (known !== undefined) return known;
    // Engines compare names without case, and cut them at 63 bytes.
    const readable = /^[A-Za-z_][A-Za-z0-9_]{0,40}$/.test(property)
      ? property.replace(/(?<=[a-z0-9])[A-Z]/g, (letter) => `_${letter}`).toLowerCase()
      : 'property';
    let column = `p_${readable}_${kind}`;
    for (let i = 2; this.#taken.has(`${table} ${column}`); i++) column = `p_${readable}_${i}_${kind}`;
    this.#taken.add(`${table} ${column}`);
    this.#byName.set(name, column);
    this.#columns.push({ table, property, kind, column });
    return column;
  }

  schema(uncertain: boolean): SqlSchema {
    const of = (wanted: ElementTable) => {
      const properties = new Map<string, Partial<Record<PropertyKind, string>>>();
      for (const { table, property, kind, column } of this.#columns)
        if (table === wanted) properties.set(property, { ...properties.get(property), [kind]: column });
      return properties;
    };
    return { nodes: of('nodes'), edges: of('edges'), uncertain };
  }
}

/** Values of columns; a column that is missing is null. */
export type TableRow = Readonly<Record<string, string | number | boolean | null>>;

/** Rows of a segment, for each table. */
export interface SegmentRows {
  readonly nodes: readonly TableRow[];
  readonly labels: readonly TableRow[];
  readonly edges: readonly TableRow[];
  /** Whether some label has a weight below 1, or some edge may not be there. */
  readonly uncertain: boolean;
}

export interface RowSettings {
  readonly columns: PropertyColumns;
  /** The next number of an edge, which no other edge has. */
  readonly nextEdge: () => number;
  readonly hierarchy?: LabelHierarchy;
  /** Properties that are kept; all when not given. */
  readonly keeps?: (property: string) => boolean;
}

/**
 * The rows of a segment.
 * @throws GraphInputError for a property that is a list or a record, and for texts that SQL engines cannot hold
 */
export function rowsOfSegment(
  segment: string,
  { nodes, edges = [] }: SegmentInput,
  settings: RowSettings,
): SegmentRows {
  const { columns, keeps, hierarchy = {} } = settings;
  const ancestors = ancestorsOf(hierarchy);
  let uncertain = false;
  const labels: TableRow[] = [];
  const valuesOf = (
    table: ElementTable,
    id: string,
    properties: object = {},
  ): Record<string, TableRow[string]> => {
    const values: Record<string, TableRow[string]> = {};
    for (const [property, value] of Object.entries(properties) as [string, unknown][]) {
      if (value === undefined || value === null || keeps?.(property) === false) continue;
      if (typeof value === 'number' && !Number.isFinite(value)) continue;
      const kind = typeof value;
      if (kind !== 'string' && kind !== 'number' && kind !== 'boolean')
        throw new GraphInputError(
          `Property ${property} of ${id} is a list or record, which tables do not hold; give a text, number or truth value`,
        );
      values[columns.column(table, property, kind)] =
        typeof value === 'string'
          ? held(value, `Property ${property} of ${id}`)
          : (value as number | boolean);
    }
    return values;
  };
  const nodeRows = nodes.map(({ id, labels: given = [], properties }): TableRow => {
    held(id, `The id ${JSON.stringify(id)}`);
    const own =
      given instanceof Map ? given : expandLabels(given as Parameters<typeof expandLabels>[0], ancestors);
    for (const [label, probability] of own) {
      if (probability < 1) uncertain = true;
      labels.push({ segment, node: id, label: held(label, `A label of ${id}`), probability });
    }
    return { segment, id, ...valuesOf('nodes', id, properties) };
  });
  const edgeRows = edges.map((edge): TableRow => {
    const { id = null, source, target, label = null, directed = true, uncertain: maybe = false } = edge;
    if (maybe) uncertain = true;
    const name = `an edge from ${source} to ${target}`;
    if (id !== null) held(id, `The id of ${name}`);
    return {
      segment,
      edge: settings.nextEdge(),
      id,
      source,
      target,
      label: label === '' ? null : label,
      directed,
      uncertain: maybe,
      ...valuesOf('edges', name, edge.properties),
    };
  });
  return { nodes: nodeRows, labels, edges: edgeRows, uncertain };
}

function held(text: string, what: string): string {
  if (text.includes('\0') || !text.isWellFormed())
    throw new GraphInputError(
      `${what} has a character that SQL engines do not hold (U+0000 or half of a pair); take it out`,
    );
  return text;
}

const FIXED_TYPES: Readonly<Record<string, 'string' | 'number' | 'boolean' | 'edge'>> = {
  segment: 'string',
  id: 'string',
  node: 'string',
  label: 'string',
  probability: 'number',
  edge: 'edge',
  source: 'string',
  target: 'string',
  directed: 'boolean',
  uncertain: 'boolean',
};

/** The columns of a table with their types, in order. */
export function columnsOfTable(
  table: ElementTable | 'labels',
  columns: PropertyColumns,
  dialect: DialectName,
): readonly {
  readonly name: string;
  readonly type: string;
  readonly kind: 'string' | 'number' | 'boolean' | 'edge';
}[] {
  const { types } = DIALECTS[dialect];
  return [
    ...FIXED_COLUMNS[table].map((name) => ({ name, kind: FIXED_TYPES[name]! })),
    ...columns.all.filter((one) => one.table === table).map(({ column, kind }) => ({ name: column, kind })),
  ].map(({ name, kind }) => ({ name, kind, type: types[kind] }));
}

export const TABLES = ['nodes', 'labels', 'edges'] as const;

/** Statements that make the tables, empty. */
export function createTables(columns: PropertyColumns, dialect: DialectName): readonly string[] {
  return TABLES.map((table) => {
    const list = columnsOfTable(table, columns, dialect).map(
      ({ name, type }) => `${quotedName(name)} ${type}`,
    );
    return `CREATE TABLE ${table} (${list.join(', ')})`;
  });
}

/** Statements that insert rows, some hundred at a time. */
export function* insertRows(
  table: ElementTable | 'labels',
  rows: readonly TableRow[],
  columns: PropertyColumns,
  dialect: DialectName,
): Generator<string> {
  const names = columnsOfTable(table, columns, dialect).map(({ name }) => name);
  const values = (row: TableRow) => `(${names.map((name) => literal(row[name] ?? null)).join(', ')})`;
  const into = `INSERT INTO ${table} (${names.map(quotedName).join(', ')}) VALUES `;
  for (let i = 0; i < rows.length; i += 500)
    yield into +
      rows
        .slice(i, i + 500)
        .map(values)
        .join(', ');
}

function literal(value: TableRow[string]): string {
  if (value === null) return 'NULL';
  return typeof value === 'string' ? textLiteral(value) : String(value).toUpperCase();
}
