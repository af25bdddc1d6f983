import { compareDesignators, designatorOf } from '../../model/designator.ts';
import type { Net } from '../../model/net.ts';
import type { DerivedNets } from '../../nets/nets.ts';
import { busOf } from '../../nets/signal-paths.ts';
import type { Conductor } from '../../nets/wiring.ts';
import { compareText } from '../../state/lists/device-list.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';

// What joins the components of a block diagram: nets and traced connections as recorded, and what follows from them where a way
// leads through parts that are not drawn. Everything is sorted, so that equal records give equal diagrams.

export type WireKind = 'supply' | 'signal' | 'mated';

/** A net, or several with the same members, that joins three drawn components or more. */
export interface Bar {
  readonly id: string;
  readonly kind: 'supply' | 'signal';
  /** Ids of its nets. */
  readonly nets: readonly string[];
  /** Each on a line of its own. */
  readonly label: readonly string[];
}

/** A line between two drawn components, or from one to a bar. */
export interface Wire {
  readonly kind: WireKind;
  /** Local id of a component, or id of a bar; of a supply the side that it comes from. */
  readonly from: string;
  readonly to: string;
  /** Ids of nets that it stands for, and pairs of components, `U1~U2`, of traced connections. */
  readonly of: readonly string[];
  /** Each on a line of its own; empty where nothing is known to write. */
  readonly label: readonly string[];
  /** Whether it follows from records by rules, through parts that are not drawn; else one record has both ends. */
  readonly isConcluded: boolean;
  /** Which ends are known to draw from the other: none, its end, or both, such as a cell that is charged there. */
  readonly arrow: 'none' | 'end' | 'both';
}

export interface Wires {
  readonly bars: readonly Bar[];
  readonly wires: readonly Wire[];
  /** Drawn components of which no net and no connection is recorded. */
  readonly without: readonly string[];
  /** Drawn components whose nets and connections lead to ground or to what is not drawn alone. */
  readonly aside: readonly string[];
}

/** Most names of nets, or of parts passed, in one label. */
const MOST_NAMES = 3;

/** @param isDrawn whether a component, by local id, is a box of the diagram */
export function wiresOf(
  specimen: OpenedSpecimen,
  derived: DerivedNets,
  isDrawn: (id: string) => boolean,
): Wires {
  const maker = new WireMaker(derived, isDrawn);
  const { wiring, feeds, paths } = derived;
  maker.recorded();
  for (const { source, load, through, voltage, output } of feeds)
    maker.concludedSupply([source, ...through, load], output ?? volts(voltage));
  for (const path of paths) maker.concludedSignal(path);
  for (const { between, medium, bus, lines } of specimen.joined)
    if (between.every((id) => wiring.roles.get(id)?.isConnector && isDrawn(id)))
      maker.add('mated', between, between, [lines === undefined ? medium : `${medium}, ${counted(lines)}`]);
    else if (medium === 'optical-path' && between.every(isDrawn))
      maker.add('signal', between, between, [bus ?? 'light']);
  return maker.result();
}

/** Each of a chain and each after it. */
function pairsAlong(chains: readonly (readonly string[])[]): ReadonlySet<string> {
  return new Set(
    chains.flatMap((chain) =>
      chain.flatMap((one, i) => chain.slice(i + 1).map((other) => `${one} ${other}`)),
    ),
  );
}

/** A wire that follows by rules, as far as it is known. */
interface Concluded {
  readonly kind: WireKind;
  readonly from: string;
  readonly to: string;
  readonly labels: Set<string>;
  /** Ids of what it passes. */
  readonly through: Set<string>;
}

class WireMaker {
  readonly #derived: DerivedNets;
  readonly #isDrawn: (id: string) => boolean;
  readonly #bars: Bar[] = [];
  readonly #wires: Wire[] = [];
  /** Power conductors that are bars, by place. */
  readonly #barOf = new Map<number, Bar>();
  /** What a supply comes from or goes on through, by source or load and the component passed. */
  readonly #passed: ReadonlySet<string>;
  /** The same without what only hangs on a supply. */
  readonly #taken: ReadonlySet<string>;
  readonly #concluded = new Map<string, Concluded>();

