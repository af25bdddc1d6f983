import { describe, expect, test } from 'vitest';
import { isTerm } from '../../src/model/taxonomy.ts';
import type { DesignComponent } from '../../src/trade-files/board-design.ts';
import { proposeClass } from '../../src/trade-files/class-proposals.ts';
import { meaningfulLabel, proposeNet, proposeNets } from '../../src/trade-files/net-proposals.ts';

// How labels of nets, designators, values and footprints are commonly read: common practice, no source. VBUS: USB 2.0, section 7.2.

const net = (label: string, pins: Parameters<typeof proposeNet>[1] = []) => {
  const { because: _, ...is } = proposeNet({ key: label, label }, pins);
  return is;
};

describe('what a net is, by its label', () => {
  test.each(['GND', 'AGND', 'PGND', 'DGND', 'VSS', 'GND_A', '0V', 'GNDA', '/power/GND'])(
    '%s is ground',
    (label) => {
      expect(net(label)).toEqual({ kind: 'ground' });
    },
  );

  test.each([
    ['+3V3', 3.3],
    ['3V3', 3.3],
    ['+5V', 5],
    ['1V8', 1.8],
    ['+1.8V', 1.8],
    ['VDD_1V8', 1.8],
    ['V3P3', 3.3],
    ['3V3_SENSOR', 3.3],
    ['5V0', 5],
    ['VBUS', 5],
    ['VBAT', undefined],
    ['VCC', undefined],
    ['VSYS', undefined],
    ['AVDD', undefined],
    ['VBACKUP', undefined],
  ])('%s is a supply of %s V', (label, voltage) => {
    expect(net(label)).toEqual({ kind: 'power', ...(voltage === undefined ? {} : { voltage }) });
  });

  test.each([
    ['SDA', 'I2C'],
    ['SENSE_SCL', 'I2C'],
    ['I2C1_SDA', 'I2C'],
    ['SWCLK', 'SWD'],
    ['SWDIO', 'SWD'],
    ['TMS', 'JTAG'],
    ['D+', 'USB'],
    ['USB_DP', 'USB'],
    ['USB_D-', 'USB'],
    ['SPI_MOSI', 'SPI'],
    ['SCLK', 'SPI'],
    ['SENSE_SCLK', 'SPI'],
    ['AFE_SOMI', 'SPI'],
    ['DISP_SDA', 'SPI'],
    ['LCD_SCL', 'SPI'],
    ['SCL_1V8', 'I2C'],
    ['MIC_CLK', 'PDM'],
    ['FLASH_SCK', 'SPI'],
    ['UART_TX', 'UART'],
    ['RXD', 'UART'],
    ['I2S_BCLK', 'I2S'],
    ['QSPI_D0', 'QSPI'],
    ['SD_CMD', 'SDIO'],
    ['RF_ANT', 'rf'],
  ])('%s is a line of %s', (label, bus) => {
    expect(net(label)).toEqual({ kind: 'signal', bus });
  });

  test.each([
    '3V3_EN',
    'VBAT_SENSE',
    'VBUS_DET',
    'VREF',
    'VSYNC',
    'BUTTON',
    'INT1',
    'LED_A',
    'Net-(U1-VDD)',
    'unconnected-(U1-GND)',
    'NetC1_2',
  ])('%s is a signal', (label) => {
    expect(net(label)).toEqual({ kind: 'signal' });
  });

  test('labels that tools make up say nothing; paths of sheets do not count', () => {
    expect(
      ['Net-(R1-Pad2)', 'N$12', 'NetC1_2', '/main/SDA', 'SDA'].map((label) => meaningfulLabel({ label })),
    ).toEqual([undefined, undefined, undefined, 'SDA', 'SDA']);
  });

  test('what the file says comes first, pins come last', () => {
    expect(proposeNet({ key: 'a', label: 'SDA', kind: 'power' }, [])).toMatchObject({
      kind: 'power',
      because: 'the file',
    });
    const named = (...names: string[]) => names.map((name, i) => ({ number: String(i), name }));
    expect(proposeNet({ key: 'a' }, named('GND', 'VSS'))).toEqual({ kind: 'ground', because: 'pins' });
    // An enable and an address pin tied low, on a net called after the cell's protector.
    expect(proposeNet({ key: 'a', label: 'PACK-' }, named('GND', 'EN', 'VSS', 'A0'))).toEqual({
      kind: 'ground',
      because: 'pins',
    });
    expect(proposeNet({ key: 'a' }, named('SDA', 'SDA/TX'))).toEqual({
      kind: 'signal',
      bus: 'I2C',
      because: 'pins',
    });
    expect(proposeNet({ key: 'a' }, named('SDA', 'P0.3'))).toEqual({
      kind: 'signal',
      because: 'nothing else',
    });
    expect(proposeNet({ key: 'a' }, [{ direction: 'power-output' }, { direction: 'power-input' }])).toEqual({
      kind: 'power',
      because: 'pins',
    });
  });
});

