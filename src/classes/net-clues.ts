import { CERTAIN, isFitted } from '../model/certainty.ts';
import { resistanceIn } from '../model/component-value.ts';
import { classOf, designatorOf, parseDesignator } from '../model/designator.ts';
import type { Component } from '../model/dossier.ts';
import { pinOf } from '../model/ids.ts';
import type { Net } from '../model/net.ts';
import { valueIn } from '../model/quantity.ts';
import { fallenIn } from '../model/standing.ts';
import { PACKING } from '../model/taxonomy.ts';
import type { Board } from './board.ts';
import { SURROUNDINGS, type Surrounding } from './class-pinouts.ts';
import { Mates } from './mates.ts';
import type { SeenBy } from './numberings.ts';
import { BUS_WORDS, busByLabel, isCellLabel, isOutsideLabel } from './wires.ts';

// What the nets of a specimen say of one of its components: what each pin hangs on. Nets count as recorded. Whoever is not
// certain (0.95) to be of a kind counts as unknown and not by probability: its net then cannot show what does not hang on it.
// A net that is not said to be complete shows what it has and never what it lacks.

/** A pin of a component whose net is recorded. */
export interface CluePin {
  /** Number, place in a grid or name; undefined where it is only known that some pin is on the net. */
  readonly label: string | undefined;
  /** Id of its net; undefined for a pin that is recorded as not connected. */
  readonly net: string | undefined;
  /** What it may hang on; one where that is certain. */
  readonly may: readonly Surrounding[];
  /** Voltage of a supply, V. */
  readonly volts: number | undefined;
}

/** What nets say of one component. */
export interface NetClues {
  readonly pins: readonly CluePin[];
  /** Number of terminals, where known. */
  readonly terminals: number | undefined;
  readonly package: string | undefined;
  readonly seenBy: SeenBy;
  /** Voltage of the supplies that it makes against that of the supplies that it gets, where the nets tell which is which. */
  readonly step?: 'lower' | 'equal' | 'higher' | 'unlike' | undefined;
  /** Components on its nets by local id, and the surroundings of the pin that meets them. */
  readonly met: (component: string) => readonly Surrounding[];
}

/** What a component is to the net of another. */
type Hanging =
  | 'chip'
  | 'capacitor'
  | 'resistor'
  | 'inductor'
  | 'bead'
  | 'crystal'
  | 'antenna'
  | 'coil'
  | 'cell'
  | 'outside'
  | 'connector'
  | 'through'
  | 'test'
  | 'button'
  | 'load'
  | 'source'
  | 'diode'
  | 'nothing'
  | 'unknown';

/** Terms and what they are to a net, the first that holds for certain. A packaged circuit is a chip whatever it does. */
const BY_TERM: readonly (readonly [Hanging, readonly string[]])[] = [
  ['chip', [...PACKING]],
  ['test', ['TestPad', 'ProgrammingContact']],
  ['through', ['SolderBridge', 'FlexConnector', 'BoardToBoardConnector']],
  ['nothing', ['BoardFeature', 'Shield', 'OpticalBarrier', 'Window']],
  ['capacitor', ['Capacitor']],
  ['resistor', ['Resistor']],
  ['inductor', ['Inductor']],
  ['bead', ['FerriteBead', 'Fuse']],
  ['antenna', ['Antenna', 'Balun', 'Filter', 'CoaxialConnector']],
  ['coil', ['Coil']],
  ['crystal', ['Crystal']],
  ['cell', ['Battery']],
  ['outside', ['CableConnector', 'ChargingContact']],
  ['connector', ['Connector']],
  ['button', ['Button']],
  ['chip', ['AddressableLed']],
  ['load', ['Emitter', 'Motor', 'Speaker', 'Buzzer', 'Display']],
  ['source', ['Photodiode', 'Electrode', 'TouchPad', 'Thermistor']],
  ['diode', ['Diode']],
];

/**
 * What class letters of a designator stand for, where nothing else is known of a component (common practice, no source):
 * boards are lettered with care for passives and connectors.
 */
