import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';

/** What a figure of a class of parts may be, for parts first delivered in some years. */
export interface Range {
  /** Class of parts, a supply, or nothing: for all parts in that package. */
  readonly class: string;
  /** Kind of package without its terminals; nothing for any. */
  readonly package: string;
  readonly from: number;
  readonly to: number;
  /** A parameter of the catalogue, a measure of the outline, or a figure from which others are reckoned. */
  readonly parameter: string;
  readonly lowest: number;
  readonly highest: number;
  /** Steps between, or `binary` for memories: powers of two and three times powers of two. */
  readonly step: number | 'binary';
  readonly unit: string;
}

/** How a part is drawn. */
export interface Plan {
  /** Id of the part. */
  readonly part: string;
  readonly class: string;
  /** Class of its supply limits; nothing where it has none. */
  readonly supply: string;
  /** Id of a part with the same outline and terminals, which is drawn for both. */
  readonly outline: string;
  /** Id of a part with the same figures, which are drawn for both. */
  readonly figures: string;
}

function rows(name: string): Record<string, string>[] {
  return parse(readFileSync(new URL(name, import.meta.url)), { columns: true });
}

export const RANGES: readonly Range[] = rows('ranges.csv').map((row) => ({
  class: row.class,
  package: row.package,
  from: Number(row.from),
  to: Number(row.to),
  parameter: row.parameter,
  lowest: Number(row.lowest),
  highest: Number(row.highest),
  step: row.step === 'binary' ? 'binary' : Number(row.step),
  unit: row.unit,
}));

export const PLANS: ReadonlyMap<string, Plan> = new Map(
  rows('parts.csv').map((row) => [row.part, row as unknown as Plan]),
);
