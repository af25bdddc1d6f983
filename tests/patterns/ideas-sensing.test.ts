import { heldTo, small } from './small-boards.ts';

// Sensors, emitters, amplifiers and where they sit. Circuits as common practice has them, no source; all boards invented.

heldTo([
  small(
    'amplifier-on-the-sensor-board',
    `
  board main rigid 30x20
  board optics rigid 10x10
  net VDD 3.0V
  net AVDD power
  D1 Photodiode @optics: A=GND_O K=PD_K
  U1 TransimpedanceAmplifier @optics: IN-=PD_K IN+=GND_O OUT=TIA_OUT V+=AVDD V-=GND_O
  R1 Resistor @optics: 1=PD_K 2=TIA_OUT
  R2 Resistor @optics: 1=TIA_OUT 2=SIG_O
  J1 BoardToBoardConnector @optics: 1=SIG_O 2=AVDD 3=GND_O
  J2 BoardToBoardConnector @main: 1=PPG 2=VDD 3=GND
  mate J1 J2 1-1 2-2 3-3
  U2 Microcontroller @main: VDD=VDD VSS=GND AIN0=PPG`,
    {
      holds: {
        'amplifier-at-the-sensor':
          'photodiode and amplifier share a board, and the output crosses to the processor',
      },
      not: { 'converter-in-the-sensor-module': 'photodiode and processor are far from one package' },
    },
  ),
  small(
    'amplifier-at-the-electrode',
    `
  board main rigid 30x20
  board pads flex 60x10
  net VDD 1.8V
  net VA power
  E1 Electrode @pads: 1=E1
  E2 Electrode @pads: 1=E2
  R1 Resistor @pads: 1=E1 2=INP
  R2 Resistor @pads: 1=E2 2=INN
  U1 InstrumentationAmplifier @pads: +IN=INP -IN=INN OUT=ECG VS+=VA VS-=GND_P REF=GND_P
  P1 FlexConnector @pads: 1=ECG 2=VA 3=GND_P
  J1 FlexConnector @main: 1=ECG_M 2=VDD 3=GND
  mate P1 J1 1-1 2-2 3-3
  U2 AnalogueToDigitalConverter @main: VDD=VDD GND=GND AIN0=ECG_M SCK=SCK SDO=SDO
  U3 Microcontroller @main: VDD=VDD GND=GND SCK=SCK MISO=SDO`,
    {
      holds: {
        'amplifier-at-the-sensor':
          'the electrodes are amplified on their flex, the converter is beyond the connector',
      },
    },
  ),
  small(
    'amplifier-beyond-the-connector',
    `
  board main rigid 30x20
  board optics rigid 10x10
  net VDD 3.0V
  D1 Photodiode @optics: A=PD_A K=PD_K
  J1 BoardToBoardConnector @optics: 1=PD_A 2=PD_K
  J2 BoardToBoardConnector @main: 1=GND 2=PDK_M
  mate J1 J2 1-1 2-2
  U1 TransimpedanceAmplifier @main: IN-=PDK_M IN+=GND OUT=PPG V+=VDD V-=GND
  U2 Microcontroller @main: VDD=VDD VSS=GND AIN0=PPG`,
    {
      not: { 'amplifier-at-the-sensor': 'the bare current of the photodiode crosses the connector first' },
    },
  ),
  small(
    'amplifier-of-something-else',
    `
  board main rigid 30x20
  board ear rigid 10x10
  net VDD 1.8V
  net VDD_E power
  D1 Photodiode @ear: A=PD_A K=PD_K
  U1 AudioAmplifier @ear: IN+=AUD_P IN-=AUD_N OUT+=SP_P OUT-=SP_N VDD=VDD_E GND=GND_E
  LS1 Speaker @ear: 1=SP_P 2=SP_N
  J1 BoardToBoardConnector @ear: 1=PD_A 2=PD_K 3=AUD_P 4=AUD_N 5=VDD_E 6=GND_E
  J2 BoardToBoardConnector @main: 1=PDA 2=PDK 3=AP 4=AN 5=VDD 6=GND
  mate J1 J2 1-1 2-2 3-3 4-4 5-5 6-6
  U2 Microcontroller @main: VDD=VDD VSS=GND AIN0=PDA AIN1=PDK DAC0=AP DAC1=AN`,
    { not: { 'amplifier-at-the-sensor': 'the amplifier on the sensor board drives the speaker' } },
  ),
  small(
    'amplifier-all-on-one-board',
    `
  net VDD 3.0V
  D1 Photodiode: A=GND K=PD_K
  U1 TransimpedanceAmplifier: IN-=PD_K IN+=GND OUT=PPG V+=VDD V-=GND
  U2 Microcontroller: VDD=VDD VSS=GND AIN0=PPG SWDIO=SWDIO
  J1 Connector: 1=SWDIO 2=VDD 3=GND`,
    { not: { 'amplifier-at-the-sensor': 'no connector lies between amplifier and processor' } },
  ),
  small(
    'module-with-diode-and-converter',
    `
  net VDD 1.8V
  MOD1 Module: VDD=VDD GND=GND SDA=SDA SCL=SCL
  D1 Photodiode in=MOD1
  U5 AnalogueToDigitalConverter in=MOD1
  U2 Microcontroller: VDD=VDD VSS=GND SDA=SDA SCL=SCL`,
    {
      holds: {
        'converter-in-the-sensor-module': 'both dies are in one package, which gives numbers over I2C',
      },
    },
  ),
  small(
    'module-with-diode-converter-outside',
    `
  net VDD 1.8V
  MOD1 Module: PD_A=PA PD_K=PK LED_K=LK
  D1 Photodiode in=MOD1
  D2 GreenEmitter in=MOD1
  U5 AnalogueToDigitalConverter: VDD=VDD GND=GND AINP=PA AINN=PK SDA=SDA SCL=SCL
  U2 Microcontroller: VDD=VDD VSS=GND SDA=SDA SCL=SCL`,
    { not: { 'converter-in-the-sensor-module': 'the converter stands outside the package' } },
  ),
  small(
    'module-with-processor-and-converter',
    `
  MOD1 Module: VDD=VDD
  net VDD power
  U7 Microcontroller in=MOD1
  U8 AnalogueToDigitalConverter in=MOD1
  MOD2 Module: VDD=VDD
  U9 Accelerometer in=MOD2`,
    { not: { 'converter-in-the-sensor-module': 'converter and sensor are in two packages' } },
  ),
  small(
    'sensor-twice-on-two-boards',
    `
  board main rigid 30x20
  board strap flex 60x10
  U1 TemperatureSensor @main part=temp-a: VDD=VDD
  U1 TemperatureSensor @strap part=temp-a: VDD=VDD_S
  net VDD power
  net VDD_S power`,
    {
      holds: { 'duplicated-sensors': 'one part stands on either board' },
      not: { 'like-sensors-far-apart': 'they are on two boards, whose distance is not known' },
    },
  ),
  small(
    'sensor-twice-one-left-out',
    `
  board main rigid 40x20
  U1 Accelerometer 3,10 3x3 part=acc-b: VDD=VDD
  U2 Accelerometer 35,10 3x3 part=acc-b unfitted: VDD=VDD
  net VDD power`,
    {
      not: {
        'duplicated-sensors': 'the second place is empty',
        'like-sensors-far-apart': 'the second place is empty',
      },
    },
  ),
  small(
    'sensors-of-two-parts',
    `
  board main rigid 40x20
  U1 Accelerometer 3,10 3x3 part=acc-c: VDD=VDD
  U2 Accelerometer+Gyroscope 35,10 3x3 part=imu-c: VDD=VDD
  U3 LinearRegulator 10,10 2x2 part=ldo-c: OUT=VDD
  U4 LinearRegulator 20,10 2x2 part=ldo-c: OUT=VDD2
  net VDD power
  net VDD2 power`,
    {
      not: {
        'duplicated-sensors': 'the sensors are two parts; what is there twice is a regulator',
        'like-sensors-far-apart': 'the sensors are two parts',
      },
    },
  ),
  small(
    'sensors-of-one-part-far-apart',
    `
  board main rigid 40x20
  U1 Accelerometer 3,10 3x3 part=acc-d: VDD=VDD
  U2 Accelerometer 35,10 3x3 part=acc-d: VDD=VDD
  net VDD power`,
    {
      holds: {
        'like-sensors-far-apart': '29 mm from edge to edge on one side',
        'duplicated-sensors': 'one part, twice',
      },
    },
  ),
  small(
    'sensors-of-one-part-on-two-sides',
    `
  board main rigid 40x20
  U1 Accelerometer 3,10 3x3 top part=acc-e: VDD=VDD
  U2 Accelerometer 35,10 3x3 bottom part=acc-e: VDD=VDD
  net VDD power`,
    { not: { 'like-sensors-far-apart': 'they are on two sides' } },
  ),
  small(
    'sensors-with-long-bodies',
    `
  board main rigid 40x20
  U1 TemperatureSensor 6,10 8x2 part=temp-f: VDD=VDD
  U2 TemperatureSensor 23,10 2x8 rot=90 part=temp-f: VDD=VDD
  net VDD power`,
    { not: { 'like-sensors-far-apart': '17 mm from centre to centre, but 9 mm from edge to edge' } },
  ),
  small(
    'sensors-with-turned-bodies',
    `
  board main rigid 40x20
  U1 TemperatureSensor 6,10 8x2 rot=90 part=temp-g: VDD=VDD
  U2 TemperatureSensor 24,10 8x2 rot=270 part=temp-g: VDD=VDD
  net VDD power`,
    { holds: { 'like-sensors-far-apart': 'the long bodies stand upright, which leaves 16 mm' } },
  ),
  small(
    'microphones-on-two-boards',
    `
  board main rigid 30x20
  board tip rigid 8x8
  MK1 Microphone @main: VDD=VDD
  MK2 Microphone @tip: VDD=VDD_T
  net VDD power
  net VDD_T power`,
    { holds: { 'microphone-pair-far-apart': 'they are on two boards' } },
  ),
  small(
    'microphones-at-both-ends',
    `
  board main rigid 40x10
  MK1 Microphone 3,5 3x2: VDD=VDD
  MK2 Microphone 33,5 3x2: VDD=VDD
  net VDD power`,
    { holds: { 'microphone-pair-far-apart': '30 mm apart' } },
  ),
  small(
    'microphones-side-by-side',
    `
  board main rigid 40x10
  board tip rigid 8x8
  MK1 Microphone 3,5 3x2: VDD=VDD
  MK2 Microphone 11,5 3x2: VDD=VDD
  MK3 Microphone @tip unfitted: VDD=VDD_T
  LS1 Speaker @tip: 1=SP
  net VDD power`,
    { not: { 'microphone-pair-far-apart': '8 mm apart, and the place on the other board is empty' } },
  ),
  small(
    'colours-of-three-lamps',
    `
  board optics rigid 12x12
  D1 GreenEmitter @optics: A=VLED K=G_K
  D2 RedEmitter @optics: A=VLED K=R_K
  D3 InfraredEmitter @optics: A=VLED K=I_K
  D4 Photodiode @optics: A=PA K=PK
  LB1 OpticalBarrier @optics
  net VLED power`,
    {
      holds: {
        'several-wavelengths': 'three colours beside a photodiode',
        'emitter-and-receiver-divided': 'a barrier stands on the board with emitters and receiver',
      },
    },
  ),
  small(
    'colours-in-one-package',
    `
  board optics rigid 12x12
  D1 RedEmitter+InfraredEmitter @optics: A=VLED K1=R_K K2=I_K
  D4 Photodiode @optics: A=PA K=PK
  net VLED power`,
    { holds: { 'several-wavelengths': 'red and infrared in one package beside a photodiode' } },
  ),
  small(
    'colour-one-lamp-twice',
    `
  board optics rigid 12x12
  board main rigid 30x20
  D1 GreenEmitter @optics: A=VLED K=K1
  D2 GreenEmitter @optics: A=VLED K=K2
  D3 InfraredEmitter @optics unfitted: A=VLED K=K3
  D4 Photodiode @optics: A=PA K=PK
  D5 RedEmitter @main: A=VDD K=LED_CHG
  D6 InfraredEmitter @main: A=VDD K=REMOTE
  LB1 OpticalBarrier @main
  net VLED power
  net VDD power`,
    {
      not: {
        'several-wavelengths':
          'the receiver has green lamps alone on its board; red and infrared are on the other',
        'emitter-and-receiver-divided': 'the wall stands on the board without a receiver',
      },
    },
  ),
]);