const BY_MEANING: Readonly<Record<string, Hanging>> = {
  capacitor: 'capacitor',
  resistor: 'resistor',
  inductor: 'inductor',
  'ferrite bead': 'bead',
  fuse: 'bead',
  crystal: 'crystal',
  antenna: 'antenna',
  battery: 'cell',
  connector: 'connector',
  'connector, jack': 'connector',
  'connector, plug': 'connector',
  switch: 'button',
  LED: 'load',
  'display, LED': 'load',
  motor: 'load',
  loudspeaker: 'load',
  buzzer: 'load',
  photodiode: 'source',
  thermistor: 'source',
  diode: 'diode',
  'surge protector': 'diode',
  'test point': 'test',
  'solder bridge': 'through',
  jumper: 'through',
  fiducial: 'nothing',
  'mounting hole': 'nothing',
  'integrated circuit': 'chip',
  'voltage regulator': 'chip',
  module: 'chip',
  transistor: 'chip',
};

const BUS_SURROUNDINGS: Readonly<Record<string, Surrounding>> = { ...BUS_WORDS, rf: 'antenna' };

/** No more passives of one net are followed to their other end: what hangs on more is no pin's own surroundings. */
const MAX_FOLLOWED = 48;

interface Conductor {
  readonly net: Net;
  readonly kind: Net['kind'];
  readonly volts: number | undefined;
  /** Each component on it once. */
  readonly members: ReadonlySet<string>;
  /** How many components hang on it as what. */
  readonly counts: Readonly<Partial<Record<Hanging, number>>>;
  readonly isPassive: readonly string[];
  readonly bus: Surrounding | undefined;
}

interface Series {
  readonly inductors: readonly string[];
  readonly bridges: readonly string[];
  readonly makers: readonly string[];
  /** Connectors that bring in nothing but this supply, its ground and at most one line, as the lead of a cell does. */
  readonly leads: readonly string[];
}

interface NetIndex {
  /** Nets of each component, with the label of the pin. */
  readonly of: ReadonlyMap<string, readonly { readonly label: string | undefined; readonly on: Conductor }[]>;
  readonly hanging: (component: string) => Hanging;
  /** Whether it is a resistor of less than an ohm, by its value. */
  readonly isSmall: (component: string) => boolean;
  /** Members of a conductor that certainly are inductors, beads or resistors of nothing, or make supplies. */
  readonly seriesOn: (on: Conductor) => Series;
  /** Conductors that beads, fuses, resistors of nothing and mated connectors make one supply, itself first. */
  readonly oneSupply: (on: Conductor) => readonly Conductor[];
  /** Connectors that a cell or a supply from outside is traced to. */
  readonly broughtTo: ReadonlySet<string>;
  readonly xRays: ReadonlySet<string>;
}

/** Nets of a specimen, sorted once while it stays unpacked. */
const indexes = new WeakMap<Board, NetIndex>();

/**
 * What nets say of a component, or undefined where no net reaches it. A specimen's nets are sorted once, in time linear in
 * their pins; after that a component costs its own pins and what hangs on them.
 * @param seen terminals and package, where observations say more of them than the component does
 */
export function netCluesOf(
  specimen: Board,
  component: Component,
  seen: Pick<Component, 'pins' | 'package'> = component,
): NetClues | undefined {
  if (specimen.nets.length === 0) return undefined;
  const index = indexOf(specimen);
  const places = index.of.get(component.id);
  if (!places) return undefined;
  const numbers = new Map(
    (component.pinout ?? []).flatMap(({ number, name }) => (number && name ? [[name, number] as const] : [])),
  );
  const pins: CluePin[] = [];
  const told = new Set<string>();
  const byNet = new Map<string, readonly Surrounding[]>();
  for (const { label: written, on } of places) {
    const label = written === undefined ? undefined : (numbers.get(written) ?? written);
    if (label !== undefined) {
      if (told.has(label)) continue;
      told.add(label);
    }
    let may = byNet.get(on.net.id);
    if (!may) {
      may = surroundingsOf(component.id, on, index);
      byNet.set(on.net.id, may);
    }
    pins.push({ label, net: on.net.id, may, volts: on.volts });
  }
  for (const { number, name, direction } of component.pinout ?? []) {
    const label = number ?? name;
    if (direction !== 'not-connected' || label === undefined || told.has(label)) continue;
    pins.push({ label, net: undefined, may: ['unconnected'], volts: undefined });
  }
  return {
    pins,
    terminals: seen.pins ?? component.pinout?.length,
    package: seen.package,
    seenBy: places.some(({ on }) => on.net.basis.some((id) => index.xRays.has(id))) ? 'x-ray' : 'numbered',
    step: stepOf(component.id, index),
    met: (other) =>
      places.flatMap(({ on }) =>
        on.kind !== 'ground' && on.members.has(other) ? (byNet.get(on.net.id) ?? []) : [],
      ),
  };
}

