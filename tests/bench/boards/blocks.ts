import type { Circuit } from './circuit.ts';

// Blocks of a circuit, each as an engineer would draw it.

/** Plug, protection, charger, cell, and the first rails. */
export function supply(circuit: Circuit, small: boolean): void {
  const on = 'main';
  circuit.place('plug', on, { VBUS: 'VBUS', GND: 'GND', DP: circuit.fresh('DP'), DM: circuit.fresh('DM') });
  circuit.place('surge', on, { A: 'VBUS', C: 'GND' });
  circuit.place('charger', on, {
    IN: 'VBUS',
    BAT: 'VBAT',
    SYS: 'VSYS',
    GND: 'GND',
    ISET: circuit.pulled(on, 'GND', '2 kOhm'),
  });
  circuit.place('cell', on, { '1': 'VBAT', '2': 'GND' });
  converter(circuit, on, '3V0');
  if (small) {
    circuit.place('linear', on, { IN: '3V0', GND: 'GND', EN: '3V0', OUT: '1V8' });
    circuit.decouple(on, '1V8', 1);
  } else {
    for (const rail of ['VBUS', 'VBAT', 'VSYS']) circuit.decouple(on, rail, 1);
    converter(circuit, on, '1V8');
  }
}

/** A buck converter from VSYS to a rail, with inductor and divider. */
function converter(circuit: Circuit, on: string, rail: string): void {
  const [node, divider] = [circuit.fresh('SW'), circuit.fresh('FB')];
  circuit.place('buck', on, { VIN: 'VSYS', SW: node, FB: divider, EN: 'VSYS', GND: 'GND' });
  circuit.place('inductor', on, { '1': node, '2': rail }, '2.2 uH');
  circuit.place('resistor', on, { '1': rail, '2': divider }, '475 kOhm');
  circuit.place('resistor', on, { '1': divider, '2': 'GND' }, '120 kOhm');
  circuit.place('bulk', on, { '1': rail, '2': 'GND' }, '22 uF');
  circuit.decouple(on, 'VSYS', 1);
}

/** A sensor on the shared bus with its interrupt line. */
export function sensor(circuit: Circuit): void {
  const on = circuit.any();
  const rail = circuit.rail(on);
  const kind = circuit.one(['accelerometer', 'motion', 'magnetometer', 'barometer', 'thermometer'] as const);
  const bus: Readonly<Record<string, string>> =
    circuit.random() < 0.7
      ? { SDA: circuit.bus('SDA'), SCL: circuit.bus('SCL') }
      : {
          SCK: circuit.bus('SCK'),
          MOSI: circuit.bus('MOSI'),
          MISO: circuit.bus('MISO'),
          CS: circuit.line(on),
        };
  for (const name of Object.values(bus)) circuit.cross(on, name);
  circuit.place(kind, on, {
    VDD: rail,
    VDDIO: '1V8',
    GND: 'GND',
    ...bus,
    INT: circuit.series(on, circuit.line(on)),
  });
  circuit.decouple(on, rail, 2);
  if (rail !== '1V8') circuit.decouple(on, '1V8', 1);
}

/** An indicator with its resistor, switched by a line or a transistor. */
export function lamp(circuit: Circuit): void {
  const on = circuit.any();
  const rail = circuit.rail(on);
  const [anode, cathode] = [circuit.fresh('A'), circuit.fresh('K')];
  circuit.place('resistor', on, { '1': rail, '2': anode }, circuit.one(['390 Ohm', '1 kOhm']));
  circuit.place('emitter', on, { A: anode, K: cathode });
  if (circuit.random() < 0.5) {
    const gate = circuit.line(on);
    circuit.place('transistor', on, { G: gate, D: cathode, S: 'GND' });
    circuit.place('resistor', on, { '1': gate, '2': 'GND' }, '100 kOhm');
  } else {
    circuit.place('resistor', on, { '1': cathode, '2': circuit.line(on) }, '22 Ohm');
  }
}

