import { describe, expect, test } from 'vitest';
import { netCluesOf } from '../../src/classes/net-clues.ts';
import { neighboursOf } from '../../src/identification/neighbours.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import { Names } from '../../src/state/names.ts';
import { type OpenedSpecimen, openSpecimen } from '../../src/state/specimen.ts';
import { UnnamedKinds } from '../../src/state/unnamed/unnamed-kinds.ts';

const UNNAMED = UnnamedKinds.learn([], new Names());

/** A specimen of components by designator, with what they plainly are, and of nets as `kind: pins`. */
function specimenOf(
  components: Readonly<Record<string, string | object>>,
  nets: readonly object[],
  more: Partial<Record<keyof Dossier, unknown>> = {},
): OpenedSpecimen {
  const dossier = dossierSchema.parse({
    caseback: 'dossier/1',
    device: 'invented',
    specimen: { id: 'a' },
    teardown: { on: '2024', by: 'A' },
    components: Object.entries(components).map(([id, one]) =>
      typeof one === 'string' ? { id, ...(one === '' ? {} : { appears: one }) } : { id, ...one },
    ),
    nets: nets.map((net, at) => ({ id: `n${at}`, kind: 'signal', complete: true, ...net })),
    ...more,
  });
  return openSpecimen(dossier, () => undefined, UNNAMED);
}

/** What each pin of U1 may hang on, by label. */
function seen(specimen: OpenedSpecimen): Record<string, string> {
  const component = specimen.components.get('U1');
  const clues = component && netCluesOf(specimen, component);
  return Object.fromEntries((clues?.pins ?? []).map(({ label, may }) => [label ?? '?', may.join(' ')]));
}

const PARTS = {
  ...{
    U1: 'IntegratedCircuit',
    U2: 'IntegratedCircuit',
    C1: 'Capacitor',
    C2: 'Capacitor',
    R1: 'Resistor',
    R2: 'Resistor',
  },
  ...{
    L1: 'Inductor',
    Y1: 'Crystal',
    J1: 'CableConnector',
    J2: 'FlexConnector',
    BT1: 'PouchCell',
    E1: 'ChipAntenna',
  },
  ...{
    S1: 'Button',
    LD1: 'Emitter',
    PD1: 'Photodiode',
    RS1: { appears: 'Resistor', value: '10 mOhm' },
    TP1: 'TestPad',
  },
};
const GROUND = { kind: 'ground', pins: ['U1.100', 'C1.2', 'R1.2', 'RS1.2'] };
const RAIL = { kind: 'power', voltage: '3.3 V', pins: ['U1.101', 'R2.2', 'C2.2'] };