function indexOf(specimen: Board): NetIndex {
  let index = indexes.get(specimen);
  if (!index) {
    index = indexed(specimen);
    indexes.set(specimen, index);
  }
  return index;
}

function indexed(specimen: Board): NetIndex {
  const known = new Map<string, Hanging>();
  const hanging = (id: string): Hanging => {
    let is = known.get(id);
    if (is === undefined) {
      is = hangingOf(specimen, id);
      known.set(id, is);
    }
    return is;
  };
  const of = new Map<string, { label: string | undefined; on: Conductor }[]>();
  const conductors = new Map<Net, Conductor>();
  for (const net of specimen.nets) {
    // Pins of places that are empty join nothing.
    const pins = net.pins.map(pinOf).filter(({ component }) => {
      const placed = specimen.components.get(component);
      return placed !== undefined && isFitted(placed);
    });
    const members = new Set(pins.map(({ component }) => component));
    const counts: Partial<Record<Hanging, number>> = {};
    for (const id of members) counts[hanging(id)] = (counts[hanging(id)] ?? 0) + 1;
    const on: Conductor = {
      net,
      kind: net.kind,
      volts: net.voltage && valueIn(net.voltage, 'V'),
      members,
      counts,
      isPassive:
        net.kind === 'signal'
          ? [...members].filter((id) => PASSIVE.has(hanging(id))).slice(0, MAX_FOLLOWED)
          : [],
      bus: busOf(net),
    };
    conductors.set(net, on);
    for (const { component, pin } of pins) {
      const own = of.get(component);
      if (own) own.push({ label: pin, on });
      else of.set(component, [{ label: pin, on }]);
    }
  }
  const fallen = fallenIn(specimen.dossier.observations);
  const xRays = specimen.dossier.observations.flatMap(({ id, kind }) =>
    kind === 'x-ray' && !fallen.has(id) ? [id] : [],
  );
  const isSmall = (id: string) => {
    const ohms = resistanceIn(specimen.components.get(id)?.value);
    return ohms !== undefined && ohms > 0 && ohms < 1;
  };
  const isBridge = (id: string) => {
    if (hanging(id) === 'bead') return true;
    const ohms = hanging(id) === 'resistor' ? resistanceIn(specimen.components.get(id)?.value) : undefined;
    return ohms !== undefined && ohms < 1;
  };
  const makesSupplies = (id: string) =>
    MAKERS.some((term) => (specimen.named.get(id)?.get(term) ?? 0) >= CERTAIN);
  const series = new Map<Conductor, Series>();
  const seriesOn = (on: Conductor): Series => {
    let found = series.get(on);
    if (!found) {
      const members = [...on.members];
      const first = (is: (id: string) => boolean) => members.filter(is).slice(0, MAX_FOLLOWED);
      found = {
        inductors: first((id) => hanging(id) === 'inductor'),
        bridges: first(isBridge),
        makers: first(makesSupplies),
        leads: first((id) => isLead(id, of, hanging)),
      };
      series.set(on, found);
    }
    return found;
  };
  const mates = new Mates(specimen);
  const supplies = new Map<Conductor, readonly Conductor[]>();
  const oneSupply = (on: Conductor): readonly Conductor[] => {
    let found = supplies.get(on);
    if (!found) {
      const reached = new Set([on]);
      for (const one of reached) {
        if (reached.size > MAX_FOLLOWED) break;
        for (const bridge of seriesOn(one).bridges)
          for (const { on: far } of of.get(bridge) ?? []) if (far.kind === 'power') reached.add(far);
        for (const net of mates.of(one.net)) {
          const far = conductors.get(net);
          if (far?.kind === 'power') reached.add(far);
        }
      }
      found = [...reached];
      supplies.set(on, found);
    }
    return found;
  };
  const broughtTo = new Set(
    specimen.joined.flatMap(({ between: [a, b], bus }) => {
      const ends = [
        [a, b],
        [b, a],
      ];
      return ends.flatMap(([from, to]) =>
        (hanging(from) === 'cell' || (hanging(from) === 'outside' && bus === 'power')) &&
        isLead(to, of, hanging)
          ? [to]
          : [],
      );
    }),
  );
  return { of, hanging, isSmall, seriesOn, oneSupply, broughtTo, xRays: new Set(xRays) };
}

