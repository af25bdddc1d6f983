import { heldTo, small } from './small-boards.ts';

// Places: distances from edge to edge, sides, outlines. Circuits as common practice has them, no source; all boards invented.

/** A buck converter at 5, 10 with a body of 2 by 2, and its coil elsewhere. */
const buckWith = (coil: string) => `
  board main rigid 40x20
  net VBAT 3.7V
  net VDD 1.8V
  U1 BuckConverter 5,10 2x2: VIN=VBAT EN=VBAT SW=LX FB=VDD GND=GND
  L1 Inductor ${coil}: 1=LX 2=VDD
  C1 Capacitor 30,10 1x0.5: 1=VDD 2=GND
  U2 Microcontroller 35,10 4x4: VDD=VDD VSS=GND`;
const RADIO_BOARD = `
  board main rigid 40x20
  net VDD 1.8V`;

heldTo([
  small('coil-close', buckWith('8,10 2x2'), {
    holds: { 'converter-close-to-its-inductor': '1 mm from edge to edge' },
    not: {
      'decoupling-at-the-supply-pin':
        'the one capacitor is 2.5 mm from the processor and far from the converter',
    },
  }),
  small('coil-long-and-close', buckWith('14,10 8x2'), {
    holds: { 'converter-close-to-its-inductor': '9 mm from centre to centre, 4 mm from edge to edge' },
  }),
  small('coil-long-and-turned', buckWith('14,10 8x2 rot=90'), {
    not: { 'converter-close-to-its-inductor': 'turned upright, the coil keeps 7 mm' },
  }),
  small(
    'coil-of-another-converter',
    `${buckWith('22,10 2x2')}
  U3 LinearRegulator 12,4 2x2: IN=VBAT OUT=VRF GND=GND
  net VRF 1.2V
  L9 Inductor 8,10 1x0.5: 1=RF1 2=RF2
  U4 BluetoothRadio 12,10 3x3: VDD=VRF RF=RF1 GND=GND
  AE1 ChipAntenna 12,19 3x1: 1=RF2`,
    {
      not: {
        'converter-close-to-its-inductor':
          'its own coil is 15 mm away; the coil beside it matches the antenna',
      },
    },
  ),
  small(
    'coil-at-a-linear-regulator',
    `
  board main rigid 40x20
  net VBAT 3.7V
  net VIN_F power
  net VDD 1.8V
  L1 Inductor 5,5 1x0.5: 1=VBAT 2=VIN_F
  U1 LinearRegulator 7,5 2x2: IN=VIN_F OUT=VDD GND=GND`,
    { not: { 'converter-close-to-its-inductor': 'the regulator is linear; the coil filters its input' } },
  ),
  ...[
    ['coil-that-matches-an-antenna', 'L1 Inductor 8,10 1x0.5: 1=RF1 2=RF2'],
    ['coil-from-the-antenna-to-ground', 'L1 Inductor 8,10 1x0.5: 1=RF1 2=GND'],
    ['coil-that-feeds-the-antenna-pin', 'L1 Inductor 8,10 1x0.5: 1=RF1 2=VDD'],
  ].map(([id, coil]) =>
    small(
      id,
      `
  board main rigid 40x20
  net VDD 1.8V
  U1 BluetoothRadio+PowerManagement 5,10 4x4: VDD=VDD ANT=RF1 GND=GND
  ${coil}
  C1 Capacitor 9,12 1x0.5: 1=RF1 2=RF2
  AE1 ChipAntenna 12,19 3x1: 1=RF2`,
      { not: { 'converter-close-to-its-inductor': 'the coil belongs to the antenna, not to a switch node' } },
    ),
  ),
  small(
    'coil-across-two-pins',
    `
  board main rigid 40x20
  net VBAT 3.7V
  net V3 3.3V
  U1 BuckBoostConverter 5,10 2x2: VIN=VBAT LX1=LXA LX2=LXB VOUT=V3 GND=GND
  L1 Inductor 8,10 2x2: 1=LXA 2=LXB`,
    {
      holds: { 'converter-close-to-its-inductor': 'the coil lies between two switch nodes of one converter' },
    },
  ),
  small(
    'boost-with-its-coil',
    `
  board main rigid 40x20
  net VBAT 3.7V
  net V5 5.0V
  U1 BoostConverter 5,10 2x2: VIN=VBAT SW=LXB VOUT=V5 GND=GND
  L1 Inductor 5,14 3x3: 1=VBAT 2=LXB`,
    { holds: { 'converter-close-to-its-inductor': 'the coil from cell to switch node is 1.5 mm away' } },
  ),

  small(
    'capacitor-at-the-pin',
    `
  board main rigid 40x20
  net VDD_1V8 1.8V
  U2 Microcontroller 10,10 4x4 catalogued part=mcu-d: 1:VDD=VDD_1V8 2:VSS=GND
  C1 Capacitor 13,10 1x0.5: 1=VDD_1V8 2=GND`,
    {
      holds: {
        'decoupling-at-the-supply-pin': 'half a millimetre from the chip, from its supply to ground',
      },
    },
  ),
  small(
    'capacitor-at-other-pins',
    `
  board main rigid 40x20
  net VDD_1V8 1.8V
  U2 Microcontroller 10,10 4x4: VDD=VDD_1V8 VSS=GND NRST=NRST RF=RF_OUT
  C1 Capacitor 13,10 1x0.5: 1=NRST 2=GND
  C2 Capacitor 7,10 1x0.5: 1=RF_OUT 2=RF_ANT
  C3 Capacitor 30,10 1x0.5: 1=VDD_1V8 2=GND
  C4 Capacitor 10,13 1x0.5 unfitted: 1=VDD_1V8 2=GND`,
    {
      not: {
        'decoupling-at-the-supply-pin':
          'near are the capacitors of reset and antenna and an empty place; that of the supply is 17 mm away',
      },
    },
  ),
  small(
    'capacitor-of-the-other-board',
    `
  board main rigid 40x20
  board cap rigid 40x20
  net VDD 1.8V
  net VDD_C power
  U1 Microcontroller @main 10,10 4x4: VDD=VDD VSS=GND
  C1 Capacitor @main 30,10 1x0.5: 1=VDD 2=GND
  J1 Connector @main 35,10 4x2: 1=VDD 2=GND
  J2 Connector @cap 35,10 4x2: 1=VDD_C 2=GND_C
  mate J1 J2 1-1 2-2
  C1 Capacitor @cap 12.8,10 1x0.5: 1=VDD_C 2=GND_C`,
    {
      not: {
        'decoupling-at-the-supply-pin': 'the C1 near 10, 10 is on the other board; its own C1 is far away',
      },
    },
  ),
  small(
    'capacitor-turned-away',
    `
  board main rigid 40x20
  net VDD 1.8V
  U1 Microcontroller 10,10 8x2 rot=90: VDD=VDD VSS=GND
  C1 Capacitor 15,10 1x0.5: 1=VDD 2=GND`,
    {
      not: {
        'decoupling-at-the-supply-pin':
          'the narrow body stands upright, so that the capacitor is 3.5 mm away',
      },
    },
  ),

  small(
    'crystal-at-the-radio',
    `${RADIO_BOARD}
  U1 Microcontroller+BluetoothRadio 10,10 4x4: VDD=VDD VSS=GND XC1=X1 XC2=X2 ANT=RF
  Y1 Crystal 14,10 2x1.6: 1=X1 2=GND 3=X2 4=GND`,
    { holds: { 'crystal-beside-the-radio': 'the crystal is 1 mm away and on the oscillator pins' } },
  ),
  small(
    'oscillator-at-the-radio',
    `${RADIO_BOARD}
  U1 SatelliteReceiver 10,10 5x5: VCC=VDD GND=GND XTAL_I=TCXO_IN
  C1 Capacitor 14,10 0.6x0.3: 1=TCXO_OUT 2=TCXO_IN
  Y1 Oscillator 16,10 2x1.6: VDD=VDD GND=GND OUT=TCXO_OUT`,
    {
      holds: {
        'crystal-beside-the-radio': 'the oscillator drives the receiver through a capacitor, 2.5 mm away',
      },
    },
  ),
  small(
    'crystal-of-the-clock-near-the-radio',
    `${RADIO_BOARD}
  U1 BluetoothRadio 10,10 4x4: VDD=VDD VSS=GND XTAL_P=XP XTAL_N=XN
  Y1 Crystal 24,10 2x1.6: 1=XP 3=XN 2=GND
  U2 RealTimeClock 16,10 2x2: VDD=VDD GND=GND OSCI=K1 OSCO=K2
  Y2 Crystal 13.5,10 1.6x1: 1=K1 2=K2`,
    {
      not: {
        'crystal-beside-the-radio':
          'the crystal beside the radio is that of the clock; its own is 11 mm away',
      },
    },
  ),
  small(
    'crystal-turned-towards-the-radio',
    `${RADIO_BOARD}
  U1 WifiRadio 10,10 4x4: VDD=VDD VSS=GND XI=XI XO=XO
  Y1 Crystal 17.5,10 5x1.2: 1=XI 2=XO`,
    { holds: { 'crystal-beside-the-radio': '7.5 mm from centre to centre, 3 mm from edge to edge' } },
  ),
  small(
    'crystal-turned-from-the-radio',
    `${RADIO_BOARD}
  U1 WifiRadio 10,10 4x4: VDD=VDD VSS=GND XI=XI XO=XO
  Y1 Crystal 17.5,10 5x1.2 rot=90: 1=XI 2=XO`,
    { not: { 'crystal-beside-the-radio': 'turned upright, it keeps 4.9 mm' } },
  ),

  small(
    'temperature-far-from-the-buck',
    `
  board main rigid 40x20
  U1 TemperatureSensor 3,10 2x2: VDD=VDD
  U2 BuckConverter 30,10 2x2: FB=VDD
  U3 Charger 35,10 2x2 : BAT=VBAT
  U4 BuckConverter 6,10 2x2 unfitted: FB=VDD
  net VDD power
  net VBAT power`,
    {
      holds: {
        'temperature-away-from-heat': 'the converter is 25 mm away; the place beside the sensor is empty',
      },
    },
  ),
  small(
    'temperature-on-its-own-board',
    `
  board main rigid 40x20
  board skin flex 40x20
  U1 TemperatureSensor @skin 10,10 2x2: VDD=VDD_S
  U2 Charger @main 12,10 2x2: BAT=VBAT
  U3 ApplicationProcessor @main 10,10 8x8: VDD=VDD
  net VDD power
  net VDD_S power
  net VBAT power`,
    { holds: { 'temperature-away-from-heat': 'the hot chips are on another board' } },
  ),
  small(
    'temperature-beside-a-power-chip',
    `
  board main rigid 40x20
  U1 TemperatureSensor 10,10 2x2: VDD=VDD
  U2 PowerManagement+Charger+BuckConverter 16,10 3x3: VOUT1=VDD
  net VDD power`,
    { not: { 'temperature-away-from-heat': 'a chip that charges and converts is 3.5 mm away' } },
  ),
  small(
    'temperature-near-a-large-processor',
    `
  board main rigid 40x20
  U1 TemperatureSensor 10,10 2x2: VDD=VDD
  U2 ApplicationProcessor 21,10 12x12: VDD=VDD
  net VDD power`,
    { not: { 'temperature-away-from-heat': '11 mm from centre to centre, but 4 mm from edge to edge' } },
  ),
  small(
    'temperature-charger-somewhere',
    `
  board main rigid 40x20
  U1 TemperatureSensor 10,10 2x2: VDD=VDD
  U2 Charger: BAT=VBAT
  net VDD power
  net VBAT power`,
    {
      not: {
        'temperature-away-from-heat': 'nobody wrote down where the charger is, so this cannot be said',
      },
    },
  ),

  small(
    'connector-under-a-sensor',
    `
  board main rigid 40x20
  U1 Accelerometer 10,10 3x3 top: VDD=VDD
  J1 BoardToBoardConnector 11,10 8x2.5 bottom: 1=VDD
  net VDD power`,
    { holds: { 'interconnect-over-a-sensitive-part': 'the connector lies under the accelerometer' } },
  ),
  small(
    'connector-turned-under-a-sensor',
    `
  board main rigid 40x20
  U1 PressureSensor 15,14 2x2 top: VDD=VDD
  J1 FlexConnector 15,10 12x2 rot=90 bottom: 1=VDD
  net VDD power`,
    {
      holds: {
        'interconnect-over-a-sensitive-part': 'the connector stands upright and reaches under the sensor',
      },
    },
  ),
  small(
    'connector-beside-a-sensor',
    `
  board main rigid 40x20
  board other rigid 40x20
  U1 PressureSensor 15,14 2x2 top: VDD=VDD
  J1 FlexConnector 15,10 12x2 bottom: 1=VDD
  J2 FlexConnector 15,14 8x2 top @other: 1=VDD_O
  J3 FlexConnector 30,10 8x2 bottom: 1=VDD
  U2 FlashMemory 30,10 4x4 top: VCC=VDD
  U3 Gyroscope 38,10 2x2 bottom: VDD=VDD
  net VDD power
  net VDD_O power`,
    {
      not: {
        'interconnect-over-a-sensitive-part':
          'one connector ends 2 mm short of the sensor, one is on another board, one lies over a memory',
      },
    },
  ),

  small(
    'antenna-at-the-edge',
    `
  board main rigid 40x20
  net VDD 1.8V
  AE1 ChipAntenna 38,10 2x5: FEED=ANT NC=-
  L1 Inductor 35.5,10 1x0.5: 1=ANT 2=RF
  C1 Capacitor 35.5,11 1x0.5: 1=ANT 2=GND
  U1 Microcontroller+BluetoothRadio 28,10 5x5: ANT=RF VDD=VDD VSS=GND
  C2 Capacitor 36,4 1x0.5 unfitted: 1=VDD 2=GND`,
    {
      holds: {
        'antenna-clear-at-the-edge': '1 mm from the edge; only coil and capacitor of its feed are near',
      },
    },
  ),
  small(
    'antenna-crowded',
    `
  board main rigid 40x20
  net VDD 1.8V
  AE1 ChipAntenna 38,10 2x5: FEED=ANT
  L1 Inductor 35.5,10 1x0.5: 1=ANT 2=RF
  C2 Capacitor 35.5,8 1x0.5: 1=VDD 2=GND
  U1 Microcontroller+BluetoothRadio 28,10 5x5: ANT=RF VDD=VDD VSS=GND`,
    {
      not: {
        'antenna-clear-at-the-edge': 'a capacitor of the supply is 1 mm away, and that is no matching',
      },
    },
  ),
  small(
    'antenna-in-the-middle',
    `
  board main rigid 40x20
  AE1 ChipAntenna 20,10 2x5: FEED=ANT
  U1 BluetoothRadio 5,10 5x5: ANT=ANT`,
    { not: { 'antenna-clear-at-the-edge': '7.5 mm from the nearest edge' } },
  ),
  small(
    'antenna-at-the-step-of-an-outline',
    `
  board main rigid points=0,0;40,0;40,10;14,10;14,24;0,24
  AE1 ChipAntenna 28,9 5x1: FEED=ANT
  U1 BluetoothRadio 7,7 5x5: ANT=ANT`,
    {
      holds: { 'antenna-clear-at-the-edge': 'half a millimetre from the inner step of the outline' },
    },
  ),
  small(
    'antenna-at-a-round-edge',
    `
  board main rigid points=0,15;30,15~15,30;0,15~15,0
  AE1 ChipAntenna 27,15 1x4: FEED=ANT
  U1 BluetoothRadio 12,15 5x5: ANT=ANT`,
    { holds: { 'antenna-clear-at-the-edge': 'a round board of 30 mm; the antenna is 2.5 mm inside' } },
  ),
  small(
    'antenna-at-the-corner-that-is-not-there',
    `
  board main rigid points=0,15;30,15~15,30;0,15~15,0
  AE1 ChipAntenna 20,15 1x4: FEED=ANT
  U1 BluetoothRadio 8,15 5x5: ANT=ANT`,
    { not: { 'antenna-clear-at-the-edge': '9.5 mm from the edge of the round board' } },
  ),
]);
