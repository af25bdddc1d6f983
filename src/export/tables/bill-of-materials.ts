import { IDENTIFICATION_STATES } from '../../model/dossier.ts';
import { lastOfId, recordOfId } from '../../model/ids.ts';
import type { ComponentRow } from './component-rows.ts';

/** A line of a bill of materials: components of one specimen that are concluded, or seen, to be the same. */
export interface BillLine {
  readonly number: number;
  readonly device: string;
  readonly specimen: string;
  readonly components: readonly string[];
  readonly designators: readonly string[];
  readonly knowledge: 'concluded' | 'seen' | 'unknown';
  readonly state: string | undefined;
  readonly part: string | undefined;
  readonly partNumber: string | undefined;
  readonly maker: string | undefined;
  readonly category: string | undefined;
  /** Lowest and highest probability of part or kind among the components. */
  readonly minimum: number | undefined;
  readonly maximum: number | undefined;
  readonly values: readonly string[] | undefined;
  readonly packages: readonly string[] | undefined;
}

/**
 * The bill of materials of one specimen: what counts as a component, by part where one is concluded, else by kind, value and
 * package. What is plain to the eye and what is concluded never share a line.
 * @param rows of one specimen, by designator
 * @param first number of the first line
 */
export function billOf(rows: readonly ComponentRow[], first: number): readonly BillLine[] {
  const groups = Map.groupBy(
    rows.filter((row) => row.isCounted),
    keyOf,
  );
  return [...groups.values()].map((group, i) => lineOf(group, first + i));
}

function keyOf(row: ComponentRow): string {
  const { part, category, component } = row;
  if (part) return JSON.stringify(['part', part.part]);
  const knowledge = knowledgeOf(row);
  // The value of something that nobody has identified is all that tells it from others of its kind.
  return JSON.stringify([knowledge, category?.term, component.value, component.package]);
}

/** What is said by an identification is concluded, even where the eye says the same in general. */
function knowledgeOf({ identification, category, part, component }: ComponentRow): BillLine['knowledge'] {
  if (part) return 'concluded';
  if (category === undefined) return 'unknown';
  return identification && category.term !== component.appears ? 'concluded' : 'seen';
}

function lineOf(group: readonly ComponentRow[], number: number): BillLine {
  const [row] = group as readonly [ComponentRow, ...ComponentRow[]];
  const knowledge = knowledgeOf(row);
  const part = row.part?.part;
  const odds = group.flatMap((one) =>
    knowledge === 'concluded' ? ((part ? one.part : one.category)?.probability ?? []) : [],
  );
  const states = group.flatMap(({ identification }) => identification?.state ?? []);
  return {
    number,
    device: row.device,
    specimen: row.specimen,
    components: group.map(({ id }) => id),
    designators: group.map(({ designator }) => designator),
    knowledge,
    state: knowledge === 'concluded' ? IDENTIFICATION_STATES.find((one) => states.includes(one)) : undefined,
    part,
    partNumber: part && lastOfId(part),
    maker: part && recordOfId(part),
    category: sharedBy(group.map(({ category }) => category?.term)),
    minimum: odds.length > 0 ? Math.min(...odds) : undefined,
    maximum: odds.length > 0 ? Math.max(...odds) : undefined,
    values: distinct(group.map(({ component }) => component.value)),
    packages: distinct(group.map((one) => one.component.package)),
  };
}

/** What all have in common; undefined where they differ. */
function sharedBy(terms: readonly (string | undefined)[]): string | undefined {
  return terms.every((term) => term === terms[0]) ? terms[0] : undefined;
}

function distinct(texts: readonly (string | undefined)[]): readonly string[] | undefined {
  const found = [...new Set(texts.filter((text) => text !== undefined))];
  return found.length > 0 ? found : undefined;
}
