import { describe, expect, test } from 'vitest';
import { changed, GOOD_CATALOGUE, GOOD_DOSSIER, problemsIn } from '../files.ts';
import { findingsIn } from './findings.ts';

/** The sound dossier with nets, and perhaps more fields of U1; on line 42 stands `nets:`. */
function withNets(nets: string, of = '', more: (text: string) => string = (text) => text): readonly string[] {
  const dossier = changed(
    GOOD_DOSSIER,
    'observations:',
    `${nets === '' ? '' : `nets:\n${nets}`}observations:`,
  );
  const full = of === '' ? dossier : changed(dossier, 'package: LGA-14', `package: LGA-14\n${of}`);
  return findingsIn([more(full), GOOD_CATALOGUE]);
}

const PINOUT =
  '    pinout: [{ number: 1, name: VDD }, { number: 4, name: SDA }, { number: 7, name: GND }, { number: 8, name: GND }]\n';

describe('nets', () => {
  test('of one pin each, of components whose pins are not known, and of what names share, are sound', () => {
    expect(
      withNets(
        '  - { id: v1, kind: power, voltage: 1.8 V, pins: [U1.1, U2] }\n  - { id: gnd, kind: ground, pins: [U1.GND, U2] }\n  - { id: agnd, kind: ground, voltage: 0 V, pins: [U1.GND, U2] }\n',
        PINOUT,
      ),
    ).toEqual([]);
  });

  test.each([
    [
      'a pin in two nets',
      '  - { id: sda, kind: signal, pins: [U1.4, U2.4] }\n  - { id: scl, kind: signal, pins: [U1.4, U2.5] }\n',
      '',
      [
        'a.yaml:43 nets[1].pins[0]: U1.4 is in net "scl" and, on line 42, in net "sda" — take it out of one of them, or make one net of the two',
      ],
    ],
    [
      'a pin in two nets, once by number and once by name',
      '  - { id: sda, kind: signal, pins: [U1.4, U2.4] }\n  - { id: scl, kind: signal, pins: [U1.SDA, U2.5] }\n',
      PINOUT.trimEnd(),
      [
        'a.yaml:44 nets[1].pins[0]: U1.SDA is in net "scl" and, on line 43, in net "sda", as U1.4 — take it out of one of them, or make one net of the two',
      ],
    ],
    [
      'a pin twice in one net',
      '  - { id: sda, kind: signal, pins: [U1.4, U2.4, U1.4] }\n',
      '',
      ['a.yaml:42 nets[0].pins[2]: U1.4 is in net "sda" twice — list each pin once'],
    ],
    [
      'a pin of nothing',
      '  - { id: sda, kind: signal, pins: [U1.4, U9.4] }\n',
      '',
      ['a.yaml:42 nets[0].pins[1]: no component is called "U9" in this dossier — did you mean "U1" or "U2"?'],
    ],
    [
      'a pin beyond those counted',
      '  - { id: sda, kind: signal, pins: [U1.15, U1.16, U2.4] }\n',
      '    pins: 14',
      [
        'caution a.yaml:43 nets[0].pins[0]: pin 15 (and 1 more) of U1 is beyond its 14 pins — check the number; a pad below counts as a pin',
      ],
    ],
    [
      'a pin that the pinout does not have',
      '  - { id: sda, kind: signal, pins: [U1.SCL, U2.4] }\n',
      PINOUT.trimEnd(),
      [
        'caution a.yaml:43 nets[0].pins[0]: pin SCL of U1 is not in the pinout of U1 — check number or name, or add it to the pinout',
      ],
    ],
    [
      'a signal with a voltage',
      '  - { id: sda, kind: signal, voltage: 1.8 V, pins: [U1.4] }\n',
      '',
      [
        'caution a.yaml:42 nets[0].voltage: net "sda" is a signal with a voltage — write kind: power for a supply, or leave it out',
      ],
    ],
    [
      'ground on the power bus, with a voltage',
      '  - { id: gnd, kind: ground, voltage: 3 V, bus: power, pins: [U1.4] }\n',
      '',
      [
        'caution a.yaml:42 nets[0].voltage: net "gnd" is ground with a voltage — write kind: power for a supply, or leave it out',
        'caution a.yaml:42 nets[0].bus: net "gnd" is of kind ground, but its bus is power — write kind: power, or leave "bus" out',
      ],
    ],
    [
      'a pinout with a number twice, and more numbers than were counted',
      '  - { id: sda, kind: signal, pins: [U1.1] }\n',
      '    pins: 1\n    pinout: [{ number: 1 }, { number: 1, name: A }, { number: 2 }]',
      [
        'caution a.yaml:32 components[0].pins: U1 has 1 pins, but its pinout lists 2 — correct one of the two; a pad below counts as a pin',
        'caution a.yaml:32 components[0].pins: U1 has 1 pins, but its package LGA-14 has 14 — correct one of the two; a pad below counts as one more',
        'a.yaml:33 components[0].pinout[1].number: pin 1 of U1 is in its pinout twice — give each pin its own number',
      ],
    ],
  ])('%s', (_, nets, of, said) => {
    expect(withNets(nets, of && `${of.trimEnd()}`)).toEqual(said);
  });

  test('the pinout of the part that a component most likely is', () => {
    const dossier = changed(
      GOOD_DOSSIER,
      'observations:',
      'nets:\n  - { id: sda, kind: signal, pins: [U1.SDA, U1.SCL] }\nobservations:',
    );
    const part = 'categories: [Accelerometer], introduced: 2017';
    const catalogue = changed(GOOD_CATALOGUE, part, `${part}, pinout: [{ number: 4, name: SDA }]`);
    expect(findingsIn([dossier, catalogue])).toEqual([
      'caution a.yaml:42 nets[0].pins[1]: pin SCL of U1 is not in the pinout of its part quistle/QWR4T10 — check number or name, or add it to the pinout',
    ]);
    const twice = changed(GOOD_CATALOGUE, part, `${part}, pinout: [{ number: 4 }, { number: 4 }]`);
    expect(findingsIn([GOOD_DOSSIER, twice])).toEqual([
      'b.yaml:9 parts[0].pinout[1].number: pin 4 of quistle/QWR4T10 is in its pinout twice — give each pin its own number',
    ]);
  });
});