describe('what a pin hangs on', () => {
  // Read by hand from small circuits (common practice, no source).
  test.each([
    ['ground', { kind: 'ground', pins: ['U1.1', 'C2.1'] }],
    ['rail', { kind: 'power', pins: ['U1.1', 'U2.1', 'C2.1'] }],
    ['battery', { kind: 'power', pins: ['U1.1', 'BT1.1'] }],
    ['battery', { kind: 'power', label: 'VBAT', pins: ['U1.1', 'U2.1'] }],
    ['rail', { kind: 'signal', label: 'VBAT', pins: ['U1.1', 'U2.1'], expected: 'signal' }],
    ['outside-supply', { kind: 'power', pins: ['U1.1', 'J1.1'] }],
    ['outside-supply', { kind: 'power', label: 'VBUS', pins: ['U1.1', 'U2.1'] }],
    ['switch-node', { pins: ['U1.1', 'L1.1'] }],
    ['switch-node', { kind: 'power', pins: ['U1.1', 'L1.1'] }],
    ['rail', { kind: 'power', pins: ['U1.1', 'L1.1', 'C1.1'] }],
    ['capacitor', { pins: ['U1.1', 'C1.1'] }],
    ['capacitor', { pins: ['U1.1', 'C1.1', 'TP1.1'] }],
    ['resistor-to-ground', { pins: ['U1.1', 'R1.1'] }],
    ['pull-up', { pins: ['U1.1', 'R2.1'] }],
    ['divider', { pins: ['U1.1', 'R1.1', 'R2.1'] }],
    ['signal', { pins: ['U1.1', 'R2.1', 'U2.1'] }],
    ['sense-resistor', { pins: ['U1.1', 'RS1.1'] }],
    ['crystal', { pins: ['U1.1', 'Y1.1', 'C1.1'] }],
    ['antenna', { pins: ['U1.1', 'L1.1', 'E1.1'] }],
    ['antenna', { pins: ['U1.1', 'C1.1'], bus: 'rf' }],
    ['i2c', { pins: ['U1.1', 'U2.1', 'R2.1'], bus: 'I2C' }],
    ['i2c', { pins: ['U1.1', 'U2.1'], label: 'SENSOR_SDA' }],
    ['spi', { pins: ['U1.1', 'U2.1'], label: 'MOSI' }],
    ['debug', { pins: ['U1.1', 'TP1.1'], label: 'SWDIO' }],
    ['usb', { pins: ['U1.1', 'J1.1'], label: 'USB_D+' }],
    ['uart', { pins: ['U1.1', 'U2.1'], label: 'TX' }],
    ['button', { pins: ['U1.1', 'S1.1', 'R2.1'] }],
    ['load', { pins: ['U1.1', 'LD1.2'] }],
    ['analogue-source', { pins: ['U1.1', 'PD1.2'] }],
    ['connector', { pins: ['U1.1', 'J1.2'] }],
    // What goes on over a flexible circuit is no end.
    ['signal', { pins: ['U1.1', 'J2.2'] }],
    ['signal', { pins: ['U1.1', 'U2.1'] }],
    ['unconnected', { pins: ['U1.1'] }],
  ])('%s: %o', (expected, { expected: other, ...net }: { expected?: string; pins: string[] }) => {
    expect(seen(specimenOf(PARTS, [GROUND, RAIL, net]))['1']).toBe(other ?? expected);
  });

  test('a resistor or capacitor between two pins of a component; a capacitor beside such a resistor is part of it', () => {
    const parts = { ...PARTS, R3: 'Resistor', C3: 'Capacitor' };
    const between = (...passives: string[]) =>
      seen(
        specimenOf(parts, [
          { pins: ['U1.1', ...passives.map((one) => `${one}.1`)] },
          { pins: ['U1.2', ...passives.map((one) => `${one}.2`)] },
        ]),
      );
    expect(between('R3')).toEqual({ '1': 'feedback', '2': 'feedback' });
    expect(between('C3')).toEqual({ '1': 'fly-capacitor', '2': 'fly-capacitor' });
    expect(between('R3', 'C3')).toEqual({ '1': 'feedback', '2': 'feedback' });
  });

  test('a net that is not said to be complete shows what it has and not what it lacks', () => {
    const open = (net: object) =>
      seen(specimenOf(PARTS, [GROUND, RAIL, { ...net, complete: undefined }]))['1'].split(' ');
    expect(open({ pins: ['U1.1', 'Y1.1'] })).toEqual(['crystal']);
    expect(open({ kind: 'power', pins: ['U1.1', 'U2.1'] })).toEqual(['rail', 'battery', 'outside-supply']);
    expect(open({ kind: 'power', pins: ['U1.1', 'BT1.1'] })).toEqual(['battery']);
    // A capacitor alone so far; a line to another chip may yet turn up, but no supply.
    const so = open({ pins: ['U1.1', 'C1.1'] });
    expect(so).toContain('capacitor');
    expect(so).toContain('signal');
    expect(so).not.toContain('rail');
    expect(so).not.toContain('unconnected');
    expect(open({ pins: ['U1.1'] })).toContain('unconnected');
  });

  test('who is not certain counts as unknown, not by probability: then the net shows only what else it has', () => {
    const doubted = (probability: number) =>
      seen(
        specimenOf({ ...PARTS, X1: '' }, [GROUND, RAIL, { pins: ['U1.1', 'X1.1'] }], {
          identifications: [{ component: 'X1', candidates: [{ category: 'Crystal', probability }] }],
        }),
      )['1'];
    expect(doubted(0.96)).toBe('crystal');
    expect(doubted(0.94).split(' ').length).toBeGreaterThan(10);
    // Class letters alone tell passives, where nothing else is said.
    expect(seen(specimenOf({ ...PARTS, L9: '' }, [{ pins: ['U1.1', 'L9.1'] }]))['1']).toBe('switch-node');
  });

  test('places that are empty and nets whose observations were all withdrawn do not count', () => {
    const empty = { ...PARTS, Y1: { appears: 'Crystal', fitted: false } };
    expect(seen(specimenOf(empty, [{ pins: ['U1.1', 'Y1.1'] }]))['1']).toBe('unconnected');
    const withdrawn = { by: 'A', on: '2024-01-01T00:00:00Z', reason: 'mistaken' };
    const observations = [{ id: 'o1', about: ['U1'], kind: 'x-ray', withdrawn }];
    expect(seen(specimenOf(PARTS, [{ pins: ['U1.1', 'Y1.1'], basis: ['o1'] }], { observations }))).toEqual(
      {},
    );
  });

  test('names of pins become numbers where the pinout tells; a pin that is recorded as not connected counts', () => {
    const pinout = [
      { number: 4, name: 'SDA' },
      { number: 5, direction: 'not-connected' },
    ];
    const parts = { ...PARTS, U1: { appears: 'IntegratedCircuit', pinout } };
    expect(seen(specimenOf(parts, [{ pins: ['U1.SDA', 'U2.1'], bus: 'I2C' }]))).toEqual({
      '4': 'i2c',
      '5': 'unconnected',
    });
  });
});