/** Whether a connector joins one supply, ground and at most one line more. */
function isLead(id: string, of: NetIndex['of'], hanging: NetIndex['hanging']): boolean {
  const is = hanging(id);
  if (is !== 'connector' && is !== 'through') return false;
  const on = new Set((of.get(id) ?? []).map((place) => place.on));
  const count = (kind: Net['kind']) => [...on].filter((one) => one.kind === kind).length;
  return count('power') === 1 && count('ground') > 0 && count('signal') <= 1;
}

const PASSIVE: ReadonlySet<Hanging> = new Set(['capacitor', 'resistor', 'bead']);

function busOf({ kind, bus, label }: Net): Surrounding | undefined {
  if (kind !== 'signal') return undefined;
  const known = bus && BUS_SURROUNDINGS[bus];
  if (known || label === undefined) return known;
  return busByLabel(label);
}

function hangingOf(specimen: Board, id: string): Hanging {
  const weights = specimen.named.get(id);
  const isCertain = (term: string) => (weights?.get(term) ?? 0) >= CERTAIN;
  const found = BY_TERM.find(([, terms]) => terms.some(isCertain));
  if (found) return found[0];
  for (const [term, weight] of weights ?? [])
    if (weight >= CERTAIN && term !== 'Component' && term !== 'Passive') return 'chip';
  const letters = parseDesignator(designatorOf(id))?.letters;
  const meaning = letters === undefined ? undefined : classOf(letters)?.meaning;
  const lettered = meaning === undefined ? undefined : BY_MEANING[meaning];
  // A chip is a chip whichever it is; of anything else somebody has doubts where there are candidates.
  return lettered === 'chip' || !specimen.identified.has(id) ? (lettered ?? 'unknown') : 'unknown';
}

/** Surroundings of a signal that may be anything, but no supply and not ground. */
const SOME_SIGNAL = SURROUNDINGS.filter(
  (one) => !['ground', 'rail', 'battery', 'outside-supply', 'unconnected'].includes(one),
);

/** What a pin of a component may hang on, by its net and what else hangs there. */
function surroundingsOf(id: string, on: Conductor, index: NetIndex): readonly Surrounding[] {
  const { net, kind, counts } = on;
  const own = index.hanging(id);
  const has = (...kinds: readonly Hanging[]) =>
    kinds.some((one) => (counts[one] ?? 0) > (one === own ? 1 : 0));
  const isComplete = net.complete === true && !has('unknown');
  if (kind === 'ground') return ['ground'];
  if (kind === 'power') {
    // Where an inductor switches there is no capacitor to hold the voltage.
    const isNode = isComplete && has('inductor') && !has('cell', 'outside') && !counts.capacitor;
    return isNode && !isCellLabel(net.label) && !isOutsideLabel(net.label)
      ? [switchNodeOf(id, on, index)]
      : supplyOf(on, has, isComplete);
  }
  if (has('antenna')) return ['antenna'];
  if (has('coil')) return ['coil'];
  if (has('crystal')) return ['crystal'];
  if (has('inductor')) return [switchNodeOf(id, on, index)];
  if (on.bus) return [on.bus];
  const ends = endsOf(id, on, index);
  // A capacitor beside a resistor of the same two pins steadies an amplifier.
  if (ends.ownByResistor) return ['feedback'];
  // A capacitor in series tunes a coil.
  if (ends.coil) return ['coil'];
  if (ends.ownByCapacitor) return ['fly-capacitor'];
  if (has('source')) return ['analogue-source'];
  if (has('load')) return ['load'];
  if (has('button')) return ['button'];
  if (ends.small) return ['sense-resistor'];
  if (has('connector', 'outside')) return ['connector'];
  if (has('chip', 'through')) return ['signal'];
  if (ends.toGround && (ends.toSupply || ends.toSignal)) return ['divider'];
  if (!isComplete) return on.members.size > 1 ? SOME_SIGNAL : [...SOME_SIGNAL, 'unconnected'];
  if (ends.toGround) return ['resistor-to-ground'];
  if (ends.toSupply) return ['pull-up'];
  if (ends.toSignal || has('diode', 'bead')) return ['signal'];
  if (has('capacitor')) return [ends.capacitorToSignal ? 'signal' : 'capacitor'];
  return [has('test') ? 'connector' : 'unconnected'];
}