test('a supply goes on through fuses, beads and resistors of 0 Ohm to nets that nothing else tells of', () => {
  const part = (designator: string, value: string | undefined, ...nets: string[]): DesignComponent => ({
    designator,
    ...(value === undefined ? {} : { value }),
    pins: nets.map((key, i) => ({ number: String(i + 1), net: key })),
    line: 1,
  });
  const proposals = proposeNets({
    nets: [
      { key: 'a', label: '+5V' },
      ...['b', 'c', 'd', 'e'].map((key) => ({ key, label: `Net-(${key.toUpperCase()}1-Pad1)` })),
      { key: 'f', label: 'BUTTON' },
    ],
    components: [
      part('F1', undefined, 'a', 'b'),
      part('R1', '0R', 'b', 'c'),
      part('R2', '10k', 'c', 'd'),
      part('FB1', '600R', 'c', 'e'),
      part('FB2', undefined, 'd', 'f'),
    ],
  });
  expect([...proposals].map(([key, { kind, voltage, because }]) => [key, kind, voltage, because])).toEqual([
    ['a', 'power', 5, 'label'],
    ['b', 'power', 5, 'a part in series'],
    ['c', 'power', 5, 'a part in series'],
    ['d', 'signal', undefined, 'nothing else'],
    ['e', 'power', 5, 'a part in series'],
    ['f', 'signal', undefined, 'nothing else'],
  ]);
});

