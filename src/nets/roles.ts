import type { Component } from '../model/dossier.ts';
import { isUnder, lineage, mostSpecific } from '../model/taxonomy.ts';
import { type LabelWeights, POSSIBLE } from '../state/labels.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';

// What a component does to the nets it is on. A component is what it more likely than not is (0.5 and above); as a source of
// a supply it also counts for what it may be, since a pattern asks for its label anyway and weighs that.

const LIKELY = 0.5;

/** Terms that decide whether and how a component passes a signal or a supply on. */
export const PASSING_TERMS = [
  'Resistor',
  'Capacitor',
  'Inductor',
  'FerriteBead',
  'Fuse',
  'Filter',
  'SolderBridge',
  'SlideSwitch',
  'Diode',
  'SurgeProtector',
  'Transistor',
  'Connector',
  'LevelShifter',
  'AnalogueSwitch',
  'Logic',
  'Balun',
  'PowerMultiplexer',
  'PortExpander',
  'ProgrammableLogic',
] as const;

/** Every term that anything asks of a role: two kinds of component that differ in none of them play the same part. */
export const ROLE_TERMS = [
  ...PASSING_TERMS,
  'Passive',
  'Battery',
  'Coil',
  'Charger',
  'PowerManagement',
  'FuelGauge',
  'ProgrammingContact',
  'ChargingContact',
  'CableConnector',
  'TransistorArray',
  'FrequencyReference',
  'SensorHub',
  'AnalogueFrontEnd',
  'Memory',
  'Antenna',
  'Radio',
  'RadioFrontEnd',
  'CoaxialConnector',
  'Sensor',
  'InterfaceBridge',
  'SecureElement',
  'EmitterDriver',
  'HapticDriver',
  'DisplayDriver',
] as const;
/** What drawings ask besides. */
type DrawnTerm = 'Button';
export type RoleTerm = (typeof ROLE_TERMS)[number] | DrawnTerm;

/** Makers of a supply and what a supply of theirs is called in FEEDS, the first that fits. */
const SUPPLIES = [
  ['BuckBoostConverter', 'buck-boost'],
  ['BoostConverter', 'boost'],
  ['BuckConverter', 'buck'],
  ['ChargePump', 'charge-pump'],
  ['LinearRegulator', 'linear'],
  ['VoltageReference', 'reference'],
  ['Regulator', 'regulator'],
  ['LoadSwitch', 'switch'],
  ['PowerMultiplexer', 'multiplexer'],
  ['WirelessPowerReceiver', 'receiver'],
  ['PushButtonController', 'switch'],
  ['Charger', 'charger'],
  ['PowerManagement', 'regulator'],
] as const satisfies readonly (readonly [string, string])[];

/** How a load gets its supply. */
export type SupplyKind = (typeof SUPPLIES)[number][1] | 'cell' | 'connector' | 'transistor';

/** Order along a supply, from outside to the load, for connections that were traced without pins: the lower feeds the higher. */
const RANKS: readonly (readonly [rank: number, terms: readonly string[]])[] = [
  [0, ['CableConnector', 'ChargingContact', 'Coil', 'WirelessPowerReceiver']],
  [1, ['Charger']],
  [2, ['Battery']],
  [3, ['PowerManagement', 'PowerMultiplexer', 'PushButtonController']],
  [4, ['Regulator']],
  [5, ['LoadSwitch', 'VoltageReference']],
];
/** Neither source nor switch. */
export const LOAD_RANK = 9;

const IGNORED = ['BoardFeature', 'Shield', 'OpticalBarrier', 'Window'];
const TWO_ENDED = ['Resistor', 'Capacitor', 'Inductor', 'FerriteBead', 'Fuse', 'Filter', 'SolderBridge'];
const LINE_PASSING = [
  'LevelShifter',
  'AnalogueSwitch',
  'Logic',
  'SurgeProtector',
  'Filter',
  'Balun',
  'PowerMultiplexer',
];
/** Logic that is an end of its own: a line does not simply come out again. */
const NOT_PASSING = ['PortExpander', 'ProgrammableLogic'];
/** Things on a rail that draw nothing from it; a transistor passes it on. */
const NO_LOADS = ['Button', 'Crystal', 'Antenna', 'Coil', 'Electrode', 'TouchPad', 'Transistor'];
/** What says nothing over a bus, whatever a pin at the other end is called. */
const MUTE = [
  ...['Antenna', 'Coil', 'RadioFrontEnd', 'Electrode', 'Photodiode', 'Emitter', 'Motor', 'Speaker', 'Buzzer'],
  ...['TouchPad', 'Button', 'Crystal', 'Battery', 'Transistor'],
];
const OUTSIDE = ['CableConnector', 'ChargingContact'];