  constructor(derived: DerivedNets, isDrawn: (id: string) => boolean) {
    this.#derived = derived;
    this.#isDrawn = isDrawn;
    const chains = derived.feeds.map(({ source, through, load }) => [source, ...through, load]);
    this.#passed = pairsAlong(chains);
    // A protector hangs on a supply and draws nothing from it.
    const draws = ({ load }: { readonly load: string }) => !derived.wiring.roles.get(load)?.is('Diode');
    this.#taken = pairsAlong(
      derived.feeds.map((feed, at) => (draws(feed) ? chains[at] : chains[at].slice(0, -1))),
    );
  }

  /** Nets and traced connections that join drawn components; ground joins all and is left out. */
  recorded(): void {
    const { wiring } = this.#derived;
    const groups = new Map<string, { members: readonly string[]; conductors: Conductor[] }>();
    for (const conductor of wiring.conductors) {
      if (conductor.kind === 'ground') continue;
      const members = [...new Set(conductor.members.map(({ role }) => role.id))].filter(this.#isDrawn).sort();
      if (members.length < 2) continue;
      const own =
        conductor.kind === 'power'
          ? String(conductor.at)
          : members.length === 2
            ? ''
            : (busOf([conductor]) ?? 'unknown');
      const key = `${conductor.kind} ${own} ${members.join(' ')}`;
      const group = groups.get(key);
      if (group) group.conductors.push(conductor);
      else groups.set(key, { members, conductors: [conductor] });
    }
    for (const { members, conductors } of groups.values()) {
      if (conductors[0].kind === 'power') this.#supply(members, conductors[0]);
      else this.#signal(members, conductors);
    }
  }

  #supply(members: readonly string[], conductor: Conductor): void {
    const { net, voltage, at } = conductor;
    const named = [net && nameOf(net), volts(voltage)].filter((one) => one !== undefined);
    const label = named.length > 0 ? [named.join(', ')] : [];
    if (members.length === 2) {
      const [from, to] = this.#downstream(members);
      const of = net ? [net.id] : [members.join('~')];
      this.#push({
        kind: 'supply',
        from,
        to,
        of,
        label,
        isConcluded: false,
        arrow: !this.#taken.has(`${from} ${to}`) ? 'none' : this.#taken.has(`${to} ${from}`) ? 'both' : 'end',
      });
      return;
    }
    const bar: Bar = { id: `bar ${net?.id}`, kind: 'supply', nets: net ? [net.id] : [], label };
    this.#bars.push(bar);
    this.#barOf.set(at, bar);
    for (const member of members) {
      const others = members.filter((one) => one !== member);
      const gives = others.some((one) => this.#passed.has(`${member} ${one}`));
      const takes = others.some((one) => this.#taken.has(`${one} ${member}`));
      this.#push({
        kind: 'supply',
        from: gives ? member : bar.id,
        to: gives ? bar.id : member,
        of: bar.nets,
        label: [],
        isConcluded: false,
        arrow: gives && takes ? 'both' : gives || takes ? 'end' : 'none',
      });
    }
  }

  #signal(members: readonly string[], conductors: readonly Conductor[]): void {
    const of = conductors.map(({ net }) => net?.id ?? members.join('~')).sort(compareText);
    const label = labelOf(conductors);
    if (members.length === 2) {
      this.add('signal', members, of, label);
      return;
    }
    const bar: Bar = {
      id: `bar ${of.join(' ')}`,
      kind: 'signal',
      nets: of,
      label: label.length > 0 ? label : [counted(of.length)],
    };
    this.#bars.push(bar);
    const led = this.#ledFirst(members);
    for (const [i, member] of led.entries())
      this.#push({
        kind: 'signal',
        from: i === 0 ? member : bar.id,
        to: i === 0 ? bar.id : member,
        of,
        label: [],
        isConcluded: false,
        arrow: 'none',
      });
  }

  /** A line without direction; it starts at what leads, so that diagrams read from there. */
  add(kind: WireKind, ends: readonly string[], of: readonly string[], label: readonly string[]): void {
    const [from, to] = kind === 'mated' ? ends : this.#ledFirst(ends);
    const named = of === ends ? [[...ends].sort().join('~')] : of;
    this.#push({ kind, from, to, of: named, label, isConcluded: false, arrow: 'none' });
  }

  /** Supplies that go on through parts that are not drawn, piece by piece between drawn ones. */
  concludedSupply(chain: readonly string[], label: string | undefined): void {
    const { rails, wiring } = this.#derived;
    for (const { from, to, through } of this.#pieces(chain)) {
      if (through.length === 0) continue;
      const own = (id: string) =>
        (wiring.of.get(id) ?? []).filter((at) => wiring.conductors[at].kind === 'power');
      if (own(from).some((at) => own(to).includes(at))) continue;
      const railsOfLoad = new Set(own(to).flatMap((at) => rails.get(at) ?? []));
      const bars = own(from).flatMap((at) => {
        const rail = rails.get(at);
        const bar = this.#barOf.get(at);
        return bar && rail !== undefined && railsOfLoad.has(rail) ? [bar] : [];
      });
      this.#conclude('supply', bars[0]?.id ?? from, to, label, through);
    }
  }

  /** Lines that pass something; where the path has more that pass nothing there, those are drawn as nets. */
  concludedSignal({ ends, ways, bus }: DerivedNets['paths'][number]): void {
    const { wiring } = this.#derived;
    const share = (one: string, other: string) =>
      (wiring.of.get(one) ?? []).some((at) => (wiring.of.get(other) ?? []).includes(at));
    const between = new Map<string, { from: string; to: string; lines: number; through: Set<string> }>();
    for (const { lines, through } of ways) {
      const isForwards = through.length === 0 || share(ends[0], through[0]);
      const chain = [ends[0], ...(isForwards ? through : [...through].reverse()), ends[1]];
      for (const { from, to, through: passed } of this.#pieces(chain)) {
        if (passed.length === 0) continue;
        const [first, second] = this.#ledFirst([from, to]);
        const key = `${first} ${second}`;
        const piece = between.get(key) ?? { from: first, to: second, lines: 0, through: new Set() };
        piece.lines += lines;
        for (const id of passed) piece.through.add(id);
        between.set(key, piece);
      }
    }
    for (const { from, to, lines, through } of between.values()) {
      const counts = lines > 1 ? counted(lines) : undefined;
      const label = [bus, counts].filter((one) => one !== undefined).join(', ');
      this.#conclude('signal', from, to, label === '' ? undefined : label, [...through]);
    }
  }

  #conclude(
    kind: WireKind,
    from: string,
    to: string,
    label: string | undefined,
    through: readonly string[],
  ): void {
    const key = `${kind} ${from} ${to}`;
    const before = this.#concluded.get(key) ?? { kind, from, to, labels: new Set(), through: new Set() };
    if (label !== undefined) before.labels.add(label);
    for (const id of through) before.through.add(id);
    this.#concluded.set(key, before);
  }

  /** A way cut at the drawn components on it. */
  #pieces(chain: readonly string[]) {
    const pieces: { readonly from: string; readonly to: string; readonly through: readonly string[] }[] = [];
    let from = chain[0];
    let through: string[] = [];
    for (const id of chain.slice(1)) {
      if (!this.#isDrawn(id)) through.push(id);
      else {
        if (from !== id) pieces.push({ from, to: id, through });
        [from, through] = [id, []];
      }
    }
    return pieces.filter((piece) => this.#isDrawn(piece.from));
  }

  /** Source before load; where nothing says it, as close to the origin of supplies as it is. */
  #downstream([a, b]: readonly string[]): readonly [string, string] {
    if (this.#passed.has(`${a} ${b}`)) return [a, b];
    if (this.#passed.has(`${b} ${a}`)) return [b, a];
    const rank = (id: string) => this.#derived.wiring.roles.get(id)?.rank ?? 0;
    return rank(b) < rank(a) ? [b, a] : [a, b];
  }

  /** Processors first, then chips, connectors last. */
  #ledFirst(ids: readonly string[]): readonly string[] {
    const place = (id: string) => {
      const role = this.#derived.wiring.roles.get(id);
      return role?.isProcessor ? 0 : role?.isConnector ? 2 : 1;
    };
    return [...ids].sort((a, b) => place(a) - place(b) || (a < b ? -1 : 1));
  }

  #push(wire: Wire): void {
    this.#wires.push(wire);
  }

  result(): Wires {
    const { wiring } = this.#derived;
    const concluded = [...this.#concluded.values()].flatMap((one) => {
      const back = one.kind === 'supply' ? this.#concluded.get(`supply ${one.to} ${one.from}`) : undefined;
      // A cell that is charged where it feeds from: one line for both.
      return back && compareText(one.to, one.from) < 0 ? [] : [concludedWire(one, back)];
    });
    const wires = [...this.#wires, ...concluded].sort(
      (a, b) =>
        compareText(a.from, b.from) ||
        compareText(a.to, b.to) ||
        compareText(a.kind, b.kind) ||
        compareText(a.of.join(' '), b.of.join(' ')) ||
        Number(a.isConcluded) - Number(b.isConcluded),
    );
    const joined = new Set(wires.flatMap(({ from, to }) => [from, to]));
    const alone = [...wiring.roles.keys()].filter((id) => this.#isDrawn(id) && !joined.has(id)).sort();
    const has = (id: string) => (wiring.of.get(id) ?? []).length > 0;
    return {
      bars: [...this.#bars].sort((a, b) => compareText(a.id, b.id)),
      wires,
      without: alone.filter((id) => !has(id)),
      aside: alone.filter(has),
    };
  }
}