describe('what a component may be', () => {
  const component = (said: Partial<DesignComponent>): DesignComponent => ({
    designator: 'U1',
    pins: [],
    line: 1,
    ...said,
  });
  const likeliest = (said: Partial<DesignComponent>) => proposeClass(component(said))?.candidates[0];

  test('two unlike hints that agree make it plain', () => {
    expect(
      proposeClass(component({ designator: 'R3', value: '4k7', footprint: 'R_0402_1005Metric' })),
    ).toEqual({
      candidates: [{ category: 'Resistor', probability: 0.98 }],
      appears: 'Resistor',
      hints: ['designator', 'value', 'footprint'],
    });
    expect(proposeClass(component({ designator: 'TP4', footprint: 'TestPoint_Pad_D1.0mm' }))?.appears).toBe(
      'TestPad',
    );
  });

  test('one hint alone, or one against, does not', () => {
    expect(proposeClass(component({ designator: 'R3' }))?.appears).toBeUndefined();
    expect(
      proposeClass(component({ designator: 'R3', value: '100nF', footprint: 'C_0402' }))?.appears,
    ).toBeUndefined();
    // A thermistor among resistors.
    const thermistor = proposeClass(
      component({ designator: 'R3', value: '10k', footprint: 'R_0402', description: 'NTC thermistor' }),
    );
    expect(thermistor?.appears).toBeUndefined();
  });

  test.each([
    [{ designator: 'FB1', value: '600R@100MHz' }, 'FerriteBead'],
    [{ designator: 'Y1', value: '32.768kHz' }, 'Crystal'],
    [{ designator: 'U3', description: '3-axis accelerometer' }, 'Accelerometer'],
    [{ designator: 'U3', description: 'Beschleunigungssensor' }, 'Accelerometer'],
    [{ designator: 'U3', description: '低压差线性稳压器' }, 'LinearRegulator'],
    [{ designator: 'U4', description: 'LDO regulator 3.3V', footprint: 'SOT-23-5' }, 'LinearRegulator'],
    [{ designator: 'U4', footprint: 'QFN-32' }, 'IntegratedCircuit'],
    [{ designator: 'U4', footprint: 'SOT-23-5' }, 'IntegratedCircuit'],
    [{ designator: 'D2', footprint: 'LED_0603' }, 'Emitter'],
    [{ designator: 'D2', description: 'TVS diode, ESD protection' }, 'SurgeProtector'],
    [{ designator: 'Q1', description: 'N-channel MOSFET' }, 'Transistor'],
    [{ designator: 'J2', footprint: 'USB_C_Receptacle' }, 'CableConnector'],
    [{ designator: 'J2', description: 'FPC connector 0.5 mm' }, 'FlexConnector'],
    [{ designator: 'SW2', value: 'SW_Push', footprint: 'SW_SPST' }, 'Button'],
    [{ designator: 'SW3', description: 'slide switch' }, 'SlideSwitch'],
    [{ designator: 'D7', footprint: 'D_SOD-123' }, 'Diode'],
    [{ designator: 'D1', value: 'D_TVS', footprint: 'D_SMA' }, 'SurgeProtector'],
    [{ designator: 'BT1', footprint: 'BatteryPads' }, 'Battery'],
    [{ designator: 'MK1' }, 'Microphone'],
    [{ designator: 'X9', description: 'chip antenna 2.4 GHz' }, 'ChipAntenna'],
    [{ designator: 'U2', value: 'MCU 32BIT 128KB FLASH' }, 'Microcontroller'],
    // L is an inductor and C a capacitor (IEEE 315, IEC 81346-2); a code without a unit says neither farad nor henry.
    [{ designator: 'L4', value: '10u' }, 'Inductor'],
    [{ designator: 'L4', value: '3n3' }, 'Inductor'],
    [{ designator: 'C4', value: '10u' }, 'Capacitor'],
    [{ designator: 'U4', value: '4k', footprint: 'WLCSP4' }, 'IntegratedCircuit'],
    // The last noun of a phrase is the thing, those before say of which sort (common practice of English, no source).
    [{ designator: 'E1', description: 'snap electrode' }, 'Electrode'],
    [{ designator: 'E2', description: 'touch electrode' }, 'TouchPad'],
    [{ designator: 'E3', description: 'touch pad, copper' }, 'TouchPad'],
    [{ designator: 'U3', description: 'capacitive touch controller' }, 'TouchSensor'],
    [{ designator: 'E3', description: 'inverted-F antenna' }, 'Antenna'],
    [{ designator: 'U4', description: 'class-D speaker amplifier, I2S' }, 'AudioAmplifier'],
    [{ designator: 'U4', description: 'optical front end, 2 receivers, 4 LED drivers' }, 'AnalogueFrontEnd'],
    [{ designator: 'U4', description: 'photodiode amplifier' }, 'Amplifier'],
    [{ designator: 'J4', description: 'battery connector' }, 'Connector'],
    [{ designator: 'U4', description: 'temperature sensor for battery' }, 'TemperatureSensor'],
    [{ designator: 'Y2', description: 'TCXO', value: '19.2MHz' }, 'Oscillator'],
    [{ designator: 'U4', description: 'sensor hub microcontroller' }, 'SensorHub'],
    // Names of the taxonomy.
    [{ designator: 'U4', description: 'application processor, quad core' }, 'ApplicationProcessor'],
    [{ designator: 'U4', description: 'stereo audio codec' }, 'AudioCodec'],
    [{ designator: 'U4', description: 'linear charger' }, 'Charger'],
    [{ designator: 'U4', description: 'wireless power receiver 5 W' }, 'WirelessPowerReceiver'],
    [{ designator: 'U4', description: '6-axis inertial sensors' }, 'InertialSensor'],
    [{ designator: 'U4', description: 'radio-frequency front end' }, 'RadioFrontEnd'],
  ])('%j is likely a %s', (said, category) => {
    expect(likeliest(said)?.category).toBe(category);
    expect(isTerm(category)).toBe(true);
  });

  test('what nothing tells of is left open, and probabilities leave room', () => {
    expect(proposeClass(component({ designator: 'ZZ1' }))).toBeUndefined();
    for (const designator of ['R1', 'L1', 'D1', 'SW1', 'U1']) {
      const { candidates = [] } = proposeClass(component({ designator })) ?? {};
      expect(candidates.reduce((sum, { probability }) => sum + probability, 0)).toBeLessThanOrEqual(1);
      expect(candidates.length).toBeGreaterThan(0);
    }
  });
});
