import { describe, expect, test } from 'vitest';
import { boardOf, cautionsOf, componentOf, problemsOf, reading } from './reading.ts';

// The netlist of an invented clip. Form of the file: KiCad documentation, Schematic Editor, "Intermediate netlist structure"; where its
// writers differ by version (bare words in D, a pin's number behind its name since 10), after published files.

const netlist = (
  components: readonly string[],
  nets: readonly string[],
  parts: readonly string[] = [],
) => `(export (version "E")
  (design (source "/tmp/clip.kicad_sch") (date "2024-02-01T10:00:00") (tool "Eeschema 8.0.1")
    (sheet (number "1") (name "/") (tstamps "/") (title_block (title "Clip (rev. \\"B\\")"))))
  (components
${components.join('\n')})
  (libparts
${parts.join('\n')})
  (libraries (library (logical "Device") (uri "/usr/share/Device.kicad_sym")))
  (nets
${nets.join('\n')}))`;

const REGULATOR = `(comp (ref "U3") (value "QL30") (footprint "own:SOT-23-5") (datasheet "~") (description "Linear regulator, 3.0 V")
      (fields (field (name "MPN") "QL30-T") (field (name "Manufacturer") "Part Maker"))
      (libsource (lib "own") (part "QL30") (description "Regulator"))
      (property (name "Sheetname") (value "Root")) (sheetpath (names "/") (tstamps "/")) (tstamps "1b"))`;
const RESISTOR = (ref: string, more = '') =>
  `(comp (ref "${ref}") (value "4k7") (footprint "Resistor_SMD:R_0402") ${more} (libsource (lib "Device") (part "R") (description "Resistor")))`;
const SYMBOL = `(libpart (lib "own") (part "QL30") (description "Regulator")
      (pins (pin (num "1") (name "VIN") (type "power_in")) (pin (num "2") (name "GND") (type "power_in"))
        (pin (num "3") (name "~{EN}") (type "input")) (pin (num "4") (name "NC") (type "no_connect"))
        (pin (num "5") (name "V_{OUT}") (type "power_out"))))`;
const NETS = [
  '(net (code "1") (name "+3V0") (class "Default") (node (ref "U3") (pin "5") (pinfunction "V_{OUT}") (pintype "power_out")) (node (ref "R1") (pin "1") (pintype "passive")))',
  '(net (code "2") (name "GND") (node (ref "U3") (pin "2") (pinfunction "GND") (pintype "power_in")))',
  '(net (code "3") (name "/Sensor{slash}EN") (node (ref "R1") (pin "2") (pintype "passive")) (node (ref "U3") (pin "3") (pinfunction "~{EN}") (pintype "input")))',
  '(net (code "4") (name "unconnected-(U3-NC-Pad4)") (node (ref "U3") (pin "4") (pinfunction "NC") (pintype "no_connect")))',
];

