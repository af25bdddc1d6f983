import type { Device } from '../model/dossier.ts';
import { thingId } from '../model/ids.ts';
import { isUnder, lineage, mostSpecific, PACKING } from '../model/taxonomy.ts';
import type { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import { visibleDevices } from '../trends/visible-devices.ts';
import type { LinkLabels, Relation, StructureLink } from './answer.ts';
import { type Circuit, type CircuitLink, circuitIndexOf } from './circuit-index.ts';
import { type GraphStore, GraphStoreBuilder } from './graph-store.ts';

export interface CircuitOptions {
  readonly level?: number | undefined;
  readonly without: readonly string[];
  readonly relations: readonly Relation[];
  readonly links: LinkLabels;
  readonly boards: boolean;
}

/** What a label of an edge says of it. */
export interface LinkLabel extends Omit<StructureLink, 'from' | 'to'> {
  /** Whether the label is that of the far end: the edge is directed to where it is seen from. */
  readonly isReversed: boolean;
}

/** The visible circuits as graphs to mine; a group is a device, by its place in `devices`. */
export interface Circuits {
  readonly store: GraphStore;
  /** Visible devices that were looked into, by id. */
  readonly devices: readonly Device[];
  /** Kinds in use, the rarest first: the labels of nodes. */
  readonly kinds: readonly string[];
  /** What a label of an edge says. */
  readonly links: readonly LinkLabel[];
  /** Global id of each node of the store. */
  readonly ids: readonly string[];
}

interface Read {
  readonly specimen: string;
  readonly group: number;
  readonly circuit: Circuit;
}

/**
 * Every visible specimen as a graph: its components and what joins them. A component counts under each
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
  const builder = new GraphStoreBuilder((link) => links.reverseOf(link));
  for (const { specimen, group, circuit } of read) {
    const { components } = circuit;
    for (const { designator } of components) ids.push(thingId(specimen, designator));
    const joined = links.pairsJoined(circuit);
    builder.add({
      group,
      labels: components.map(({ certain }) =>
        kindsOf.leftOut(certain) ? [] : certain.flatMap((term) => numbers.get(term) ?? []),
      ),
      edges: circuit.links.flatMap((link) => {
        const label = links.of(link, circuit, joined);
        return label === undefined ? [] : [[link.a, link.b, label] as const];
      }),
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

/** Media that carry no current: what they join may be joined in other ways as well. */
const NO_CURRENT: ReadonlySet<string | undefined> = new Set(['optical-path', 'adhesive', 'screw']);

/** Numbers of the labels of edges, in the order in which they first appear. */
class LinkNumbers {
  readonly all: LinkLabel[] = [];
  readonly #options: CircuitOptions;
  readonly #numbers = new Map<string, number>();
  readonly #reverse: number[] = [];
  /** Whether connections stand beside what is derived from them. */
  readonly #isBesideOthers: boolean;

  constructor(options: CircuitOptions) {
    this.#options = options;
    this.#isBesideOthers = options.links !== 'none' && options.relations.some((one) => one !== 'connects');
  }

  reverseOf(link: number): number {
    return this.#reverse[link];
  }

  /** Pairs of components that something other than a connection joins, where connections stand beside others. */
  pairsJoined({ links }: Circuit): ReadonlySet<string> {
    if (!this.#isBesideOthers) return new Set();
    const { relations } = this.#options;
    return new Set(
      links.flatMap(({ a, b, kind: { relation } }) =>
        relation !== 'connects' && relations.includes(relation) ? [pairOf(a, b)] : [],
      ),
    );
  }

  /**
   * Number of the label that a link has from its first end; undefined where it does not count.
   * @param joined pairs that something other than a connection joins
   */
  of(link: CircuitLink, circuit: Circuit, joined: ReadonlySet<string>): number | undefined {
    const label = this.#labelOf(link, circuit, joined);
    if (!label) return undefined;
    const key = JSON.stringify(label);
    const known = this.#numbers.get(key);
    if (known !== undefined) return known;
    const number = this.all.length;
    this.#numbers.set(key, number);
    this.all.push({ ...label, isReversed: false });
    if (label.relation === 'feeds') {
      this.all.push({ ...label, isReversed: true });
      this.#reverse.push(number + 1, number);
    } else this.#reverse.push(number);
    return number;
  }

  #labelOf(
    { a, b, kind }: CircuitLink,
    { components }: Circuit,
    joined: ReadonlySet<string>,
  ): Omit<LinkLabel, 'isReversed'> | undefined {
    const { relations, links, boards } = this.#options;
    const { relation, bus, medium } = kind;
    if (!relations.includes(relation)) return undefined;
    const where = boards ? { boards: boardsOf(components[a].board, components[b].board) } : {};
    if (links === 'none') return where;
    const byBus = links === 'bus' && bus !== undefined;
    if (relation !== 'connects') return { relation, ...(byBus ? { bus } : {}), ...where };
    if (!this.#isBesideOthers) return { relation, ...(byBus ? { bus } : { medium }), ...where };
    if (NO_CURRENT.has(medium)) return { relation, medium, ...where };
    if (joined.has(pairOf(a, b))) return undefined;
    return { relation, ...(byBus ? { bus } : { medium }), alone: true, ...where };
  }
}

function pairOf(a: number, b: number): string {
  return a < b ? `${a} ${b}` : `${b} ${a}`;
}

function boardsOf(a: string | undefined, b: string | undefined): 'one' | 'two' | 'unknown' {
  if (a === undefined || b === undefined) return 'unknown';
  return a === b ? 'one' : 'two';
}