test.each([
  ['mated pins', '[[1, 2], [2, 1]]', []],
  [
    'a mated pin named twice',
    '[[1, 2], [1, 3]]',
    ['a.yaml:39 connections[0].pins[1][0]: pin 1 of U1 meets two pins — list each pin of a connector once'],
  ],
])('%s', (_, pins, said) => {
  const dossier = changed(GOOD_DOSSIER, 'bus: I2C', `pins: ${pins.replaceAll(/\d/gu, "'$&'")}`);
  expect(findingsIn([dossier, GOOD_CATALOGUE])).toEqual(said);
});

test('pins that meet are those of components', () => {
  const dossier = changed(GOOD_DOSSIER, 'between: [U1, U2]', "between: [U1, sensor]\n    pins: [['1', '2']]");
  expect(findingsIn([dossier, GOOD_CATALOGUE])).toEqual([
    'a.yaml:38 connections[0].pins: lists pins that meet, but "sensor" is no component — name the two connectors in "between"',
  ]);
});

test('letters that neither IEEE 315 nor common use knows are told of once', () => {
  const more = (ids: readonly string[]) =>
    findingsIn([
      changed(GOOD_DOSSIER, 'connections:', `${ids.map((id) => `  - { id: ${id} }\n`).join('')}connections:`),
      GOOD_CATALOGUE,
    ]);
  // SW, LED, IC and FB in common use; AT and DC in IEEE 315.
  expect(more(['SW1', 'LED3', 'IC2', 'FB1', 'AT1', 'DC1', 'U$5', 'ANT', 'SW_RESET'])).toEqual([]);
  expect(more(['QX1', 'QX2', 'WOBBLE'])).toEqual([
    'caution a.yaml:36 components[2].id: "QX" (2 components) stands for nothing in IEEE 315 or in common use; "Q" is transistor in IEEE 315 — say with "appears" what it plainly is, or write the letters that are printed',
    'caution a.yaml:38 components[4].id: "WOBBLE" stands for nothing in IEEE 315 or in common use; "W" is wire, cable in IEEE 315 — say with "appears" what it plainly is, or write the letters that are printed',
  ]);
});

test('nothing is inside a module that is not fitted', () => {
  const more = '  - { id: U8, board: main, fitted: false }\n  - { id: U9, inside: U8 }\nconnections:';
  expect(findingsIn([changed(GOOD_DOSSIER, 'connections:', more), GOOD_CATALOGUE])).toEqual([
    'caution a.yaml:37 components[3].inside: U9 is inside U8, which is not fitted — write fitted: false for U9 too',
  ]);
});

test('nothing is read on a place that is not fitted', () => {
  const dossier = changed(
    GOOD_DOSSIER,
    'marking: 1E30\n    package',
    'marking: 1E30\n    fitted: false\n    package',
  );
  const fix = 'leave "fitted" out where something is soldered, else leave this out';
  expect(findingsIn([dossier, GOOD_CATALOGUE])).toEqual([
    `caution a.yaml:30 components[0].marking: U1 is not fitted, but has a marking — ${fix}`,
    `caution a.yaml:43 observations[0]: U1 is not fitted, but a marking of it is read — ${fix}`,
    `caution a.yaml:48 identifications[0]: U1 is not fitted, but is identified — ${fix}`,
  ]);
});

test.each([
  [
    'outline: { length: 30, width: 20 }',
    'outline: { points: [[0, 0], [30, 0]] }',
    'has too few corners — write at least 3, or 2 with an arc',
  ],
  [
    'outline: { length: 30, width: 20 }',
    'outline: { points: [[0, 0], { to: [9, 9] }, [3, 0]] }',
    '"through" is missing — add it: A point of the arc that leads to it from the corner before',
  ],
  ['package: LGA-14', 'pinout: [{ direction: input }]', 'has neither number nor name — give at least one'],
  ['package: LGA-14', 'pinout: [1]', '1 is a number — write a group { number: …, name: … }'],
  ['package: LGA-14', 'fited: false', '"fited" is not a field here — did you mean "fitted"?'],
  [
    'observations:',
    'nets: [{ id: sda, pins: [U1.4] }]\nobservations:',
    '"kind" is missing — add it: ground, power or signal',
  ],
  [
    'observations:',
    'nets: [{ id: sda, kind: signal, pins: U1.4 }]\nobservations:',
    '"U1.4" is text — write a list: [U1.4]',
  ],
  [
    'observations:',
    'nets: [{ id: sda, kind: signal, pins: [u1.4] }]\nobservations:',
    '"u1.4" is not a valid pin — write designator, dot, and number or name of the pin, such as "U3.4" or "main:U3.SDA"',
  ],
  [
    'observations:',
    'nets: [{ id: v, kind: power, voltage: 1.8, pins: [U1] }]\nobservations:',
    '1.8 has no unit — write it with its unit, such as "1.8 V"',
  ],
])('"%s" written as "%s" is explained', (from, to, said) => {
  expect(problemsIn(changed(GOOD_DOSSIER, from, to))).toEqual([expect.stringContaining(said)]);
});
