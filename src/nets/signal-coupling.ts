import { type Coupling, couplingOf } from './coupling.ts';
import { type Played, termsPlayed } from './parts-played.ts';
import { linePairs, RADIO_PORTS } from './passing.ts';
import { LOAD_RANK, type RoleTerm } from './roles.ts';
import { LED_THEMSELVES, RADIO_PARTS, saidByName } from './signal-paths.ts';
import { joinMates, type Sites, Union } from './sites.ts';
import type { Conductor } from './wiring.ts';

const SIGNAL_TERMS: readonly RoleTerm[] = [
  'SurgeProtector',
  'FrequencyReference',
  'Memory',
  'Transistor',
  'Inductor',
  ...RADIO_PORTS,
  ...RADIO_PARTS,
];
/** What parts of an antenna's line with several ports look for. */
const AT_PORTS: readonly RoleTerm[] = ['Radio', 'CoaxialConnector'];

/** Pairs of conductors between which a part of many lines passes, whatever it is. */
function linesOf(
  sites: Sites,
  id: string,
  signals: readonly number[],
): readonly (readonly [number, number])[] {
  const thing = sites.things.get(id);
  return (thing?.possible ?? []).flatMap(({ role, landings }) => {
    if (!role.passesLines) return [];
    const own = signals.map((at): Conductor => {
      const { net, label, lines } = sites.sites[at];
      const pins = net === undefined ? [NAMELESS] : landings.filter((pin) => pin.net.id === net);
      const members = pins.map(({ number, name, function: means }) => {
        return { role, number, name, function: means, output: undefined };
      });
      return {
        at,
        net: undefined,
        label,
        kind: 'signal',
        voltage: undefined,
        bus: undefined,
        lines,
        medium: undefined,
        members,
      };
    });
    return linePairs(role, own, { conductors: own, of: new Map() }).map(([a, b]) => [a.at, b.at] as const);
  });
}

const NAMELESS = { number: undefined, name: undefined, function: undefined };

/** What signal paths, shared buses and shared nets depend on. */
export function signalCoupling(sites: Sites): Coupling {
  const union = new Union(sites.sites.length);
  for (const id of sites.of.keys()) {
    const signals = sites.at(id, 'signal').filter((at) => !sites.traces.shown.has(at));
    if (signals.length < 2) continue;
    const { all, isOpen } = sites.traces.own(id);
    const passes = ({ role }: Played) =>
      (role.isTwoEnded && !role.passesLines && (isOpen || all.length === 2)) ||
      (role.passesLines && (isOpen || RADIO_PORTS.some(role.is))) ||
      (role.is('Transistor') && (isOpen || all.length === 3));
    if (sites.may(id, passes)) union.join(signals);
    else for (const pair of linesOf(sites, id, signals)) union.join(pair);
  }
  joinMates(sites, union);
  sites.traces.join(union);
  const hasPorts = [...sites.of.keys()].some(
    (id) => sites.at(id, 'signal').length > 2 && sites.may(id, ({ role }) => RADIO_PORTS.some(role.is)),
  );
  const says = {
    key: `signal ${sites.hasTracedPower} ${hasPorts}`,
    text: (played: Played) => {
      const { role, landings } = played;
      const isPassed = role.passesLines || role.isConnector;
      const pins = landings.flatMap(({ net, number, name, function: pin }) => {
        if (net.kind !== 'signal') return [];
        const said = saidByName(name, net.bus !== undefined);
        return [isPassed ? [net.id, said, number, name, pin === 'enable'] : [net.id, said]];
      });
      return JSON.stringify([
        role.isIgnored,
        role.isTwoEnded,
        role.passesLines,
        role.isConnector,
        role.isOutside,
        role.isActive,
        role.isProcessor,
        role.speaks,
        role.isProcessor && termsPlayed(played, ['SensorHub', ...LED_THEMSELVES]),
        sites.hasTracedPower && role.rank === LOAD_RANK,
        termsPlayed(played, SIGNAL_TERMS),
        hasPorts && termsPlayed(played, AT_PORTS),
        pins,
      ]);
    },
  };
  const isSignal = (at: number) => sites.sites[at].kind === 'signal';
  return couplingOf(sites, union, 'signal', { saysOf: () => says, isHere: isSignal });
}
