import { CasebackError } from '../model/problems.ts';
import { TERMS } from '../model/taxonomy.ts';
import { CERTAIN, likeliestCategory } from '../state/labels.ts';
import type { State } from '../state/state.ts';
import { tidy } from '../statistics/tidy.ts';
import { CHANGES, type Change, type ChangeKind, changeBetween, likeliestPart } from './align/changes.ts';
import { type Features, featuresOf } from './align/features.ts';
import { type AlignedRow, type AlignedTable, alignProgressively } from './align/progressive.ts';
import { type AlignmentWeights, alignmentWeights } from './align/weights.ts';
import { type Compared, comparedOf } from './representative.ts';

/** Devices that one table aligns; the work grows with the square of their number. */
export const MAX_ALIGNED = 20;
/** Components that a specimen in an alignment may have; the work grows with the cube of their number. */
const MAX_COMPONENTS = 1_500;
/** Pairs of specimens times the cube of the largest's components: twenty of 400 components, or five of 1,000. */
const MAX_WORK = 190 * 400 ** 3;

/** Components of two or more devices with what plays the same role in one row. */
export interface DeviceAlignment {
  /** In the order asked. */
  readonly columns: readonly Compared[];
  readonly rows: readonly AlignmentRow[];
  /** From each column to the next. */
  readonly steps: readonly AlignmentStep[];
  readonly weights: AlignmentWeights;
}

export interface AlignmentRow {
  /** The most specific kind that its components share; undefined where none is known. */
  readonly role: string | undefined;
  /** One cell a column, undefined where the device has no counterpart. */
  readonly cells: readonly (AlignmentCell | undefined)[];
  /** What became of it from each column to the next; undefined where neither has a component. */
  readonly changes: readonly (Change | undefined)[];
}

export interface AlignmentCell {
  /** Reference designator. */
  readonly component: string;
  /** Value as printed or listed. */
  readonly value: string | undefined;
  /** Likeliest catalogue part and its probability; undefined where nobody named one. */
  readonly part: { readonly id: string; readonly probability: number } | undefined;
}

/** What became of the components from one column to the next. */
export interface AlignmentStep {
  /** Numbers of the columns, 0 for the first. */
  readonly from: number;
  readonly to: number;
  readonly tallies: readonly Tally[];
}

/** How many components had one kind of change. */
export interface Tally {
  readonly change: ChangeKind;
  /** Rows for which this is the likeliest change. */
  readonly rows: number;
  /** Rows of which that is at least 0.95 certain. */
  readonly certain: number;
  /** Sum of the probabilities; what is missing to the number of rows is the chance of other pairings. */
  readonly expected: number;
}

export interface AlignmentOptions {
  /** Weights and limits that differ from the defaults of `WEIGHT_TABLE`. */
  readonly weights?: Partial<AlignmentWeights>;
  readonly signal?: AbortSignal;
}

/**
 * Aligns the components of two or more devices, or specimens. The rows do not depend on the order of the ids; columns
 * and steps follow it.
 * @throws CasebackError NOT_FOUND when nothing visible has one of the ids; BAD_INPUT for wrong weights or too few or
 * many ids; TOO_LARGE when a specimen has more than 1,500 components, or several have too many together
 */
export async function alignDevices(
  state: State,
  ids: readonly string[],
  options: AlignmentOptions = {},
): Promise<DeviceAlignment> {
  return alignColumns(
    state,
    ids.map((id) => comparedOf(state, id)),
    options,
  );
}

/** As {@link alignDevices}, for columns already looked up. */
export async function alignColumns(
  state: State,
  columns: readonly Compared[],
  { weights: changed, signal }: AlignmentOptions = {},
): Promise<DeviceAlignment> {
  if (columns.length < 2 || columns.length > MAX_ALIGNED) {
    throw new CasebackError(
      'BAD_INPUT',
      `an alignment takes 2 to ${MAX_ALIGNED} devices; ${columns.length} ${columns.length === 1 ? 'is' : 'are'} given`,
    );
  }
  const weights = alignmentWeights(changed);
  requireAlignable(columns);
  // Worked out in the order of the ids' text, so that the order asked changes nothing but the columns' places.
  const order = [...columns.keys()].sort((a, b) =>
    columns[a].specimen.id < columns[b].specimen.id
      ? -1
      : columns[a].specimen.id > columns[b].specimen.id
        ? 1
        : a - b,
  );
  const features = order.map((at) => featuresOf(columns[at].specimen, (part) => state.part(part)));
  const table = await alignProgressively(features, weights, signal);
  const setting = {
    table,
    columns: features,
    unmatched: weights.unmatched,
    originalOf: (part: string) => state.part(part)?.relabels ?? part,
  };
  const placeOf = new Map(order.map((asked, place) => [asked, place]));
  const places = columns.map((_, asked) => placeOf.get(asked) as number);
  const rows = inReadingOrder(table.rows, features).map(({ row, role }) => ({
    role,
    cells: places.map((place) => cellOf(row, features, place)),
    changes: places.slice(1).map((place, at) => changeBetween(setting, row, places[at], place)),
  }));
  const steps = columns.slice(1).map((_, at) => ({ from: at, to: at + 1, tallies: tallied(rows, at) }));
  return { columns, rows, steps, weights };
}