// Circuits of converters and coils as common practice has them, no source.
describe('an inductor, a coil and the voltages of supplies', () => {
  const parts = { ...PARTS, L2: 'Coil', R9: { appears: 'Resistor', value: '0R' } };
  const clues = (nets: readonly object[]) => {
    const specimen = specimenOf(parts, nets);
    const component = specimen.components.get('U1');
    const { pins = [], step } = (component && netCluesOf(specimen, component)) ?? {};
    return [pins.find(({ label }) => label === '1')?.may.join(' '), step];
  };
  const node = { pins: ['U1.1', 'L1.1'] };

  test.each([
    [
      'a step-up from the cell',
      'supplied-inductor',
      'higher',
      ['U1.2', 'L1.2', 'BT1.1'],
      ['U1.3', 'C1.1'],
      '4.7 V',
    ],
    [
      'a step-up whose own supply is another',
      'supplied-inductor',
      'higher',
      ['L1.2', 'BT1.1'],
      ['U1.3', 'C1.1'],
      '12 V',
    ],
    [
      'a step-down from the cell',
      'switch-node',
      'lower',
      ['U1.2', 'BT1.1'],
      ['U1.3', 'L1.2', 'C1.1'],
      '1.2 V',
    ],
    ['a step-down with a divider', 'switch-node', 'lower', ['U1.2', 'BT1.1'], ['L1.2', 'C1.1'], '1.8 V'],
  ])('%s', (_, surrounding, step, cell, made, voltage) => {
    expect(
      clues([node, { kind: 'power', voltage: '3.7 V', pins: cell }, { kind: 'power', voltage, pins: made }]),
    ).toEqual([surrounding, step]);
  });

  test('a resistor of nothing or a bead in series with the inductor changes nothing', () => {
    expect(
      clues([
        node,
        { kind: 'power', pins: ['L1.2', 'R9.1'] },
        { kind: 'power', voltage: '3 V', pins: ['R9.2', 'BT1.1', 'U1.2'] },
        { kind: 'power', voltage: '5 V', pins: ['U1.3', 'C1.1'] },
      ]),
    ).toEqual(['supplied-inductor', 'higher']);
  });

  test('a coil is told behind the capacitor that tunes it', () => {
    expect(clues([{ pins: ['U1.1', 'L2.1'] }])[0]).toBe('coil');
    expect(clues([{ pins: ['U1.1', 'C1.1'] }, { pins: ['C1.2', 'L2.1'] }])[0]).toBe('coil');
  });
});