describe('a KiCad netlist', () => {
  test('components with value, part number, maker and description; pins with names, types and nets', () => {
    const read = boardOf(netlist([REGULATOR, RESISTOR('R1')], NETS, [SYMBOL]));
    expect(componentOf(read, 'U3')).toEqual({
      designator: 'U3',
      footprint: 'SOT-23-5',
      value: 'QL30',
      partNumber: 'QL30-T',
      maker: 'Part Maker',
      description: 'Linear regulator, 3.0 V',
      pins: [
        { number: '5', name: 'VOUT', direction: 'power-output', net: '+3V0' },
        { number: '2', name: 'GND', direction: 'power-input', net: 'GND' },
        { number: '3', name: '~EN', direction: 'input', net: '/Sensor{slash}EN' },
        { number: '4', name: 'NC', direction: 'not-connected' },
        { number: '1', name: 'VIN', direction: 'power-input' },
      ],
      line: 5,
    });
    expect(componentOf(read, 'R1')).toMatchObject({
      value: '4k7',
      description: 'Resistor',
      footprint: 'R_0402',
    });
    expect(read.nets.map(({ label }) => label)).toEqual(['+3V0', 'GND', '/Sensor/EN']);
    expect(reading(netlist([REGULATOR, RESISTOR('R1')], NETS)).format).toBe('kicad-netlist');
  });

  test('version D, in bare words, with fields and no pin functions', () => {
    const read = boardOf(`(export (version D)
  (design (source /tmp/clip.sch) (tool "Eeschema 5.1.9"))
  (components
    (comp (ref U3) (value QL30) (footprint own:SOT-23-5) (fields (field (name MPN) QL30-T)) (libsource (lib own) (part QL30)) (tstamp 5A))
    (comp (ref C1) (value 100n)))
  (libparts (libpart (lib own) (part QL30) (pins (pin (num 1) (name VIN) (type power_in)) (pin (num 2) (name ~) (type passive)))))
  (nets (net (code 1) (name "Net-(C1-Pad1)") (node (ref C1) (pin 1)) (node (ref U3) (pin 1)))))`);
    expect(componentOf(read, 'U3')).toMatchObject({
      partNumber: 'QL30-T',
      pins: [
        { number: '1', name: 'VIN', direction: 'power-input', net: 'Net-(C1-Pad1)' },
        { number: '2', direction: 'passive' },
      ],
    });
    expect(componentOf(read, 'C1').pins).toEqual([{ number: '1', net: 'Net-(C1-Pad1)' }]);
  });

  test('pin functions with the number of the pin behind them, as version 10 writes all of them', () => {
    const nets = (...functions: readonly string[]) =>
      functions.map(
        (one, i) =>
          `(net (code "${i}") (name "N${i}") (node (ref "U3") (pin "${i + 1}") (pinfunction "${one}")) (node (ref "R1") (pin "${i + 1}")))`,
      );
    const names = (...functions: readonly string[]) =>
      componentOf(boardOf(netlist([REGULATOR, RESISTOR('R1')], nets(...functions))), 'U3').pins.map(
        ({ name }) => name,
      );
    expect(names('SDA_1', 'GND_2', 'A_B_3')).toEqual(['SDA', 'GND', 'A_B']);
    expect(names('SDA_1', 'GND', 'A_B_3')).toEqual(['SDA_1', 'GND', 'A_B_3']);
  });

  test('places left empty and symbols that are no part of the board', () => {
    const read = boardOf(
      netlist(
        [
          RESISTOR('R1', '(property (name "dnp"))'),
          RESISTOR('R2', '(property (name "exclude_from_board"))'),
          RESISTOR('R3', '(property (name "exclude_from_bom"))'),
          RESISTOR('R4', '(property (name "DNP") (value "no"))'),
          RESISTOR('#PWR01'),
        ],
        [
          '(net (code "1") (name "GND") (node (ref "R1") (pin "1")) (node (ref "R3") (pin "2")) (node (ref "#PWR01") (pin "1")))',
        ],
      ),
    );
    expect(read.components.map(({ designator, fitted }) => [designator, fitted])).toEqual([
      ['R1', false],
      ['R3', undefined],
      ['R4', undefined],
    ]);
  });

  test('what is wrong is told with its line', () => {
    const wrong = (components: readonly string[], nets: readonly string[]) =>
      problemsOf(netlist(components, nets));
    expect(wrong([RESISTOR('R1'), RESISTOR('R1')], [])).toEqual([
      'file:6: R1 is also in line 5 — number the schematic and export it again',
    ]);
    expect(
      wrong(
        [RESISTOR('R1')],
        ['(net (code "1") (name "A") (node (ref "R9") (pin "1")) (node (ref "R1") (pin "1")))'],
      ),
    ).toEqual(['file:10: net "A" joins R9.1, but no component R9 is listed — export the netlist again']);
    expect(
      wrong(
        [RESISTOR('R1')],
        ['A', 'B'].map(
          (name) => `(net (name "${name}") (node (ref "R1") (pin "1")) (node (ref "R1") (pin "2")))`,
        ),
      )[0],
    ).toBe('file:11: R1.1 lies on "A", in line 10, and on "B" — look at the schematic and export it again');
    expect(wrong([], [])).toEqual([
      'file:1: lists no components — export the netlist of the whole schematic',
    ]);
    expect(problemsOf(netlist([REGULATOR], NETS).slice(0, -2))[0]).toMatch(/ends in the middle/u);
    expect(cautionsOf(netlist([RESISTOR('R?'), RESISTOR('R1')], []))).toEqual([
      'file: 1 component has no number yet (R?) and is left out — number the schematic and export it again',
    ]);
  });
});