/** @throws CasebackError TOO_LARGE */
function requireAlignable(columns: readonly Compared[]): void {
  let largest = 0;
  for (const { specimen } of columns) {
    const size = specimen.counted.length;
    largest = Math.max(largest, size);
    if (size > MAX_COMPONENTS)
      throw new CasebackError(
        'TOO_LARGE',
        `${specimen.id} has ${size} components; an alignment takes at most ${MAX_COMPONENTS}`,
      );
  }
  const pairs = (columns.length * (columns.length - 1)) / 2;
  if (pairs * largest ** 3 <= MAX_WORK) return;
  let most = columns.length;
  while (((most * (most - 1)) / 2) * largest ** 3 > MAX_WORK) most--;
  throw new CasebackError(
    'TOO_LARGE',
    `${columns.length} devices of up to ${largest} components are too much for one alignment; give at most ${most}`,
  );
}

/** Rows by the place of their role in the taxonomy, those of unknown role last. */
function inReadingOrder(
  rows: AlignedTable['rows'],
  features: readonly Features[],
): readonly { readonly row: AlignedRow; readonly role: string | undefined }[] {
  return rows
    .map((row, at) => {
      const role = roleOf(row, features);
      return { row, role, at, rank: role === undefined ? TERMS.length : TERMS.indexOf(role) };
    })
    .sort((a, b) => a.rank - b.rank || a.at - b.at);
}

/** The most specific kind of the mean of the components' labels. */
function roleOf({ members }: AlignedRow, features: readonly Features[]): string | undefined {
  const sum = new Map<string, number>();
  let count = 0;
  members.forEach((at, column) => {
    if (at < 0) return;
    count++;
    const { specimen, components } = features[column];
    for (const [term, weight] of specimen.named.get(components[at].component.id) ?? [])
      sum.set(term, (sum.get(term) ?? 0) + weight);
  });
  return likeliestCategory(new Map([...sum].map(([term, weight]) => [term, weight / count])))?.term;
}

function cellOf(
  { members }: AlignedRow,
  features: readonly Features[],
  column: number,
): AlignmentCell | undefined {
  if (members[column] < 0) return undefined;
  const feature = features[column].components[members[column]];
  const id = likeliestPart(feature);
  return {
    component: feature.component.id,
    value: feature.component.value,
    part: id === undefined ? undefined : { id, probability: feature.identity.parts.get(id) as number },
  };
}

function tallied(
  rows: readonly { readonly changes: readonly (Change | undefined)[] }[],
  step: number,
): Tally[] {
  const changes = rows.flatMap(({ changes: all }) => all[step] ?? []);
  return CHANGES.map((kind) => {
    const asserted = changes.filter(({ change }) => change === kind);
    const expected = changes.reduce((sum, change) => sum + chanceOf(change, kind), 0);
    return {
      change: kind,
      rows: asserted.length,
      certain: asserted.filter(({ certainty }) => certainty >= CERTAIN).length,
      expected: tidy(expected),
    };
  });
}

/** Probability that a row's change was of a kind. */
function chanceOf({ change, pairing, samePart, elsewhere }: Change, kind: ChangeKind): number {
  if (samePart === undefined) return change === kind ? pairing : 0;
  if (kind === 'replaced') return pairing * (1 - samePart);
  return kind === (elsewhere ? 'moved' : 'kept') ? pairing * samePart : 0;
}

/** Rows of a step with one kind of change. */
export function changed({ steps }: DeviceAlignment, step: number, kind: ChangeKind): Tally {
  return steps[step].tallies.find(({ change }) => change === kind) as Tally;
}
