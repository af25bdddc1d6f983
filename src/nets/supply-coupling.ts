import { type Coupling, couplingOf } from './coupling.ts';
import { type Played, type Says, termsPlayed } from './parts-played.ts';
import type { RoleTerm } from './roles.ts';
import { joinMates, type Sites, Union } from './sites.ts';

const PASSES_SUPPLY: readonly RoleTerm[] = [
  'FerriteBead',
  'Fuse',
  'Inductor',
  'SolderBridge',
  'SlideSwitch',
  'Resistor',
  'Diode',
  'SurgeProtector',
  'Transistor',
  'TransistorArray',
];
const OUTPUTS: ReadonlySet<string | undefined> = new Set([
  'switched-output',
  'supply-output',
  'switch-node',
  'battery',
]);

/** Whether something may drive a rail by what its pins are for, or by there being two. */
function mayDrive({ role, landings }: Played): boolean {
  if (landings.some((pin) => pin.function === 'switched-output')) return true;
  if (role.supplies.length === 0 && !role.is('PowerManagement')) return false;
  const rails = new Set(landings.flatMap(({ net }) => (net.kind === 'power' ? [net] : [])));
  return rails.size === 2 || landings.some((pin) => OUTPUTS.has(pin.function));
}

/** Whether something may drive one of some nets. */
function mayDriveHere(played: Played, isHere: (net: string) => boolean): boolean {
  return (
    isNameless(played) || played.landings.some((pin) => isHere(pin.net.id) && OUTPUTS.has(pin.function ?? ''))
  );
}

/** Whether a maker of a supply drives one of its two rails, not known by its pins which. */
function isNameless({ role, landings }: Played): boolean {
  if (role.supplies.length === 0) return false;
  return !landings.some(
    ({ net, function: pin = '' }) => net.kind === 'power' && /output|switch-node|battery/u.test(pin),
  );
}