/** An amplifier with its feedback. */
export function stage(circuit: Circuit): void {
  const on = circuit.any();
  const rail = circuit.rail(on);
  const [plus, minus, out] = [circuit.fresh('INP'), circuit.fresh('INM'), circuit.fresh('OUT')];
  circuit.place('amplifier', on, { 'IN+': plus, 'IN-': minus, OUT: out, VDD: rail, VSS: 'GND' });
  circuit.place('resistor', on, { '1': minus, '2': out }, '390 kOhm');
  circuit.place('capacitor', on, { '1': minus, '2': out }, '10 pF');
  circuit.place('resistor', on, { '1': plus, '2': 'GND' }, '10 kOhm');
  circuit.place('resistor', on, { '1': out, '2': circuit.line(on) }, '1 kOhm');
  circuit.decouple(on, rail, 2);
}

/** A filter before an analogue line of the controller. */
export function filter(circuit: Circuit): void {
  const on = circuit.any();
  const rail = circuit.rail(on);
  const [input, output] = [circuit.fresh('IN'), circuit.line(on)];
  circuit.place('resistor', on, { '1': rail, '2': input }, '100 kOhm');
  circuit.place('resistor', on, { '1': input, '2': output }, '1 kOhm');
  circuit.place('capacitor', on, { '1': output, '2': 'GND' }, '100 nF');
  circuit.decouple(on, rail, 1);
}

/** A linear regulator that makes a rail of its own, for the blocks that come. */
export function regulator(circuit: Circuit): void {
  const on = circuit.any();
  const from = on === 'main' ? 'VSYS' : circuit.rail(on);
  const rail = `VA${circuit.next()}`;
  const enabled = circuit.random() < 0.5 ? from : circuit.line(on);
  circuit.place('linear', on, { IN: from, GND: 'GND', EN: enabled, OUT: rail });
  circuit.decouple(on, from, 1);
  circuit.decouple(on, rail, 2);
  if (on === 'main') circuit.rails.push(rail);
}

export function memory(circuit: Circuit): void {
  const on = 'main';
  circuit.place('flash', on, {
    CS: circuit.line(on),
    SCK: circuit.bus('SCK'),
    IO0: circuit.bus('MOSI'),
    IO1: circuit.bus('MISO'),
    IO2: circuit.pulled(on, '1V8', '10 kOhm'),
    IO3: circuit.pulled(on, '1V8', '10 kOhm'),
    VDD: '1V8',
    GND: 'GND',
  });
  circuit.decouple(on, '1V8', 1);
}

/** A front end with lamps and receivers. */
export function pulse(circuit: Circuit): void {
  const on = circuit.boards[1] ?? 'main';
  for (const name of ['SDA', 'SCL']) circuit.cross(on, circuit.bus(name));
  const pins: Record<string, string> = {
    SDA: circuit.bus('SDA'),
    SCL: circuit.bus('SCL'),
    VDD: '1V8',
    GND: 'GND',
    INT: circuit.line(on),
  };
  for (let at = 1; at <= 2; at++) {
    const [anode, cathode] = [circuit.fresh('PDA'), circuit.fresh('PDK')];
    circuit.place('photodiode', on, { A: anode, K: cathode });
    pins[`PDA${at}`] = anode;
    pins[`PDK${at}`] = cathode;
  }
  for (let at = 1; at <= 3; at++) {
    const drive = circuit.fresh('DRV');
    circuit.place('emitter', on, { A: '3V0', K: drive });
    pins[`DRV${at}`] = drive;
  }
  pins.VREF = circuit.pulled(on, 'GND', '1 uF', 'capacitor');
  circuit.place('frontEnd', on, pins);
  circuit.decouple(on, '1V8', 2);
  circuit.decouple(on, '3V0', 2);
}