function supplyOf(
  { net: { label } }: Conductor,
  has: (...kinds: readonly Hanging[]) => boolean,
  isComplete: boolean,
): readonly Surrounding[] {
  if (has('cell') || isCellLabel(label)) return ['battery'];
  if (has('outside') || isOutsideLabel(label)) return ['outside-supply'];
  return isComplete || label !== undefined ? ['rail'] : ['rail', 'battery', 'outside-supply'];
}

/** Kinds that make a supply for others. */
const MAKERS = ['Regulator', 'Charger', 'PowerManagement', 'WirelessPowerReceiver', 'PowerMultiplexer'];

/** Conductors behind the inductors on a conductor, and behind a bead or a resistor of nothing in series with them. */
function behindInductors(on: Conductor, index: NetIndex): readonly Conductor[] {
  const past = (from: Conductor, parts: readonly string[]) =>
    parts.flatMap((part) =>
      (index.of.get(part) ?? []).flatMap(({ on: far }) =>
        far === from || far.kind === 'ground' ? [] : [far],
      ),
    );
  const first = past(on, index.seriesOn(on).inductors);
  const second = first.flatMap((one) => past(one, index.seriesOn(one).bridges).filter((far) => far !== on));
  return [...first, ...second];
}

/**
 * Whether a supply plainly comes from the cell or from outside, or perhaps from another chip that makes supplies or over a lead that
 * brings in nothing else.
 */
function isSupplied(id: string, on: Conductor, index: NetIndex): 'plainly' | 'perhaps' | undefined {
  const supply = index.oneSupply(on);
  const comesIn = ({ net: { label }, counts }: Conductor) =>
    counts.cell || counts.outside || isCellLabel(label) || isOutsideLabel(label);
  const series = supply.map(index.seriesOn);
  const isBrought = ({ leads }: Series) => leads.some((one) => index.broughtTo.has(one));
  if (supply.some(comesIn) || series.some(isBrought)) return 'plainly';
  const volts = voltsOf(on, index);
  // What makes a lower voltage from this supply is a load of it.
  const isLoad = (one: string) =>
    (index.of.get(one) ?? []).some(
      ({ on: other }) =>
        other.volts !== undefined && volts !== undefined && other.kind === 'power' && other.volts < volts,
    );
  const brings = ({ makers, leads }: Series) =>
    leads.length > 0 || makers.some((one) => one !== id && !isLoad(one));
  return series.some(brings) ? 'perhaps' : undefined;
}

/** Voltage of a supply, there or where it goes on. */
function voltsOf(on: Conductor, index: NetIndex): number | undefined {
  return on.volts ?? index.oneSupply(on).find(({ volts }) => volts !== undefined)?.volts;
}

