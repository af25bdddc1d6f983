import type { Row } from '../../export/rows.ts';

/** What `--format` may ask for; each command offers some of them, the first by default. */
export const FORMATS = {
  text: 'tables and sentences to read',
  table: 'aligned columns',
  csv: 'comma-separated values (RFC 4180)',
  json: 'everything at full precision',
  csl: 'CSL-JSON (Citation Style Language)',
  yaml: 'YAML',
  svg: 'a chart as SVG',
  png: 'the chart as PNG, to a file (--out)',
  'vega-lite': 'the chart as a Vega-Lite document',
} as const;
export type Format = keyof typeof FORMATS;

/**
 * What a command answers, for each format that it offers; only the one asked for is made. Where one is missing, text
 * and table stand for each other, and csv is made of the rows of the table.
 */
export interface Answer {
  text?(): string;
  table?(): readonly Row[];
  csv?(): readonly Row[];
  /** Columns of the csv where it may have no rows: a program that reads it finds its heading all the same. */
  readonly heading?: readonly string[];
  json?(): unknown;
  csl?(): readonly object[];
  /** Messages to standard error behind the answer, a line each. */
  readonly messages?: readonly string[];
  /** Exit code; 0 when left out. */
  readonly exit?: number;
}
