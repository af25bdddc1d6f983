import type { Row } from '../export/rows.ts';

/** A Vega-Lite document (version 6) as JSON: data inside it, nothing to load. */
export type ChartDocument = Readonly<Record<string, unknown>>;

/** A chart, and all that must go with it wherever it is shown. */
export interface Chart {
  readonly title: string;
  /** What may be said of it, in a sentence. */
  readonly subtitle: string;
  /** How many things its figures are taken over, such as "48 devices". */
  readonly n: string;
  /** What it shows for who cannot see it: the same numbers in words. */
  readonly description: string;
  /** Its figures as a table; every number drawn stands in it. */
  readonly rows: readonly Row[];
  /** What must be said beside the figures. */
  readonly cautions: readonly string[];
  readonly document: ChartDocument;
}

/** Where the figures of a chart come from, for its last line. */
export interface ChartSource {
  /** The day of the state of the archive, YYYY-MM-DD. */
  readonly on: string;
  /** Whether devices in it are demo data. */
  readonly invented: boolean;
}

/** The last line of a chart. */
export function sourceLine({ on, invented }: ChartSource, n: string): string {
  return `n: ${n}. Source: Caseback archive, state of ${on}.${invented ? ' Demo data: no such devices exist.' : ''}`;
}