describe('a cell behind a connector, and supplies without a voltage', () => {
  const parts = {
    ...{ ...PARTS, J1: 'BoardToBoardConnector', J2: 'BoardToBoardConnector', J3: 'Connector' },
    F1: 'Fuse',
  };
  const clues = (nets: readonly object[], connections: readonly object[] = []) => {
    const specimen = specimenOf(parts, nets, { connections });
    const component = specimen.components.get('U1');
    const { pins = [], step } = (component && netCluesOf(specimen, component)) ?? {};
    return [pins.find(({ label }) => label === '1')?.may.join(' '), step];
  };
  const node = { pins: ['U1.1', 'L1.1'] };
  const made = { kind: 'power', voltage: '5 V', pins: ['U1.3', 'C1.1'] };
  const wire = { medium: 'wire' };

  test.each([
    [
      'a pair of connectors',
      [{ between: ['J1', 'J2'], medium: 'contact', pins: [['1', '7']] }],
      'J1.1',
      'J2.7',
    ],
    [
      'a pair of connectors, the other way round',
      [{ between: ['J2', 'J1'], medium: 'contact', pins: [['7', '1']] }],
      'J1.1',
      'J2.7',
    ],
    ['connectors whose nets have one name', [{ between: ['J1', 'J2'], medium: 'contact' }], 'J1.1', 'J2.1'],
  ])('%s', (_, connections, here, there) => {
    const nets = [
      node,
      made,
      { kind: 'power', label: 'VP', pins: ['U1.2', 'L1.2', here] },
      { kind: 'power', label: 'VP', voltage: '3 V', pins: [there, 'BT1.1'] },
    ];
    expect(clues(nets, connections)).toEqual(['supplied-inductor', 'higher']);
  });

  test('behind a fuse; over a lead with nothing but this supply, traced to the cell or to nothing', () => {
    const nets = (pins: readonly string[]) => [
      node,
      made,
      { kind: 'power', voltage: '3 V', pins: ['U1.2', 'L1.2', ...pins] },
      { kind: 'ground', pins: ['J3.2', 'C1.2'] },
    ];
    expect(clues([...nets(['F1.1']), { kind: 'power', pins: ['F1.2', 'BT1.1'] }])).toEqual([
      'supplied-inductor',
      'higher',
    ]);
    expect(clues(nets(['J3.1']), [{ between: ['BT1', 'J3'], ...wire }])).toEqual([
      'supplied-inductor',
      'higher',
    ]);
    expect(clues(nets(['J3.1']))).toEqual(['supplied-inductor', 'higher']);
    // A connector with more than one line besides may as well take the supply along to another board.
    const lines = [{ pins: ['J3.3', 'U2.1'] }, { pins: ['J3.4', 'U2.2'] }];
    expect(clues([...nets(['J3.1']), ...lines])).toEqual(['switch-node', undefined]);
  });

  test('a supply with a voltage beside a cell without one is unlike it', () => {
    const cell = { kind: 'power', label: 'VBAT', pins: ['U1.1', 'BT1.1'] };
    const rail = { kind: 'power', label: '3V0', pins: ['U1.5', 'U2.1'] };
    expect(clues([cell, { ...rail, voltage: '3 V' }])[1]).toBe('unlike');
    expect(clues([cell, rail])[1]).toBeUndefined();
    expect(
      clues([
        { kind: 'power', label: 'VBUS', pins: ['U1.1', 'J1.1'] },
        { ...rail, voltage: '3 V' },
      ])[1],
    ).toBeUndefined();
  });
});

