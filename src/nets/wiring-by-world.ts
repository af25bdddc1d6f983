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
  readonly nets: readonly number[];
  readonly traced: ReadonlySet<Connection>;
  readonly things: readonly Thing[];
}

/** A net that joins doubtful components, and what it has been so far by what those are. */
interface OpenNet {
  readonly at: number;
  readonly slots: readonly Slot[];
  readonly doubtful: readonly Thing[];
  readonly known: Map<string | number, Conductor>;
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
  readonly #open: readonly OpenNet[];
  /** Components by whose alternatives differs which traced connections count and where connectors meet, each with what tells them apart. */
  readonly #joining: readonly Told[];
  /** The same with what nets share. */
  readonly #sharing: readonly Told[];
  readonly #joinedAs = new Map<string, Wiring>();

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
      const doubtful = [...new Set(own.flatMap(({ thing }) => (thing.mayBe ? [thing] : [])))];
      return doubtful.length > 0 ? [{ at, slots: own, doubtful, known: new Map() }] : [];
    });
    this.#joining = told(things, saysOfJoining);
    this.#sharing = told(things, saysOfSharing);
  }

  /** Worlds of which this is the same have the same shared nets. */
  sharingIn(world: World): string {
    return saidIn(world, this.#joining) + saidIn(world, this.#sharing);
  }

  /** A part of the specimen by its conductors, to be asked for in several worlds. @param sites where they are recorded */
  part(sites: Sites, at: Iterable<number>): Part {
    const nets: number[] = [];
    const traced = new Set<Connection>();
    const ids = new Set<string>();
    for (const one of [...new Set(at)].sort((a, b) => a - b)) {
      const site = sites.sites[one];
      if (site.traced) traced.add(site.traced);
      else nets.push(one);
      for (const id of site.members) ids.add(id);
    }
    return { nets, traced, things: this.#things.filter(({ id }) => ids.has(id)) };
  }

  /** Wiring in a world. @param part what links are to follow from; everything unless given */
  in(world: World, part?: Part): Wiring {
    const nets = [...this.#nets];
    for (const open of this.#open) nets[open.at] = this.#netIn(world, open);
    const roleOf = (thing: Thing) => thing.played[world.get(thing) ?? 0].role;
    const key = saidIn(world, this.#joining);
    let joined = this.#joinedAs.get(key);
    if (!joined) {
      const roles = new Map(this.#things.map((thing) => [thing.id, roleOf(thing)]));
      joined = withConnections(nets, this.#joined, roles);
      this.#joinedAs.set(key, joined);
    }
    const asNow = ({ id }: Role) => roleOf(this.#byId.get(id) as Thing);
    const traced = joined.conductors.slice(nets.length).map((conductor): Conductor => {
      const members = conductor.members.map((member) => ({ ...member, role: asNow(member.role) }));
      return { ...conductor, members };
    });
    const conductors = [...nets, ...traced];
    const here = part
      ? [
          ...part.nets.map((at) => nets[at]),
          ...traced.filter((one) => one.traced && part.traced.has(one.traced)),
        ]
      : conductors;
    return {
      roles: new Map((part?.things ?? this.#things).map((thing) => [thing.id, roleOf(thing)])),
      conductors,
      here,
      of: joined.of,
      mates: joined.mates.map((mate) => ({ ...mate, ends: [asNow(mate.ends[0]), asNow(mate.ends[1])] })),
    };
  }

  #netIn(world: World, { at, slots, doubtful, known }: OpenNet): Conductor {
    let key: string | number = 0;
    if (doubtful.length <= 5)
      for (const thing of doubtful) key = key * MOST_ALTERNATIVES + (world.get(thing) ?? 0);
    else key = doubtful.map((thing) => world.get(thing)).join(' ');
    let net = known.get(key);
    if (!net) {
      net = { ...this.#nets[at], members: slots.map((slot) => memberAt(slot, world.get(slot.thing) ?? 0)) };
      known.set(key, net);
    }
    return net;
  }
}

/** Five of this fit a number exactly; a component has far fewer. */
const MOST_ALTERNATIVES = 1024;

function memberAt({ thing, landing }: Slot, alternative: number): Member {
  return thing.played[alternative].landings[landing];
}

/** All of a component that `withConnections` looks at. */
function saysOfJoining({ role, landings }: Played): string {
  const { isConnector, isTwoEnded, rank } = role;
  const pins = isConnector ? landings.map(({ number, name }) => `${number} ${name}`) : [];
  return JSON.stringify([isConnector, isTwoEnded, rank === LOAD_RANK, role.is('Inductor'), pins]);
}

/** All of a component that `sharedNetsOf` looks at. */
function saysOfSharing({ role }: Played): string {
  return `${role.isIgnored} ${role.isActive || role.isConnector}`;
}

function told(things: readonly Thing[], says: (played: Played) => string): readonly Told[] {
  return things.flatMap((thing) => {
    if (!thing.mayBe) return [];
    const all = thing.played.map(says);
    return new Set(all).size > 1 ? [{ thing, says: all }] : [];
  });
}

function saidIn(world: World, all: readonly Told[]): string {
  let said = '';
  for (const { thing, says } of all) said += `${says[world.get(thing) ?? 0]}|`;
  return said;
}
