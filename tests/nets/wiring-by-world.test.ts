import { expect, test } from 'vitest';
import { thingsOf } from '../../src/nets/parts-played.ts';
import { wiringOf } from '../../src/nets/wiring.ts';
import { WiringByWorld, type World } from '../../src/nets/wiring-by-world.ts';
import { alternativesIn } from '../../src/patterns/worlds.ts';
import { dossierChange, liveOf, SMALL_CATALOGUE } from '../state/archive-of.ts';

// Wiring in one world after the other: as that of the board on which components certainly are what they are in that world, while what
// worlds have in common is made once.

const KINDS: Readonly<Record<string, readonly string[]>> = {
  U1: ['Microcontroller', 'FuelGauge'],
  U2: ['LinearRegulator', 'LoadSwitch', 'Accelerometer'],
  J1: ['FlexConnector', 'TestPad'],
  J2: ['FlexConnector'],
};
const BOARD = {
  device: { id: 'doubt', name: 'Doubt', maker: 'tarn', released: '2019', bodySite: 'wrist' },
  specimen: { id: 'a' },
  boards: [{ id: 'main', kind: 'rigid' }],
  components: Object.keys(KINDS).map((id) => ({ id, board: 'main' })),
  nets: [{ id: 'n1', kind: 'signal', pins: ['U1.A', 'U2.B', 'J1.1'] }],
  connections: [
    { between: ['U1', 'U2'], medium: 'trace', bus: 'power' },
    { between: ['U1', 'J1'], medium: 'trace', bus: 'I2C' },
    { between: ['J1', 'J2'], medium: 'flex', pins: [['1', '1']] },
  ],
} as const;

/** @param kinds of each component, the likelier first */
function opened(id: string, kinds: Readonly<Record<string, readonly string[]>>) {
  const identifications = Object.entries(kinds).map(([component, categories]) => ({
    component,
    candidates: categories.map((category, at) => ({
      category,
      probability: categories.length === 1 ? 1 : 0.4 - at / 10,
    })),
    state: 'favoured' as const,
  }));
  const { device, ...rest } = structuredClone(BOARD) as never as { device: object };
  const state = liveOf([
    ...SMALL_CATALOGUE,
    dossierChange({ ...rest, device: { ...device, id }, identifications } as never),
  ]).state('desk', '2026-06-01T00:00:00Z');
  const specimen = state.specimen(`${id}/a`);
  if (!specimen) throw new Error(`no ${id}`);
  return specimen;
}

test('in every world wiring is that of the certain board, and connections are joined once for each way in which connectors may meet', () => {
  const specimen = opened('doubt', KINDS);
  const things = thingsOf(
    specimen,
    alternativesIn(specimen, () => undefined),
    () => undefined,
  );
  let joined = 0;
  const counted = [...specimen.joined];
  const iterate = counted[Symbol.iterator].bind(counted);
  counted[Symbol.iterator] = () => {
    joined++;
    return iterate();
  };
  const wirings = new WiringByWorld({ nets: [], joined: counted }, things);
  const withNets = new WiringByWorld(specimen, things);
  const choices = things.reduce<ReadonlyMap<string, number>[]>(
    (all, { id }) =>
      all.flatMap((one) => (KINDS[id] ?? ['']).map((_, at) => new Map([...one, [id, at] as const]))),
    [new Map()],
  );
  expect(choices).toHaveLength(12);
  const said = (wiring: ReturnType<typeof wiringOf>) => ({
    conductors: wiring.conductors.map(({ at, kind, lines, members }) => ({
      at,
      kind,
      lines,
      members: members.map(({ role, number, name }) => [role.id, role.rank, role.isConnector, number, name]),
    })),
    mates: wiring.mates.map(({ ends, pairs }) => [ends.map(({ id }) => id), pairs]),
    of: [...wiring.of],
  });
  choices.forEach((choice, at) => {
    const world: World = new Map(
      things.flatMap((thing) => (thing.mayBe ? [[thing, choice.get(thing.id) ?? 0] as const] : [])),
    );
    wirings.in(world);
    const certain = Object.fromEntries([...choice].map(([id, kind]) => [id, [KINDS[id][kind]]]));
    expect(said(withNets.in(world)), `world ${at}`).toEqual(
      said(wiringOf(opened('doubt', certain), () => undefined)),
    );
  });
  // Once for each kind that J1 may be; which of two chips is nearer to a supply joins nothing.
  expect(joined).toBe(2);
});
