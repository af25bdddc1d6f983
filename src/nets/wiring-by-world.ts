import { pinOf } from '../model/ids.ts';
import type { Connection } from '../model/net.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { Played, Thing } from './parts-played.ts';
import { LOAD_RANK, type Role } from './roles.ts';
import type { Sites } from './sites.ts';
import { type Conductor, conductorOf, type Member, type Wiring, withConnections } from './wiring.ts';

/** Which of its alternatives each doubtful component is. */
export type World = ReadonlyMap<Thing, number>;

/** A pin that a net writes: a component, and which of its landings that is. */
interface Slot {
  readonly thing: Thing;
  readonly landing: number;
}

/** Some of the conductors of a specimen, with what is on them. */
interface Part {
  readonly nets: ReadonlySet<number>;
  readonly traced: ReadonlySet<Connection>;
  readonly things: readonly Thing[];
}

/** A conductor that joins doubtful components, and what it has been so far by what those are. */
interface Open {
  readonly at: number;
  readonly doubtful: readonly Thing[];
  readonly known: Map<string | number, Conductor>;
  readonly make: (world: World) => Conductor;
}

/** Everything that is joined where the same connections count and the same connectors meet, for one world after the other. */
interface Joined {
  readonly wiring: Wiring;
  /** Conductors that differ from world to world. */
  readonly open: readonly Open[];
  /** The world that was asked for last, with its conductors: most differ from it in little. */
  last: { readonly world: World; readonly conductors: readonly Conductor[] } | undefined;
}

/** A component with what tells its alternatives apart in some respect. */
interface Told {
  readonly thing: Thing;
  readonly says: readonly string[];
}

/** Wiring of a specimen in one world after the other: what worlds have in common is made once. */
export class WiringByWorld {
  readonly #joined: OpenedSpecimen['joined'];
  readonly #things: readonly Thing[];
  readonly #byId: ReadonlyMap<string, Thing>;
  /** Nets by place, as they are where all components are the first of their alternatives. */
  readonly #nets: readonly Conductor[];
  readonly #open: readonly Open[];
  /** Components by whose alternatives differs which traced connections count and where connectors meet, each with what tells them apart. */
  readonly #joining: readonly Told[];
  /** The same with what nets share. */
  readonly #sharing: readonly Told[];
  readonly #joinedAs = new Map<string, Joined>();