describe('what a chip is by its circuit', () => {
  const first = (components: Record<string, string | object>, nets: readonly object[]) => {
    const specimen = specimenOf(components, nets);
    const [one] = specimen.oddsOf('U1', UNNAMED)?.classes ?? [];
    return one?.term;
  };
  const chip = (outline: string, pins: number) => ({ appears: 'IntegratedCircuit', package: outline, pins });
  const parts = {
    ...{
      L1: 'Inductor',
      C1: 'Capacitor',
      C2: 'Capacitor',
      C3: 'Capacitor',
      C4: 'Capacitor',
      BT1: 'PouchCell',
    },
    U2: { appears: 'Microcontroller' },
  };

  test.each([
    ['WLCSP-6', 6, '5 V', 'BoostConverter'],
    ['WLCSP-5', 5, '5 V', 'BoostConverter'],
    ['SOT-23-5', 5, '9 V', 'BoostConverter'],
    ['DFN-6', 6, '4.5 V', 'BoostConverter'],
  ])('%s with an inductor at the cell and %i pins that makes %s', (outline, pins, voltage, term) => {
    const nets = [
      { kind: 'power', voltage: '3.7 V', pins: ['U1.1', 'L1.1', 'BT1.1', 'C1.1'] },
      { pins: ['U1.2', 'L1.2'] },
      { kind: 'power', voltage, pins: ['U1.3', 'C2.1', 'U2.1'] },
      { pins: ['U1.4', 'U2.2'] },
      { kind: 'ground', pins: ['U1.5', 'BT1.2', 'C1.2', 'C2.2', 'U2.3', ...(pins > 5 ? ['U1.6'] : [])] },
    ];
    expect(first({ ...parts, U1: chip(outline, pins) }, nets)).toBe(term);
  });

  test.each([
    ['WLCSP-6', 6, '1.8 V'],
    ['WLCSP-5', 5, '1.1 V'],
    ['SOT-23-5', 5, '2.5 V'],
  ])('%s with %i pins and an inductor at the %s that it makes is a step-down', (outline, pins, voltage) => {
    const nets = [
      { kind: 'power', voltage: '3.7 V', pins: ['U1.1', 'BT1.1', 'C1.1'] },
      { pins: ['U1.2', 'L1.2'] },
      { kind: 'power', voltage, pins: ['U1.3', 'L1.1', 'C2.1', 'U2.1'] },
      { pins: ['U1.4', 'U2.2'] },
      { kind: 'ground', pins: ['U1.5', 'BT1.2', 'C1.2', 'C2.2', 'U2.3', ...(pins > 5 ? ['U1.6'] : [])] },
    ];
    expect(first({ ...parts, U1: chip(outline, pins) }, nets)).toBe('BuckConverter');
  });

  test.each(['SOT-23-5', 'X2SON-5', 'WLCSP-4'])(
    '%s: what makes a supply with a voltage from a cell without one is no load switch',
    (outline) => {
      const nets = (voltage: object) => [
        { kind: 'power', label: 'VBAT', pins: ['U1.1', 'BT1.1', 'C1.1'] },
        { kind: 'ground', pins: ['U1.2', 'BT1.2', 'C1.2', 'C2.2', 'U2.3'] },
        { pins: ['U1.3', 'U2.2'] },
        { kind: 'power', label: '3V0', ...voltage, pins: [`U1.${outline.at(-1)}`, 'C2.1', 'U2.1'] },
      ];
      const odds = (voltage: object) => {
        const one = specimenOf({ ...parts, U1: chip(outline, Number(outline.at(-1))) }, nets(voltage)).oddsOf(
          'U1',
          UNNAMED,
        );
        const of = (term: string) => one?.classes.find((each) => each.term === term)?.probability ?? 0;
        return of('LinearRegulator') / of('LoadSwitch');
      };
      // Without a voltage one is as good a guess as the other.
      expect(odds({ voltage: '3 V' })).toBeGreaterThan(1.5);
      expect(odds({ voltage: '3 V' })).toBeGreaterThan(1.8 * odds({}));
    },
  );

  test('a coil on both sides, a reservoir and a charger behind it: a receiver of wireless power', () => {
    const nets = [
      { pins: ['U1.1', 'C1.1', 'C3.1'] },
      { pins: ['C1.2', 'L9.1'] },
      { pins: ['U1.2', 'L9.2', 'C4.1'] },
      { kind: 'power', pins: ['U1.3', 'C2.1'] },
      { kind: 'power', voltage: '5 V', pins: ['U1.4', 'U3.1'] },
      { pins: ['U1.5', 'C3.2'] },
      { pins: ['U1.6', 'C4.2'] },
      { kind: 'ground', pins: ['U1.7', 'C2.2', 'U3.2'] },
    ];
    expect(first({ ...parts, U1: chip('WLCSP-9', 9), L9: 'Coil', U3: 'Charger' }, nets)).toBe(
      'WirelessPowerReceiver',
    );
  });

  test('two electrodes in, gain set outside, lead-off and shutdown lines: a front end, no operational amplifier', () => {
    const r = {
      R1: 'Resistor',
      R2: 'Resistor',
      R3: 'Resistor',
      R4: 'Resistor',
      E1: 'Electrode',
      E2: 'Electrode',
    };
    const nets = [
      { kind: 'power', voltage: '1.8 V', pins: ['U1.1', 'U2.1', 'C1.1'] },
      { pins: ['U1.2', 'R1.1', 'C2.1'] },
      { pins: ['R1.2', 'E1.1'] },
      { pins: ['U1.3', 'R2.1', 'C2.2'] },
      { pins: ['R2.2', 'E2.1'] },
      { pins: ['U1.4', 'R3.1'] },
      { pins: ['U1.5', 'R3.2', 'R4.1', 'C3.1'] },
      { pins: ['U1.6', 'R4.2', 'C3.2', 'U2.2'] },
      { pins: ['U1.7', 'U2.3'] },
      { pins: ['U1.8', 'U2.4'] },
      { pins: ['U1.9', 'C4.1'] },
      { kind: 'ground', pins: ['U1.10', 'U2.5', 'C1.2', 'C4.2'] },
    ];
    for (const outline of ['WLCSP-12', 'QFN-14'])
      expect(first({ ...parts, ...r, U1: chip(outline, Number(outline.split('-')[1])) }, nets)).toBe(
        'AnalogueFrontEnd',
      );
  });
});