function concludedWire({ kind, from, to, labels, through }: Concluded, back?: Concluded): Wire {
  const passed = [...new Set([...through, ...(back?.through ?? [])])]
    .map(designatorOf)
    .sort(compareDesignators);
  const said = [...new Set([...labels, ...(back?.labels ?? [])])].sort(compareText);
  return {
    kind,
    from,
    to,
    of: [],
    label: [...said, `via ${passed.length > MOST_NAMES ? `${passed.length} parts` : passed.join(', ')}`],
    isConcluded: true,
    arrow: kind === 'supply' ? (back ? 'both' : 'end') : 'none',
  };
}

const nameOf = ({ label, id }: Net) => label ?? id;
const volts = (voltage: number | undefined) => (voltage === undefined ? undefined : `${voltage} V`);
const counted = (lines: number) => (lines === 1 ? '1 line' : `${lines} lines`);

/** Buses with their numbers of lines, and names of nets that are of none. */
function labelOf(conductors: readonly Conductor[]): readonly string[] {
  const buses = new Map<string, number>();
  const names: string[] = [];
  let unnamed = 0;
  for (const conductor of conductors) {
    const bus = busOf([conductor]);
    if (bus !== undefined) buses.set(bus, (buses.get(bus) ?? 0) + conductor.lines);
    else if (conductor.label !== undefined) names.push(conductor.label);
    else unnamed += conductor.lines;
  }
  // Beside other lines a bus says how many are its own: "GPIO" over "4 lines" would read as one.
  const isAlone = buses.size === 1 && names.length === 0 && unnamed === 0;
  const ofBuses = [...buses]
    .sort(([a], [b]) => compareText(a, b))
    .map(([bus, lines]) => (lines > 1 || !isAlone ? `${bus}, ${counted(lines)}` : bus));
  const rest = (lines: number) =>
    buses.size === 0 ? counted(lines) : `${lines} other ${lines === 1 ? 'line' : 'lines'}`;
  if (names.length > MOST_NAMES) return [...ofBuses, rest(names.length + unnamed)];
  const isSaid = unnamed > 1 || (unnamed > 0 && buses.size > 0);
  return [...ofBuses, ...names.sort(compareText), ...(isSaid ? [rest(unnamed)] : [])];
}