  constructor({ nets, joined }: Pick<OpenedSpecimen, 'nets' | 'joined'>, things: readonly Thing[]) {
    this.#joined = joined;
    this.#things = things;
    this.#byId = new Map(things.map((thing) => [thing.id, thing]));
    const taken = new Map<Thing, number>();
    const slots = nets.map(({ pins }) =>
      pins.flatMap((written): Slot[] => {
        const thing = this.#byId.get(pinOf(written).component);
        if (!thing) return [];
        const landing = taken.get(thing) ?? 0;
        taken.set(thing, landing + 1);
        return [{ thing, landing }];
      }),
    );
    this.#nets = nets.map((net, at) => {
      const members = slots[at].map((slot) => memberAt(slot, 0));
      return conductorOf(net, at, members);
    });
    this.#open = slots.flatMap((own, at) => {
      // Of what is grounded nobody asks for more than that.
      if (nets[at].kind === 'ground') return [];
      const things = own.map(({ thing }) => thing);
      const make = (world: World) => {
        return { ...this.#nets[at], members: own.map((slot) => memberAt(slot, world.get(slot.thing) ?? 0)) };
      };
      return openAt(at, things, make);
    });
    this.#joining = told(things, saysOfJoining({ nets, joined }));
    this.#sharing = told(things, saysOfSharing);
  }

  /** Worlds of which this is the same have the same shared nets. */
  sharingIn(world: World): string {
    return saidIn(world, this.#joining) + saidIn(world, this.#sharing);
  }

  /** A part of the specimen by its conductors, to be asked for in several worlds. @param sites where they are recorded */
  part(sites: Sites, at: Iterable<number>): Part {
    const nets = new Set<number>();
    const traced = new Set<Connection>();
    const ids = new Set<string>();
    for (const one of at) {
      const site = sites.sites[one];
      if (site.traced) traced.add(site.traced);
      else nets.add(one);
      for (const id of site.members) ids.add(id);
    }
    return { nets, traced, things: this.#things.filter(({ id }) => ids.has(id)) };
  }

  /** Wiring in a world. @param part what links are to follow from; everything unless given */
  in(world: World, part?: Part): Wiring {
    const joined = this.#joinedIn(world);
    const conductors = conductorsIn(world, joined);
    const { of, mates } = joined.wiring;
    const here = part
      ? conductors.filter(({ traced }, at) => (traced ? part.traced.has(traced) : part.nets.has(at)))
      : conductors;
    const asNow = ({ id }: Role) => roleIn(world, this.#byId.get(id) as Thing);
    return {
      roles: new Map((part?.things ?? this.#things).map((thing) => [thing.id, roleIn(world, thing)])),
      conductors,
      here,
      of,
      mates: mates.map((mate) => ({ ...mate, ends: [asNow(mate.ends[0]), asNow(mate.ends[1])] })),
    };
  }

  /** What is joined, with the conductors that differ between worlds in which as much is joined. */
  #joinedIn(world: World): Joined {
    const key = saidIn(world, this.#joining);
    let joined = this.#joinedAs.get(key);
    if (!joined) {
      const nets = [...this.#nets];
      for (const open of this.#open) nets[open.at] = conductorIn(world, open);
      const roles = new Map(this.#things.map((thing) => [thing.id, roleIn(world, thing)]));
      const wiring = withConnections(nets, this.#joined, roles);
      const traced = wiring.conductors.slice(nets.length).flatMap((conductor) => {
        const things = conductor.members.map(({ role }) => this.#byId.get(role.id) as Thing);
        const make = (now: World) => {
          const members = conductor.members.map((member, at) => ({
            ...member,
            role: roleIn(now, things[at]),
          }));
          return { ...conductor, members };
        };
        return openAt(conductor.at, things, make);
      });
      joined = { wiring, open: [...this.#open, ...traced], last: undefined };
      this.#joinedAs.set(key, joined);
    }
    return joined;
  }
}

function roleIn(world: World, thing: Thing): Role {
  return thing.played[world.get(thing) ?? 0].role;
}

/** A conductor that joins some things, if any of them is doubtful. */
function openAt(at: number, things: readonly Thing[], make: (world: World) => Conductor): readonly Open[] {
  const isOpen = ({ possible, played }: Thing) => possible.length > 1 || possible[0] !== played[0];
  const doubtful = [...new Set(things.filter(isOpen))];
  return doubtful.length > 0 ? [{ at, doubtful, known: new Map(), make }] : [];
}

function conductorsIn(world: World, joined: Joined): readonly Conductor[] {
  const { last, open, wiring } = joined;
  const conductors = [...(last?.conductors ?? wiring.conductors)];
  const isAsLast = (thing: Thing) => last && roleIn(last.world, thing) === roleIn(world, thing);
  for (const one of open) if (!one.doubtful.every(isAsLast)) conductors[one.at] = conductorIn(world, one);
  joined.last = { world, conductors };
  return conductors;
}

function conductorIn(world: World, { doubtful, known, make }: Open): Conductor {
  let key: string | number = 0;
  if (doubtful.length <= 5)
    for (const thing of doubtful) key = key * MOST_ALTERNATIVES + (world.get(thing) ?? 0);
  else key = doubtful.map((thing) => world.get(thing)).join(' ');
  let conductor = known.get(key);
  if (!conductor) {
    conductor = make(world);
    known.set(key, conductor);
  }
  return conductor;
}

/** Five of this fit a number exactly; a component has far fewer. */
const MOST_ALTERNATIVES = 1024;

function memberAt({ thing, landing }: Slot, alternative: number): Member {
  return thing.played[alternative].landings[landing];
}

/**
 * All of a component that `withConnections` looks at: whether traced connections of it meet in connectors, and whether nets show its
 * traced connections, by themselves or through it.
 */
function saysOfJoining({ nets, joined }: Pick<OpenedSpecimen, 'nets' | 'joined'>) {
  const traced = new Set(joined.flatMap(({ between }) => between));
  const netsOf = new Map<string, number>();
  for (const { kind, pins } of traced.size > 0 ? nets : []) {
    if (kind === 'ground') continue;
    for (const id of new Set(pins.map((pin) => pinOf(pin).component)))
      netsOf.set(id, (netsOf.get(id) ?? 0) + 1);
  }
  return ({ id }: Thing) => {
    const own = netsOf.get(id) ?? 0;
    const isTraced = traced.has(id);
    return ({ role, landings }: Played) => {
      const { isConnector, isTwoEnded, rank } = role;
      let says = '';
      if (isTraced) says += isConnector;
      if (isTraced && isConnector)
        for (const { number, name } of landings) says += JSON.stringify([number, name]);
      if (isTraced && own > 0) says += ` ${isTwoEnded} ${rank === LOAD_RANK}`;
      if (own === 2) says += ` ${isTwoEnded} ${role.is('Inductor')}`;
      return says;
    };
  };
}

/** All of a component that `sharedNetsOf` looks at. */
function saysOfSharing() {
  return ({ role }: Played): string => `${role.isIgnored} ${role.isActive || role.isConnector}`;
}

function told(
  things: readonly Thing[],
  saysOf: (thing: Thing) => (played: Played) => string,
): readonly Told[] {
  return things.flatMap((thing) => {
    const { played, possible } = thing;
    if (possible.length < 2) return [];
    const says = new Map(possible.map((one) => [one, saysOf(thing)(one)]));
    if (new Set(says.values()).size < 2) return [];
    return [{ thing, says: played.map((one) => says.get(one) ?? '') }];
  });
}

function saidIn(world: World, all: readonly Told[]): string {
  let said = '';
  for (const { thing, says } of all) said += `${says[world.get(thing) ?? 0]}|`;
  return said;
}