test('what a net tells is not counted again as a neighbour or a bus', () => {
  const connections = [
    { between: ['U1', 'Y1'], medium: 'trace' },
    { between: ['U1', 'U2'], medium: 'trace', bus: 'I2C' },
    { between: ['U1', 'LD1'], medium: 'trace' },
  ];
  const specimen = specimenOf(
    { ...PARTS, U2: 'Sensor' },
    [{ pins: ['U1.1', 'Y1.1'] }, { pins: ['U1.2', 'U2.1'], bus: 'I2C' }],
    { connections },
  );
  const component = specimen.components.get('U1');
  if (!component) throw new Error('U1 is there');
  expect(neighboursOf(specimen, 'U1')).toEqual([
    { category: 'Crystal', bus: undefined },
    { category: 'Sensor', bus: 'I2C' },
    { category: 'Emitter', bus: undefined },
  ]);
  // The net tells of the crystal and of the bus; who is on the bus, and what no net reaches, is news.
  expect(neighboursOf(specimen, 'U1', netCluesOf(specimen, component))).toEqual([
    { category: 'Sensor', bus: undefined },
    { category: 'Emitter', bus: undefined },
  ]);
});

test('clues take time in proportion to the pins: a rail and a ground of thousands', () => {
  const many = (count: number) => {
    const chips = Object.fromEntries(
      Array.from({ length: count }, (_, at) => [`U${at + 1}`, 'IntegratedCircuit']),
    );
    const pins = (pin: number) => Object.keys(chips).map((id) => `${id}.${pin}`);
    return specimenOf(chips, [
      { kind: 'power', pins: pins(1) },
      { kind: 'ground', pins: pins(2) },
    ]);
  };
  const time = (specimen: OpenedSpecimen) => {
    const from = process.cpuUsage();
    for (const component of specimen.components.values()) netCluesOf(specimen, component);
    const { user } = process.cpuUsage(from);
    return user / 1000;
  };
  time(many(500));
  // Were every pair visited, 4,000 pins would be 16 million visits, and more than a second.
  expect(time(many(4_000))).toBeLessThan(400);
});
