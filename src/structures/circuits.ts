import type { Device } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import { isUnder, lineage, mostSpecific, PACKING } from '../model/taxonomy.ts';
import type { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import { visibleDevices } from '../trends/visible-devices.ts';
import type { LinkLabels, StructureLink } from './answer.ts';
import { type Circuit, type CircuitLink, circuitIndexOf } from './circuit-index.ts';
import { type GraphStore, GraphStoreBuilder } from './graph-store.ts';

export interface CircuitOptions {
  readonly level?: number | undefined;
  readonly without: readonly string[];
  readonly links: LinkLabels;
  readonly boards: boolean;
}

/** The visible circuits as graphs to mine; a group is a device, by its place in `devices`. */
export interface Circuits {
  readonly store: GraphStore;
  /** Visible devices that were looked into, by id. */
  readonly devices: readonly Device[];
  /** Kinds in use, the rarest first: the labels of nodes. */
  readonly kinds: readonly string[];
  /** What a label of an edge says. */
  readonly links: readonly Omit<StructureLink, 'from' | 'to'>[];
  /** Global id of each node of the store. */
  readonly ids: readonly string[];
}

interface Read {
  readonly specimen: string;
  readonly group: number;
  readonly circuit: Circuit;
}

/**
 * Every visible specimen as a graph: its components and the connections between them. A component counts under each
 * kind in use that it is for certain, so that a structure of kinds has the very devices that its text finds: kinds in
 * use are the most specific certain kinds of visible components (cut off at a level, if asked), and an accelerometer is
 * also an inertial sensor where nothing more is known of some other component. Components of which no kind is certain
 * are left out; what they might be shows in the possible devices of the answer.
 */
export async function circuitsOf(
  state: State,
  options: CircuitOptions,
  pace: Pace,
  onProgress: (fraction: number) => void = () => undefined,
): Promise<Circuits> {
  const index = circuitIndexOf(state);
  const { devices: all, lookedInto } = visibleDevices(state);
  const devices = all.filter(({ id }) => lookedInto.has(id));
  const read: Read[] = [];
  for (const [group, device] of devices.entries()) {
    for (const row of state.specimensOf(device.id)) {
      read.push({ specimen: row.id, group, circuit: index.of(state, row) });
      if (!pace.due) continue;
      onProgress(group / devices.length);
      await pace.rest();
    }
  }
  const kindsOf = new TermsOf(options);
  const kinds = kindsInUse(read, kindsOf);
  const numbers = new Map(kinds.map((kind, at) => [kind, at]));
  const links = new LinkNumbers(options);
  const ids: string[] = [];
  const builder = new GraphStoreBuilder();
  for (const { specimen, group, circuit } of read) {
    const { components } = circuit;
    for (const { designator } of components) ids.push(thingId(specimen, designator));
    builder.add({
      group,
      labels: components.map(({ certain }) =>
        kindsOf.leftOut(certain) ? [] : certain.flatMap((term) => numbers.get(term) ?? []),
      ),
      edges: circuit.links.map((link) => [link.a, link.b, links.of(link, circuit)] as const),
    });
    if (pace.due) await pace.rest();
  }
  return { store: builder.built(), devices, kinds, links: links.all, ids };
}

/** What a component counts as, by its certain terms. */
class TermsOf {
  readonly #options: CircuitOptions;
  readonly #kept = new Map<readonly string[], { readonly out: boolean; readonly kinds: readonly string[] }>();

  constructor(options: CircuitOptions) {
    this.#options = options;
  }

  /** Its most specific kinds, cut off at the level asked for. */
  kinds(certain: readonly string[]): readonly string[] {
    return this.#judged(certain).kinds;
  }

  /** Whether all that it is for certain was asked to be left out. */
  leftOut(certain: readonly string[]): boolean {
    return this.#judged(certain).out;
  }

  #judged(certain: readonly string[]) {
    const kept = this.#kept.get(certain);
    if (kept) return kept;
    const { level, without } = this.#options;
    const specific = mostSpecific(certain.filter((term) => !PACKING.has(term)));
    const out =
      specific.length > 0 && specific.every((term) => without.some((above) => isUnder(term, above)));
    const kinds = specific.map((term) => {
      const line = lineage(term);
      return level === undefined ? term : line[Math.max(0, line.length - 1 - level)];
    });
    const judged = { out, kinds: [...new Set(kinds)] };
    this.#kept.set(certain, judged);
    return judged;
  }
}

/** Rarest first, so that the search begins where there is least to look at. */
function kindsInUse(read: readonly Read[], kindsOf: TermsOf): readonly string[] {
  const counts = new Map<string, number>();
  for (const { circuit } of read) {
    for (const { certain } of circuit.components) {
      if (kindsOf.leftOut(certain)) continue;
      for (const kind of kindsOf.kinds(certain)) counts.set(kind, (counts.get(kind) ?? 0) + 1);
    }
  }
  return [...counts].sort(([a, x], [b, y]) => x - y || (a < b ? -1 : 1)).map(([kind]) => kind);
}

/** Numbers of connection labels, in the order in which they first appear. */
class LinkNumbers {
  readonly all: Omit<StructureLink, 'from' | 'to'>[] = [];
  readonly #options: CircuitOptions;
  readonly #numbers = new Map<string, number>();

  constructor(options: CircuitOptions) {
    this.#options = options;
  }

  of({ a, b, medium, bus }: CircuitLink, { components }: Circuit): number {
    const { links, boards } = this.#options;
    const link = links === 'none' ? {} : links === 'bus' && bus !== undefined ? { bus } : { medium };
    const label = boards ? { ...link, boards: boardsOf(components[a].board, components[b].board) } : link;
    const key = JSON.stringify(label);
    const known = this.#numbers.get(key);
    if (known !== undefined) return known;
    this.#numbers.set(key, this.all.length);
    this.all.push(label);
    return this.all.length - 1;
  }
}

function boardsOf(a: string | undefined, b: string | undefined): 'one' | 'two' | 'unknown' {
  if (a === undefined || b === undefined) return 'unknown';
  return a === b ? 'one' : 'two';
}
