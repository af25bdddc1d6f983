import { pinOf } from '../model/ids.ts';
import type { Connection } from '../model/net.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { Played, Thing } from './parts-played.ts';
import { LOAD_RANK } from './roles.ts';
import { isElectrical } from './wiring.ts';

// Nets and traced connections as recorded, and what of them hangs together whatever doubtful components turn out to be.

/** A conductor as recorded: a net, or a traced connection, whether nets show it or not. */
interface Site {
  /** The connection, if it is one. */
  readonly traced: Connection | undefined;
  readonly kind: 'power' | 'ground' | 'signal';
  readonly members: readonly string[];
  readonly isTrace: boolean;
  /** Id of the net. */
  readonly net: string | undefined;
  readonly label: string | undefined;
  readonly bus: string | undefined;
  readonly lines: number;
}

/** Two components that may be connectors which meet. */
interface Meeting {
  readonly ends: readonly [string, string];
  readonly pins: readonly (readonly [string, string])[];
}

/** Everything that is needed to say what hangs together. */
export class Sites {
  readonly sites: readonly Site[];
  readonly things: ReadonlyMap<string, Thing>;
  /** Places of each component, each once. */
  readonly of = new Map<string, number[]>();
  readonly meetings: readonly Meeting[];
  readonly traces: Traces;
  readonly hasTracedPower: boolean;
  /** Components whose place along a supply matters: those at traced supplies, and at what meets these in connectors. */
  readonly ranked: ReadonlySet<string>;

  constructor(specimen: Pick<OpenedSpecimen, 'nets' | 'joined'>, things: readonly Thing[]) {
    this.things = new Map(things.map((thing) => [thing.id, thing]));
    const sites: Site[] = specimen.nets.map(({ id, kind, pins, label, bus }) => ({
      kind,
      members: [...new Set(pins.map((pin) => pinOf(pin).component))].filter((id) => this.things.has(id)),
      isTrace: false,
      traced: undefined,
      net: id,
      label,
      bus,
      lines: 1,
    }));
    const meetings: Meeting[] = [];
    for (const connection of specimen.joined) {
      const { between, medium, bus, lines = 1, pins = [] } = connection;
      if (!isElectrical(medium)) continue;
      const [a, b] = between;
      if (!this.things.has(a) || !this.things.has(b)) continue;
      const areConnectors = [a, b].map((id) => this.those(id, ({ role }) => role.isConnector));
      if (areConnectors.every(({ may }) => may)) meetings.push({ ends: [a, b], pins });
      if (!areConnectors.every(({ must }) => must))
        sites.push({
          kind: bus === 'power' ? 'power' : 'signal',
          members: [a, b],
          isTrace: true,
          traced: connection,
          net: undefined,
          label: undefined,
          bus,
          lines,
        });
    }
    this.sites = sites;
    this.meetings = meetings;
    sites.forEach(({ members }, at) => {
      for (const id of members) {
        const own = this.of.get(id);
        if (own) own.push(at);
        else this.of.set(id, [at]);
      }
    });
    this.traces = new Traces(this);
    this.hasTracedPower = [...sites.keys()].some((at) => this.isTracedPower(at));
    this.ranked = new Set(
      [
        ...[...sites.keys()].filter((at) => this.isTracedPower(at)),
        ...meetings.flatMap((meeting) =>
          this.pairsOf(meeting).flatMap((pair) => (pair.some((at) => this.isTracedPower(at)) ? pair : [])),
        ),
      ].flatMap((at) => sites[at].members),
    );
  }

  /** Whether something is true of a component under some alternative, and under all. */
  those(id: string, holds: (played: Played) => boolean): { readonly may: boolean; readonly must: boolean } {
    const thing = this.things.get(id);
    let [may, must] = [false, true];
    for (const one of thing?.possible ?? []) {
      if (holds(one)) may = true;
      else must = false;
    }
    return { may, must };
  }

  may(id: string, holds: (played: Played) => boolean): boolean {
    return this.things.get(id)?.possible.some(holds) ?? false;
  }

  at(id: string, kind?: Site['kind']): readonly number[] {
    const own = this.of.get(id) ?? [];
    return kind === undefined ? own : own.filter((at) => this.sites[at].kind === kind);
  }

  /** Whether a conductor is a traced supply that counts as one in some world. */
  isTracedPower(at: number): boolean {
    return this.sites[at].isTrace && this.sites[at].kind === 'power' && !this.traces.shown.has(at);
  }

  /** Whether something is a connector for sure, and meets another one for sure. */
  isMated(id: string): boolean {
    return this.meetings.some((meeting) => meeting.ends.includes(id) && this.isSure(meeting));
  }

  /** Whether two components are connectors for sure, and what is on their pins is sure too. */
  isSure({ ends }: Meeting): boolean {
    return ends.every(
      (id) =>
        this.those(id, ({ role }) => role.isConnector).must &&
        new Set(
          this.things
            .get(id)
            ?.played.map(({ landings }) => landings.map(({ name, number }) => `${number} ${name}`).join()),
        ).size === 1,
    );
  }

