import { localIds } from '../dossier/check/local-ids.ts';
import { designatorOf } from '../model/designator.ts';
import type { Dossier } from '../model/dossier.ts';
import { TEARDOWN } from '../model/ids.ts';
import type { Net } from '../model/net.ts';
import type { DesignNet } from './board-design.ts';
import { membersOf } from './difference.ts';
import { type MergedBoard, slugOf } from './merge.ts';
import { meaningfulLabel, type NetProposal, proposeNets } from './net-proposals.ts';
import { type ComponentLookup, componentLookup, pinLabel, pinReference } from './pins.ts';
import type { Gathered } from './report.ts';

/** A dossier with the nets of one board added, in its written form. */
export function draftNets(
  dossier: Dossier,
  board: MergedBoard,
  complete: boolean,
  { proposals, conflicts }: Gathered,
): { readonly dossier: Dossier; readonly added: number; readonly completed: number } {
  const lookup = componentLookup(dossier.components);
  const recorded = new RecordedNets(dossier, lookup, board.id);
  const taken = new Set([...localIds(dossier).map(({ id }) => id), dossier.specimen.id, TEARDOWN]);
  const known = new Set(
    dossier.components.flatMap((one) => (one.board === board.id ? designatorOf(one.id) : [])),
  );
  const members = membersByNet(board, known);
  const proposed = proposeNets(board);
  const replaced = new Map<Net, Net>();
  const fresh: Net[] = [];
  for (const net of board.nets) {
    const pins = members.get(net.key) ?? [];
    // A pin alone on a net that nobody named is not joined to anything.
    if (pins.length === 0 || (pins.length === 1 && meaningfulLabel(net) === undefined)) continue;
    const before = recorded.meant(pins, net.label);
    const proposal = proposed.get(net.key) as NetProposal;
    const free = pins.filter(({ key }) => (recorded.netOf(key) ?? before) === before);
    if (!before) {
      const id = freeId(net, board.id, taken);
      taken.add(id);
      fresh.push({
        id,
        ...(net.label === undefined ? {} : { label: net.label }),
        kind: proposal.kind,
        ...(proposal.voltage === undefined ? {} : { voltage: { value: proposal.voltage, unit: 'V' } }),
        ...(proposal.bus ? { bus: proposal.bus } : {}),
        pins: free.map(({ reference }) => reference),
        ...(complete ? { complete: true } : {}),
        basis: [],
      });
      if (proposal.because !== 'nothing else') {
        const says = [
          proposal.kind,
          proposal.voltage === undefined ? '' : `${proposal.voltage} V`,
          proposal.bus ?? '',
        ];
        proposals.push({
          kind: 'net',
          of: id,
          proposed: says.filter((one) => one !== '').join(', '),
          because: proposal.because,
        });
      }
      continue;
    }
    if (before.kind !== proposal.kind && proposal.because !== 'nothing else')
      conflicts.push({ of: before.id, field: 'kind', archive: before.kind, files: proposal.kind });
    const merged = completed(lookup, before, free, {
      ...(net.label === undefined ? {} : { label: net.label }),
      ...(proposal.voltage === undefined || before.kind !== 'power'
        ? {}
        : { voltage: { value: proposal.voltage, unit: 'V' } }),
      ...(proposal.bus && before.kind === 'signal' ? { bus: proposal.bus } : {}),
      ...(complete ? { complete: true } : {}),
    });
    if (JSON.stringify(merged) !== JSON.stringify(before)) replaced.set(before, merged);
  }
  const before = dossier.nets ?? [];
  const nets = [...before.map((one) => replaced.get(one) ?? one), ...fresh];
  return {
    dossier: nets.length === 0 ? dossier : { ...dossier, nets },
    added: fresh.length,
    completed: replaced.size,
  };
}

interface Member {
  /** `U3.4` on this board. */
  readonly key: string;
  readonly designator: string;
  readonly reference: string;
  readonly design: MergedBoard['components'][number]['pins'][number];
}