export function key(circuit: Circuit): void {
  const on = circuit.any();
  const line = circuit.line(on);
  circuit.place('button', on, { '1': line, '2': 'GND' });
  circuit.place('resistor', on, { '1': '1V8', '2': line }, '100 kOhm');
  circuit.place('surge', on, { A: line, C: 'GND' });
  circuit.place('capacitor', on, { '1': line, '2': 'GND' }, '100 nF');
}

/** A rail behind a switch. */
export function switched(circuit: Circuit): void {
  const on = 'main';
  const from = circuit.rail(on);
  const rail = `VS${circuit.next()}`;
  circuit.place('loadSwitch', on, { IN: from, OUT: rail, EN: circuit.line(on), GND: 'GND' });
  circuit.decouple(on, rail, 2);
  circuit.rails.push(rail);
}

export function shifted(circuit: Circuit): void {
  const on = 'main';
  const [far, near] = [circuit.fresh('B1'), circuit.fresh('B2')];
  circuit.place('shifter', on, {
    A1: circuit.line(on),
    A2: circuit.line(on),
    B1: far,
    B2: near,
    VCCA: '1V8',
    VCCB: '3V0',
    GND: 'GND',
  });
  for (const end of [far, near]) circuit.place('resistor', on, { '1': '3V0', '2': end }, '10 kOhm');
  circuit.decouple(on, '1V8', 1);
  circuit.decouple(on, '3V0', 1);
}

/** A radio with its matching network. */
export function transmitter(circuit: Circuit): void {
  const on = 'main';
  const [port, feed, quiet] = [circuit.fresh('RF'), circuit.fresh('FEED'), circuit.fresh('VRF')];
  const [x1, x2] = [circuit.fresh('X1'), circuit.fresh('X2')];
  circuit.place('radio', on, {
    RF: port,
    X1: x1,
    X2: x2,
    VDD: quiet,
    GND: 'GND',
    TX: circuit.line(on),
    RX: circuit.line(on),
  });
  circuit.place('bead', on, { '1': '1V8', '2': quiet }, '600 Ohm');
  circuit.place('capacitor', on, { '1': quiet, '2': 'GND' }, '100 nF');
  circuit.place('inductor', on, { '1': port, '2': feed }, '3.3 nH');
  circuit.place('capacitor', on, { '1': feed, '2': 'GND' }, '1 pF');
  circuit.place('antenna', on, { '1': feed, '2': 'GND' });
  circuit.place('crystal', on, { '1': x1, '2': x2 }, '32 MHz');
  for (const end of [x1, x2]) circuit.place('capacitor', on, { '1': end, '2': 'GND' }, '8 pF');
}

export function shaker(circuit: Circuit): void {
  const on = 'main';
  const [plus, minus] = [circuit.fresh('OUTP'), circuit.fresh('OUTM')];
  circuit.place('haptic', on, {
    SDA: circuit.bus('SDA'),
    SCL: circuit.bus('SCL'),
    EN: circuit.line(on),
    VDD: 'VSYS',
    GND: 'GND',
    OUTP: plus,
    OUTM: minus,
  });
  circuit.place('cell', on, { '1': plus, '2': minus });
  circuit.decouple(on, 'VSYS', 1);
}

/** A port expander: eight more lines, two of them with keys. */
export function expanded(circuit: Circuit): void {
  const on = 'main';
  const keys = [circuit.fresh('P'), circuit.fresh('P')];
  circuit.place('expander', on, {
    SDA: circuit.bus('SDA'),
    SCL: circuit.bus('SCL'),
    INT: circuit.line(on),
    VDD: '1V8',
    GND: 'GND',
    P0: keys[0],
    P1: keys[1],
  });
  for (const key of keys) circuit.place('button', on, { '1': key, '2': 'GND' });
  circuit.decouple(on, '1V8', 1);
}

export function tested(circuit: Circuit): void {
  const on = circuit.any();
  const name = circuit.one(['3V0', '1V8', 'GND', circuit.bus('SDA'), circuit.bus('SCL')]);
  circuit.cross(on, name);
  circuit.place(circuit.random() < 0.9 ? 'pad' : 'hole', on, { '1': name });
}