  /** Pairs of conductors that may meet in two connectors, whatever these are. */
  pairsOf({ ends, pins }: Meeting): readonly (readonly [number, number])[] {
    const [first, second] = ends.map((id) => this.at(id));
    if (pins.length > 0) {
      const at = (id: string, pin: string) => {
        const nets = this.things
          .get(id)
          ?.played.flatMap(({ landings }) =>
            landings.flatMap(({ net, number, name }) => (number === pin || name === pin ? [net.id] : [])),
          );
        return this.at(id).filter((one) => nets?.includes(this.sites[one].net ?? ''));
      };
      return pins.flatMap(([one, other]) =>
        at(ends[0], one).flatMap((a) => at(ends[1], other).map((b) => [a, b] as const)),
      );
    }
    return first.flatMap((a) => {
      const one = this.sites[a];
      return second.flatMap((b) => {
        const other = this.sites[b];
        const isOneName = one.label !== undefined && one.label === other.label;
        const meets = isOneName || ((one.isTrace || other.isTrace) && one.kind === other.kind);
        return meets && a !== b ? [[a, b] as const] : [];
      });
    });
  }
}

/** Places that hang together (Galler & Fischer, CACM 7, 1964). */
export class Union {
  readonly #parent: number[];
  constructor(size: number) {
    this.#parent = Array.from({ length: size }, (_, at) => at);
  }
  root(at: number): number {
    while (this.#parent[at] !== at) {
      this.#parent[at] = this.#parent[this.#parent[at]];
      at = this.#parent[at];
    }
    return at;
  }
  join(all: readonly number[]): void {
    for (const one of all.slice(1)) this.#parent[this.root(one)] = this.root(all[0]);
  }
}

/** Joins what goes on in mated connectors. */
export function joinMates(sites: Sites, union: Union): void {
  for (const meeting of sites.meetings) {
    for (const pair of sites.pairsOf(meeting)) {
      const [a, b] = pair.map((at) => sites.sites[at]);
      if ((a.kind === b.kind && a.kind !== 'ground') || a.isTrace || b.isTrace) union.join(pair);
    }
  }
}

/** Conductors that a component counts: those that are there, and whether there may be more. */
interface Own {
  readonly all: readonly number[];
  readonly isOpen: boolean;
}

/**
 * Whether a traced connection counts depends on whether nets join its ends anyway: through parts with two ends and connectors.
 * Says which are there or not for sure, and joins what decides about the others.
 */
class Traces {
  readonly #sites: Sites;
  /** Traced connections that nets show in every world. */
  readonly shown = new Set<number>();
  /** Those that they may show, and what decides about it. */
  readonly open = new Map<number, readonly number[]>();

  constructor(sites: Sites) {
    this.#sites = sites;
    const [may, must] = [false, true].map((isSure) => this.#hanging(isSure));
    const byRoot = Map.groupBy(sites.sites.keys(), (at) => may.root(at));
    sites.sites.forEach((site, at) => {
      if (!site.isTrace) return;
      const shared = this.#shared(site, may, false);
      if (shared.size === 0) return;
      // Nets that hang together for sure, as many as no world makes one.
      const sure = new Set([...this.#shared(site, must, true)].map((root) => may.root(root)));
      if (sure.size >= site.lines) this.shown.add(at);
      else
        this.open.set(
          at,
          [...shared].flatMap((root) => byRoot.get(root) ?? []),
        );
    });
  }

  own(id: string): Own {
    const all = this.#sites.at(id).filter((at) => !this.shown.has(at));
    return { all, isOpen: all.some((at) => this.open.has(at)) };
  }

  join(union: Union): void {
    for (const [at, deciding] of this.open) {
      union.join([at, ...deciding]);
      // What counts its conductors goes on or not by whether this is one.
      for (const id of this.#sites.sites[at].members)
        if (this.#sites.may(id, ({ role }) => role.isTwoEnded || role.passesLines || role.is('Transistor')))
          union.join(this.#sites.at(id));
    }
  }

  #hanging(isSure: boolean): Union {
    const sites = this.#sites;
    const union = new Union(sites.sites.length);
    for (const id of sites.of.keys()) {
      const nets = sites.at(id).filter((at) => !sites.sites[at].isTrace && sites.sites[at].kind !== 'ground');
      if (nets.length !== 2) continue;
      const isOneKind = sites.sites[nets[0]].kind === sites.sites[nets[1]].kind;
      const { may, must } = sites.those(
        id,
        ({ role }) => role.isTwoEnded && (isOneKind || role.is('Inductor')),
      );
      if (isSure ? must : may) union.join(nets);
    }
    for (const meeting of sites.meetings) {
      if (isSure && !sites.isSure(meeting)) continue;
      for (const [a, b] of sites.pairsOf(meeting))
        if (!sites.sites[a].isTrace && !sites.sites[b].isTrace) union.join([a, b]);
    }
    return union;
  }

  /** Roots of nets that both ends are on and that count for the trace. */
  #shared(site: Site, union: Union, isSure: boolean): ReadonlySet<number> {
    const [first, second] = site.members.map((id) => {
      const fits = (at: number) => {
        const { kind, isTrace, bus, net } = this.#sites.sites[at];
        if (isTrace || kind === 'ground') return false;
        if (!isSure) return true;
        if (site.kind === 'power')
          return this.#sites.those(
            id,
            ({ role, landings }) =>
              role.rank === LOAD_RANK ||
              role.isConnector ||
              !landings.some(
                (pin) => pin.net.id === net && pin.number === undefined && pin.name === undefined,
              ),
          ).must;
        return kind === 'signal' && (site.bus === undefined || (bus ?? site.bus) === site.bus);
      };
      return new Set(this.#sites.at(id).flatMap((at) => (fits(at) ? [union.root(at)] : [])));
    });
    return new Set([...first].filter((root) => second.has(root)));
  }
}