/** What supplies depend on. */
export function supplyCoupling(sites: Sites): Coupling {
  const union = new Union(sites.sites.length);
  /** Conductors behind parts with two ends on a net, that net included. */
  const besides = (at: number) => [
    at,
    ...sites.sites[at].members.flatMap((id) =>
      sites.may(id, ({ role }) => role.isTwoEnded)
        ? sites.at(id).filter((own) => sites.sites[own].kind !== 'ground')
        : [],
    ),
  ];
  /** Whether it is open that a rail is a cell's. */
  const mayBecomeCell = (at: number) => {
    const { members, net } = sites.sites[at];
    return members.some((id) => {
      const { may, must } = sites.those(
        id,
        ({ role, landings }) =>
          role.is('Battery') || landings.some((pin) => pin.net.id === net && pin.function === 'battery'),
      );
      return may && !must;
    });
  };
  for (const id of sites.of.keys()) {
    const rails = sites.at(id, 'power').filter((at) => !sites.traces.shown.has(at));
    const signals = sites.at(id, 'signal');
    const isOne = (...terms: readonly RoleTerm[]) => sites.may(id, ({ role }) => terms.some(role.is));
    const { all, isOpen } = sites.traces.own(id);
    if (isOne('Inductor')) union.join(all.filter((at) => sites.sites[at].kind !== 'ground'));
    if (isOne('Transistor') && rails.length >= 2) union.join([...rails, ...signals.flatMap(besides)]);
    if (isOne(...PASSES_SUPPLY) && (rails.length === 2 || isOpen)) union.join(rails);
    // On which of its rails a connector draws depends on which are those of a cell.
    if (sites.may(id, ({ role }) => role.isConnector) && !sites.isMated(id) && rails.some(mayBecomeCell))
      union.join(rails);
    if (rails.length >= 2 && sites.may(id, mayDrive)) union.join(sites.may(id, isNameless) ? rails : []);
    if (sites.may(id, ({ landings }) => landings.some((pin) => pin.function === 'switched-output'))) {
      const enables = sites.things
        .get(id)
        ?.played.flatMap(({ landings }) =>
          landings.flatMap((pin) => (pin.function === 'enable' ? [pin.net.id] : [])),
        );
      const nets = sites.at(id).filter((at) => enables?.includes(sites.sites[at].net ?? ''));
      union.join([...rails, ...nets.flatMap(besides)]);
    }
  }
  // Whether a connector meets another one decides whether a supply comes in there.
  for (const meeting of sites.meetings) {
    if (sites.isSure(meeting)) continue;
    const rails = meeting.ends.flatMap((id) => sites.at(id, 'power'));
    const between = [...sites.sites.keys()].filter((at) => {
      const { isTrace, members } = sites.sites[at];
      return isTrace && meeting.ends.every((id) => members.includes(id));
    });
    if (rails.length > 0)
      union.join([...rails, ...between, ...meeting.ends.flatMap((id) => sites.at(id).slice(0, 1))]);
  }
  // Where a traced supply meets another conductor in connectors, what is traced to these decides from where it comes.
  for (const meeting of sites.meetings) {
    for (const pair of sites.pairsOf(meeting)) {
      if (!pair.some((at) => sites.sites[at].isTrace && sites.sites[at].kind === 'power')) continue;
      const there = pair.flatMap((at) => sites.sites[at].members).flatMap((id) => sites.at(id, 'power'));
      union.join([...pair, ...there.filter((at) => sites.sites[at].isTrace)]);
    }
  }
  joinMates(sites, union);
  sites.traces.join(union);
  const unsure = new Set(sites.meetings.flatMap((one) => (sites.isSure(one) ? [] : one.ends)));
  const shape = (id: string, isHere: (net: string) => boolean = () => true): Says => {
    const rails = sites.at(id, 'power').length;
    const all = sites.at(id).length;
    const signals = sites.at(id, 'signal').length;
    const isRanked = sites.ranked.has(id);
    const key = `supply ${rails >= 2} ${all >= 2} ${signals > 0} ${isRanked} ${unsure.has(id)}`;
    const text = (played: Played) => {
      const { role, landings } = played;
      const drives = mayDriveHere(played, isHere);
      return JSON.stringify([
        role.isConnector && [role.isOutside, role.is('ProgrammingContact')],
        role.isConnector && unsure.has(id) && landings.map(({ number, name }) => [number, name]),
        role.is('Battery') || role.is('Coil'),
        role.is('Battery'),
        rails >= 2 || role.is('Transistor') ? termsPlayed(played, PASSES_SUPPLY) : '',
        all >= 2 && [role.is('Inductor'), role.isTwoEnded],
        signals > 0 && role.isActive,
        isRanked && [role.rank, role.mayRank, role.isTwoEnded],
        (drives || isRanked) && [role.supplies, role.rank, role.is('PowerManagement'), role.is('Charger')],
        landings.flatMap(({ net, number, name, output, function: pin }): unknown[] => {
          if (net.kind === 'ground' || !isHere(net.id)) return [];
          if (drives) return [[net.id, number, name, output, pin]];
          if (pin === 'battery' || pin === 'switched-output' || pin === 'gate') return [[net.id, pin]];
          if (role.is('Diode') && pin === 'anode') return [net.id];
          return role.is('Transistor') ? [[net.id, name === undefined && number]] : [];
        }),
      ]);
    };
    return { key, text };
  };
  const asLoad = (id: string): Says => {
    const own = shape(id);
    const text = (played: Played) => {
      const { role, landings } = played;
      return JSON.stringify([
        own.text(played),
        role.isIgnored,
        role.draws,
        role.isActive,
        role.isProcessor,
        role.supplies.length === 0,
        role.is('FuelGauge'),
        role.is('SurgeProtector'),
        landings.flatMap(({ net, number, name, function: pin }) =>
          net.kind === 'power' || (net.kind === 'signal' && pin === 'reference')
            ? [[net.id, pin, number === undefined && name === undefined]]
            : [],
        ),
      ]);
    };
    return { key: `to ${own.key}`, text };
  };
  const hasReference = (at: number) =>
    sites.sites[at].members.some((id) => sites.may(id, ({ role }) => role.supplies.includes('reference')));
  const isRail = (at: number) => {
    const { kind } = sites.sites[at];
    return kind === 'power' || (kind === 'signal' && hasReference(at));
  };
  const mayStart = (id: string, isIn: (net: string) => boolean) =>
    sites.ranked.has(id) ||
    sites.may(id, (played) => FEEDING.some(played.role.is) || mayDriveHere(played, isIn)) ||
    // A connector that meets another one only passes a supply on.
    (!sites.isMated(id) && sites.may(id, ({ role }) => role.isConnector));
  const mayEnd = (id: string) => sites.may(id, ({ role }) => role.isActive || FED.some(role.is));
  return couplingOf(sites, union, 'supply', {
    saysOf: shape,
    isHere: isRail,
    asEnd: asLoad,
    mayStart,
    mayEnd,
  });
}

/** What may feed others besides makers of supplies and connectors, and what may be fed besides what is active. */
const FEEDING: readonly RoleTerm[] = ['Battery', 'Coil', 'Transistor', 'PowerManagement'];
const FED: readonly RoleTerm[] = ['Battery', 'Connector', 'SurgeProtector', 'Transistor'];