/** What a component does to the nets it is on. */
export interface Role {
  readonly id: string;
  readonly board: string | undefined;
  /** Whether it more likely than not is of a term. */
  readonly is: (term: RoleTerm) => boolean;
  /** Whether it may be of a term: for what its pins are for. */
  readonly may: (term: string) => boolean;
  /** Plays no part: a hole, a pad, a can. */
  readonly isIgnored: boolean;
  /** A lone resistor, capacitor, bead and the like: passes between its two nets. */
  readonly isTwoEnded: boolean;
  /** Lines go in on one pin and out on another: level shifters, switches, protectors, filters. */
  readonly passesLines: boolean;
  readonly isConnector: boolean;
  /** Meets the world outside the device. */
  readonly isOutside: boolean;
  /** Uses or gives signals: neither passive, nor connector, nor ignored. */
  readonly isActive: boolean;
  readonly isProcessor: boolean;
  /** Whether it may draw from a rail: not a lone button, crystal, antenna and the like. */
  readonly draws: boolean;
  /** Whether it may take part in a bus: not a lone antenna, coil, electrode, button and the like. */
  readonly speaks: boolean;
  /** What kinds of supply it makes; empty for others. */
  readonly supplies: readonly SupplyKind[];
  /** Place along a supply, {@link LOAD_RANK} for a load; and the place of what it may be. */
  readonly rank: number;
  readonly mayRank: number;
}

/** The parts that the components of a specimen play, without places that are empty. */
export function rolesOf({
  fitted,
  labels,
}: Pick<OpenedSpecimen, 'labels'> & {
  readonly fitted: readonly Pick<Component, 'id' | 'board'>[];
}): ReadonlyMap<string, Role> {
  const roles = new Map<string, Role>();
  for (const { id, board } of fitted) {
    const weights: LabelWeights = labels.get(id) ?? new Map();
    const is = (term: string) => (weights.get(term) ?? 0) >= LIKELY;
    const may = (term: string) => (weights.get(term) ?? 0) >= POSSIBLE;
    const isIgnored = IGNORED.some(is);
    const isConnector = is('Connector');
    const isDiode = is('Diode');
    const isPassive = is('Passive');
    // A chip of two functions makes both kinds of supply, and the wider term says nothing beside the narrower.
    const made = SUPPLIES.filter(([term]) => may(term));
    const supplies = made.filter(
      ([term]) => !made.some(([other]) => other !== term && lineage(other).includes(term)),
    );
    roles.set(id, {
      id,
      board,
      is,
      may,
      isIgnored,
      isTwoEnded: TWO_ENDED.some(is),
      passesLines: LINE_PASSING.some(is) && !NOT_PASSING.some(is),
      isConnector,
      isOutside: OUTSIDE.some(is),
      isActive: !isIgnored && !isConnector && !isPassive && !isDiode,
      isProcessor: is('Processor'),
      draws: isMoreThan(NO_LOADS, weights) || is('TransistorArray'),
      speaks: isMoreThan(MUTE, weights),
      supplies: supplies.map(([, kind]) => kind),
      rank: rankOf(is),
      mayRank: rankOf(may),
    });
  }
  return roles;
}

/** Whether a component is something besides these terms: a chip with a crystal inside is more than a crystal. */
function isMoreThan(terms: readonly string[], weights: LabelWeights): boolean {
  const likely = mostSpecific([...weights.keys()].filter((term) => (weights.get(term) ?? 0) >= LIKELY));
  return likely.some((term) => !terms.some((other) => isUnder(term, other)));
}

function rankOf(has: (term: string) => boolean): number {
  return RANKS.find(([, terms]) => terms.some(has))?.[0] ?? LOAD_RANK;
}