/** Supplies of a component and those behind its inductors, with whether something else makes them. */
function railsOf(id: string, index: NetIndex) {
  const own = (index.of.get(id) ?? []).map(({ on }) => on);
  const isNode = ({ kind, counts }: Conductor) =>
    counts.inductor !== undefined && (kind === 'signal' || (kind === 'power' && !counts.capacitor));
  const rails = new Set(
    own
      .flatMap((on) => (isNode(on) ? behindInductors(on, index) : [on]))
      .filter(({ kind }) => kind === 'power'),
  );
  const all = [...rails].map((on) => ({ on, supplied: isSupplied(id, on, index) }));
  // What perhaps is another's output may as well be its input: that counts where the others can be nobody else's.
  const best = all.some(({ supplied }) => supplied === 'plainly') ? 'plainly' : 'perhaps';
  const got = all.filter(({ supplied }) => supplied === best).map(({ on }) => on);
  const made = all.filter(({ supplied }) => supplied === undefined || supplied !== best).map(({ on }) => on);
  return { got, made };
}

/** An inductor at a pin: from a supply that something else makes, as ahead of a step-up, or to anywhere else. */
function switchNodeOf(id: string, on: Conductor, index: NetIndex): Surrounding {
  const { got, made } = railsOf(id, index);
  const isFrom = behindInductors(on, index).some((far) => got.includes(far));
  return isFrom && made.length > 0 ? 'supplied-inductor' : 'switch-node';
}

/** Voltages further apart than this are unlike: cells are recorded at their nominal voltage (chosen). */
const SAME_VOLTS = 0.02;

function stepOf(id: string, index: NetIndex): NetClues['step'] {
  const { got, made } = railsOf(id, index);
  const [from, to] = [got, made].map((rails) => rails.flatMap((on) => voltsOf(on, index) ?? []));
  if (to.length === 0) return undefined;
  // Whoever writes a voltage at one supply and none at the cell's has two unlike ones in mind: a cell has a range.
  if (from.length === 0)
    return got.length > 0 && to.length === made.length && got.every((on) => isOfCell(on, index))
      ? 'unlike'
      : undefined;
  if (Math.min(...to) > Math.max(...from) * (1 + SAME_VOLTS)) return 'higher';
  if (Math.max(...to) < Math.min(...from) * (1 - SAME_VOLTS)) return 'lower';
  return to.length === 1 && from.length === 1 ? 'equal' : undefined;
}

/** Whether a supply is the cell's own: it hangs on it, behind a connector too, or is named after it. */
function isOfCell(on: Conductor, index: NetIndex): boolean {
  return index
    .oneSupply(on)
    .some(
      ({ net: { label }, counts }) =>
        counts.cell !== undefined || (isCellLabel(label) && !isOutsideLabel(label)),
    );
}

interface Ends {
  /** Another net of the same component at the other end of a capacitor, or of a resistor. */
  readonly ownByCapacitor: boolean;
  readonly ownByResistor: boolean;
  /** Resistors to ground, to a supply, to another signal. */
  readonly toGround: boolean;
  readonly toSupply: boolean;
  readonly toSignal: boolean;
  readonly capacitorToSignal: boolean;
  /** A capacitor to a net with a coil. */
  readonly coil: boolean;
  /** A resistor of less than an ohm. */
  readonly small: boolean;
}

/** Where the passives of a net lead. */
function endsOf(id: string, on: Conductor, index: NetIndex): Ends {
  const ends = {
    ownByCapacitor: false,
    ownByResistor: false,
    toGround: false,
    toSupply: false,
    toSignal: false,
    capacitorToSignal: false,
    coil: false,
    small: false,
  };
  for (const passive of on.isPassive) {
    if (passive === id) continue;
    const is = index.hanging(passive);
    for (const { on: far } of index.of.get(passive) ?? []) {
      if (far === on) continue;
      const isOwn = far.kind !== 'ground' && far.members.has(id);
      if (is === 'capacitor') {
        if (far.kind === 'signal' && far.counts.coil) ends.coil = true;
        if (isOwn && far.kind === 'signal') ends.ownByCapacitor = true;
        else if (far.kind !== 'ground') ends.capacitorToSignal ||= far.kind === 'signal';
      } else if (is === 'resistor') {
        ends.small ||= index.isSmall(passive);
        if (isOwn && far.kind === 'signal') ends.ownByResistor = true;
        if (far.kind === 'ground') ends.toGround = true;
        else if (far.kind === 'power') ends.toSupply = true;
        else ends.toSignal = true;
      }
    }
  }
  return ends;
}
