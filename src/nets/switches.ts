import type { Role } from './roles.ts';
import type { Conductor, Wiring } from './wiring.ts';

// What can be switched: transistors between rails, and load switches, as long as something sets their gate or enable pin.

/** A transistor between two rails. */
export interface RailTransistor {
  readonly role: Role;
  readonly rails: readonly [Conductor, Conductor];
  /** Whether something sets its gate, a line or a third rail; else it is on for good, as one against wrong polarity is. */
  readonly isControlled: boolean;
}

/** Transistors that join two rails, single ones. */
export function transistorsOf({ roles, conductors, of }: Wiring): readonly RailTransistor[] {
  return [...roles.values()].flatMap((role): RailTransistor[] => {
    if (!role.is('Transistor') || role.is('TransistorArray')) return [];
    const own = (of.get(role.id) ?? []).map((at) => conductors[at]);
    const areRails = own.length === 3 && own.every(({ kind }) => kind === 'power');
    // Of three rails on pins without names, that of pin 1: gate or base in the usual package of three (common practice).
    const isGate = ({ members }: Conductor) =>
      members.some(
        (one) =>
          one.role === role &&
          (one.function === 'gate' || (areRails && one.name === undefined && one.number === '1')),
      );
    const rails = own.filter((one) => one.kind === 'power' && !isGate(one));
    // A third net, since one of three pins that leads nowhere may be that of a rail.
    if (rails.length !== 2 || own.length < 3) return [];
    const gates = own.filter((one) => one.kind === 'signal' || (one.kind === 'power' && isGate(one)));
    // A gate on a third rail lets that rail switch the two, as outside power cuts off the cell.
    const isControlled = gates.some(
      (gate) =>
        gate.kind === 'power' ||
        isSet(gate, role) ||
        besides(gate, role, { conductors, of }).some((next) => next.kind === 'signal' && isSet(next, role)),
    );
    return [{ role, rails: [rails[0], rails[1]], isControlled }];
  });
}

/** Whether something besides a switch and passives is on a net and may set it. */
function isSet({ members }: Conductor, own: Role): boolean {
  return members.some(({ role }) => role !== own && (role.isActive || role.isConnector));
}

/** Nets behind the resistors and other two-ended parts on a net. */
function besides(
  gate: Conductor,
  own: Role,
  { conductors, of }: Pick<Wiring, 'conductors' | 'of'>,
): readonly Conductor[] {
  return gate.members.flatMap(({ role }) =>
    role === own || !role.isTwoEnded
      ? []
      : (of.get(role.id) ?? []).flatMap((at) => (at === gate.at ? [] : [conductors[at]])),
  );
}

/**
 * Whether a load switch is on for good: its enable pin is on its own input, or behind resistors and the like between that and nothing
 * else.
 */
export function isTiedOn(role: Role, { conductors, of }: Pick<Wiring, 'conductors' | 'of'>): boolean {
  const own = (of.get(role.id) ?? []).map((at) => conductors[at]);
  const on = (meaning: string) =>
    own.filter(({ members }) => members.some((one) => one.role === role && one.function === meaning));
  const inputs = on('supply-input');
  const enables = on('enable');
  return (
    enables.length > 0 &&
    enables.every(
      (enable) =>
        inputs.includes(enable) ||
        (enable.net?.complete === true &&
          !isSet(enable, role) &&
          besides(enable, role, { conductors, of }).some((next) => inputs.includes(next))),
    )
  );
}
