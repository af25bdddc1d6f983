import { type StandingFields, standingFields } from '../classes/looks.ts';
import type { Part } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { type MarkingText, parseMarking } from '../model/marking.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { ReadingComparison } from './catalogue-index.ts';
import {
  AGREES,
  type Agreement,
  type Contribution,
  DIFFERS,
  type HabitTable,
  LEARN_FROM,
  packageKey,
  plainPackage,
  readBy,
  samePackage,
  sameTerminals,
} from './habits.ts';
import { neighboursOf } from './neighbours.ts';

/** How a marking was read, given the part: see CatalogueIndex.compared. */
export type ReadingOf = (marking: MarkingText, part: Part) => ReadingComparison | undefined;

/**
 * What the settled identifications of one specimen teach. Only the dossier's own fields count, without withdrawn ones: a
 * new observation of one component teaches nothing about other devices.
 */
export function contributionsOf(
  specimen: OpenedSpecimen,
  device: Device,
  partOf: (id: string) => Part | undefined,
  readingOf: ReadingOf,
): readonly Contribution[] {
  const contributions: Contribution[] = [];
  const pairs = new Map<string, number>();
  const slips = new Map<string, number>();
  const parts = new Set<string>();
  for (const component of specimen.counted) {
    const { id, side } = component;
    const settled = settledPart(specimen, id);
    const part = settled === undefined ? undefined : partOf(settled);
    if (settled === undefined || !part) continue;
    const { marking, package: body, pins } = standingFields(specimen, component);
    const [category] = part.categories;
    // Four of one lamp are one choice of its designer.
    if (!parts.has(settled)) contributions.push({ table: 'part', given: '', seen: settled });
    parts.add(settled);
    contributions.push({ table: 'maker', given: device.maker, seen: part.maker });
    if (body) contributions.push({ table: 'package', given: category, seen: packageKey(body) });
    if (pins)
      contributions.push({ table: 'pins', given: body ? plainPackage(body) : '', seen: String(pins) });
    if (side) contributions.push({ table: 'side', given: category, seen: side });
    for (const { category: seen, bus } of neighboursOf(specimen, id)) {
      contributions.push({ table: 'neighbour', given: category, seen });
      if (bus) contributions.push({ table: 'bus', given: category, seen: bus });
    }
    const read = marking === undefined ? undefined : readingOf(parseMarking(marking), part);
    contributions.push(...agreements({ package: body, pins }, part, read?.listed));
    for (const pair of read?.pairs ?? []) pairs.set(pair, (pairs.get(pair) ?? 0) + 1);
    for (const [slip, times] of read?.slips ?? []) slips.set(slip, (slips.get(slip) ?? 0) + times);
  }
  const { by } = specimen.dossier.teardown;
  for (const [[truth, seen], times] of pairs) {
    contributions.push({ table: 'reading', given: truth, seen, times });
    contributions.push({ table: 'reading-by', given: readBy(truth, by), seen, times });
  }
  for (const [seen, times] of slips) contributions.push({ table: 'slip', given: by, seen, times });
  return contributions;
}

/** Tables of what readers do, which each reading shows anew. */
const OF_READERS: ReadonlySet<HabitTable> = new Set(['reading', 'reading-by', 'slip']);

/**
 * What the specimens of one device teach together. They are copies of one design, so that each of its choices counts once however
 * many were opened: as often as in the specimen that shows it most. Their markings are read one by one, and each reading
 * teaches how readers slip; the same readings noted for a further specimen are those of before.
 */
export function ofOneDesign(specimens: readonly (readonly Contribution[])[]): readonly Contribution[] {
  if (specimens.length === 1) return specimens[0];
  const design = new Map<string, Contribution>();
  const read = new Map<string, readonly Contribution[]>();
  for (const specimen of specimens) {
    const here = new Map<string, Contribution>();
    for (const one of specimen.filter(({ table }) => !OF_READERS.has(table))) {
      const { table, given, seen, times = 1 } = one;
      const key = JSON.stringify([table, given, seen]);
      here.set(key, { table, given, seen, times: times + (here.get(key)?.times ?? 0) });
    }
    for (const [key, one] of here) if ((one.times ?? 0) > (design.get(key)?.times ?? 0)) design.set(key, one);
    const readings = specimen.filter(({ table }) => OF_READERS.has(table));
    read.set(JSON.stringify(readings), readings);
  }
  return [...design.values(), ...[...read.values()].flat()];
}

/** Whether bench and catalogue agree, for each thing that both have. */
function agreements(
  { package: body, pins }: Pick<StandingFields, 'package' | 'pins'>,
  part: Part,
  listed: boolean | undefined,
) {
  const agreement = (given: Agreement, agrees: boolean): Contribution => ({
    table: 'agreement',
    given,
    seen: agrees ? AGREES : DIFFERS,
  });
  return [
    ...(body && part.package ? [agreement('package', samePackage(body, part.package))] : []),
    ...(pins && part.pins ? [agreement('pins', sameTerminals(pins, part.pins, part.package ?? body))] : []),
    ...(listed === undefined ? [] : [agreement(part.markings.length > 0 ? 'marking' : 'number', listed)]),
  ];
}

/** The part a component is settled to be, or undefined. */
export function settledPart(specimen: OpenedSpecimen, designator: string): string | undefined {
  const identification = specimen.identified.get(designator);
  if (identification?.state !== 'settled') return undefined;
  return identification.candidates.find(
    ({ part, probability }) => part !== undefined && probability >= LEARN_FROM,
  )?.part;
}