function membersByNet(
  board: MergedBoard,
  known: ReadonlySet<string>,
): ReadonlyMap<string, readonly Member[]> {
  const nets = new Map<string, Map<string, Member>>();
  for (const { designator, pins } of board.components) {
    if (!known.has(designator)) continue;
    for (const design of pins) {
      const pin = design.number ?? design.name;
      if (design.net === undefined || pin === undefined) continue;
      const key = `${designator}.${pinLabel(pin)}`;
      const members = nets.get(design.net) ?? new Map<string, Member>();
      nets.set(design.net, members);
      // A pad drawn twice is one pin.
      members.set(key, { key, designator, reference: pinReference(board.id, designator, pin), design });
    }
  }
  return new Map([...nets].map(([net, members]) => [net, [...members.values()]]));
}

/** Nets that a dossier records of one board. */
class RecordedNets {
  readonly #byPin = new Map<string, Net>();
  readonly #byLabel = new Map<string, Net>();
  readonly #bare = new Map<Net, Set<string>>();

  constructor(dossier: Dossier, lookup: ComponentLookup, board: string) {
    for (const net of dossier.nets ?? []) {
      let isHere = false;
      const bare = new Set<string>();
      for (const { component, pins } of membersOf(net, lookup)) {
        const found = lookup(component);
        if (found?.board !== board) continue;
        isHere = true;
        const designator = designatorOf(found.id);
        for (const pin of pins) this.#byPin.set(`${designator}.${pin}`, net);
        if (pins.length === 0) bare.add(designator);
      }
      this.#bare.set(net, bare);
      if (isHere && net.label !== undefined) this.#byLabel.set(net.label, net);
    }
  }

  netOf(pin: string): Net | undefined {
    return this.#byPin.get(pin);
  }

  /** The net of the archive that a net of a file is: the one with most of its pins, or of its label on the same board. */
  meant(pins: readonly Member[], label: string | undefined): Net | undefined {
    const shared = new Map<Net, number>();
    for (const { key } of pins) {
      const net = this.#byPin.get(key);
      if (net) shared.set(net, (shared.get(net) ?? 0) + 1);
    }
    const [most] = [...shared].toSorted(([, a], [, b]) => b - a);
    return most?.[0] ?? (label === undefined ? undefined : this.#byLabel.get(label));
  }
}

/** A net of the archive with pins that only the file names; a component without a pin gives way to its pin. */
function completed(
  lookup: ComponentLookup,
  before: Net,
  members: readonly Member[],
  said: Partial<Net>,
): Net {
  const joined = membersOf(before, lookup);
  const keyOf = (component: string, pin: string) => {
    const found = lookup(component);
    return `${found ? designatorOf(found.id) : component}.${pin}`;
  };
  const have = new Set(joined.flatMap(({ component, pins }) => pins.map((pin) => keyOf(component, pin))));
  const designators = new Set(members.map(({ designator }) => designator));
  const kept = joined.filter(({ component, pins }) => {
    const found = lookup(component);
    return pins.length > 0 || !found || !designators.has(designatorOf(found.id));
  });
  const added = members.filter(({ key }) => !have.has(key));
  return {
    ...before,
    ...(before.label === undefined && said.label !== undefined ? { label: said.label } : {}),
    ...(before.voltage === undefined && said.voltage ? { voltage: said.voltage } : {}),
    ...(before.bus === undefined && said.bus ? { bus: said.bus } : {}),
    ...(before.complete === undefined && said.complete ? { complete: true } : {}),
    pins: [...kept.map(({ written }) => written), ...added.map(({ reference }) => reference)],
  };
}

/** An id from the label, with the board where it is taken, then with a number. */
function freeId({ label, key }: DesignNet, board: string, taken: ReadonlySet<string>): string {
  const signed = (label ?? key)
    .replace(/^\+/u, '')
    .replace(/^-(?=\d)/u, 'minus ')
    .replace(/([a-z])([+])$/iu, '$1 plus')
    .replace(/([a-z])-$/iu, '$1 minus')
    .replace(/^~/u, 'not ');
  const own = slugOf(signed);
  if (!taken.has(own)) return own;
  const withBoard = `${board}-${own}`;
  for (let n = 1; ; n++) {
    const id = n === 1 ? withBoard : `${withBoard}-${n}`;
    if (!taken.has(id)) return id;
  }
}
