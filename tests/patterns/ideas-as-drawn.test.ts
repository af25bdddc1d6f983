import { heldTo, small } from './small-boards.ts';

// Pin names and circuits as drawing programs and their libraries write them: numbered twins, overbars, subscripts, hand-worked
// switches, one contact for two buses. Common practice, no source; all boards invented.

heldTo([
  small(
    'twin-pins',
    `
  net VBUS 5V
  net VBAT 3.8V
  net VSYS power
  net +3V 3.0V
  J1 CableConnector: 1:VBUS=VBUS 2:GND=GND
  J2 Connector: 1:PIN_1=VBAT 2:PIN_2=GND
  U1 Charger: 1:IN_1=VBUS 2:IN_2=VBUS 3:SYS_1=VSYS 4:SYS_2=VSYS 5:BAT_1=VBAT 6:BAT_2=VBAT 7:~{CE}=GND 8:GND_1=GND
  U2 LinearRegulator: 1:V_{IN}=VSYS 2:V_{OUT}=+3V 3:GND=GND
  U3 Microcontroller: 1:VDD__1=+3V 2:VDD__2=+3V 3:VSS=GND`,
    {
      holds: { 'power-functions-apart': 'the second output of the charger feeds the regulator' },
      not: { 'power-functions-in-one-chip': 'they are two chips' },
    },
  ),
  small(
    'signed-supply',
    `
  board main rigid 20x10
  net VA 3.0V
  E1 Electrode 2,2 1x1: 1=INP
  U1 InstrumentationAmplifier 10,5 3x3: 1:+IN=INP 2:-VS=GND 3:+VS=VA 4:OUT=OUT
  C1 Capacitor 12.5,5 1x0.5: 1=VA 2=GND
  U2 Microcontroller 17,5 2x2: 1:AIN0=OUT 2:VSS=GND`,
    { holds: { 'decoupling-at-the-supply-pin': 'the capacitor is half a millimetre from the amplifier' } },
  ),
  small(
    'main-switch-by-hand',
    `
  net VBUS 5V
  net VBAT 3.8V
  net RAW power
  net RAW_ON power
  net +3V 3.0V
  J1 CableConnector: 1:VBUS=VBUS 2:GND=GND
  J2 Connector: 1=VBAT 2=GND
  U1 Charger: 1:VCC=VBUS 2:BAT=VBAT 3:GND=GND 4:PROG=ISET
  D1 Diode: 1:K=RAW 2:A=VBAT
  D2 Diode: 1:K=RAW 2:A=VBUS
  SW1 SlideSwitch: 1=OFF 2=RAW_ON 3=RAW 4=GND
  U2 LinearRegulator: 1:VIN=RAW_ON 2:VOUT=+3V 3:EN=RAW_ON 4:GND=GND
  U3 Microcontroller: 1:VDD=+3V 2:VSS=GND`,
    {
      holds: { 'power-functions-apart': 'by way of a diode and the main switch' },
      not: { 'rail-switched-by-a-transistor': 'a finger switches it' },
    },
  ),
  small(
    'cell-handed-over',
    `
  net VBUS 5V
  net VBAT 3.8V
  net VIN power
  net +3V 3.0V
  J1 CableConnector: 1:VBUS=VBUS 2:GND=GND
  J2 Connector: 1=VBAT 2=GND
  U1 Charger: 1:VDD=VBUS 2:VBAT=VBAT 3:VSS=GND
  D1 Diode: 1:K=VIN 2:A=VBUS
  Q1 Transistor: 1:G=VBUS 2:S=VIN 3:D=VBAT
  R1 Resistor: 1=VBUS 2=GND
  U2 LinearRegulator: 1:VIN=VIN 2:VOUT=+3V 3:GND=GND
  U3 Microcontroller: 1:VDD=+3V 2:VSS=GND`,
    {
      holds: {
        'rail-switched-by-a-transistor': 'outside power at its gate cuts the cell off the rail',
        'power-functions-apart': 'the charger, the cell, the transistor, the regulator',
      },
    },
  ),
  small(
    'cell-handed-over-behind-a-fuse',
    `
  net VBUS 5V
  net VBAT 3.8V
  net N1 power
  net BUCK_IN power
  net +3V 3.0V
  P1 ChargingContact: 1=VBUS
  U1 Charger: 1:VDD=VBUS 2:VBAT=VBAT 3:VSS=GND
  BT1 PouchCell @-: +=VBAT -=GND
  F1 Fuse: 1=VBAT 2=N1
  D1 Diode: 1:K=BUCK_IN 2:A=VBUS
  Q1 Transistor: 1=VBUS 2=BUCK_IN 3=N1
  U2 BuckConverter: 1:VIN=BUCK_IN 2:VOUT=+3V 3:GND=GND
  U3 Microcontroller: 1:VDD=+3V 2:VSS=GND`,
    {
      holds: {
        'rail-switched-by-a-transistor':
          'the rail behind the fuse is that of the cell, and pin 1 of three is the gate',
      },
    },
  ),
  small(
    'against-wrong-polarity',
    `
  net BAT_IN power
  net VCC 3.0V
  BT1 ButtonCell @-: +=BAT_IN -=GND
  Q1 Transistor: 1:G=GND 2:S=VCC 3:D=BAT_IN
  U3 Microcontroller: 1:VDD=VCC 2:VSS=GND`,
    { not: { 'rail-switched-by-a-transistor': 'its gate is on ground for good' } },
  ),
  small(
    'one-contact-for-two-buses',
    `
  net VBUS 5V
  net +1V8 1.8V
  net DP_SWCLK bus=USB
  net DM_SWDIO bus=USB
  P1 ChargingContact: 1=DP_SWCLK 2=DM_SWDIO 3=SEL 4=GND 5=VBUS
  U1 AnalogueSwitch: 1:1D+=USB_P 2:1D-=USB_N 3:2D+=SWCLK 4:2D-=SWDIO 5:GND=GND 6:~{OE}=GND 7:D-=DM_SWDIO 8:D+=DP_SWCLK 9:S=SEL 10:V_{CC}=+1V8
  U2 Microcontroller: 1:D+=USB_P 2:D-=USB_N 3:SWDIO=SWDIO 4:SWDCLK=SWCLK 5:VDD=+1V8 6:VSS=GND
  net USB_P bus=USB
  net USB_N bus=USB
  net SWCLK bus=SWD
  net SWDIO bus=SWD`,
    {
      holds: {
        'native-usb': 'one setting of the switch joins the contacts with the USB pins',
        'programming-contacts-left': 'the other one with the debug pins',
        'test-access-left-in': 'the other one with the debug pins',
      },
      not: { 'usb-to-serial-bridge': 'a switch is no bridge' },
    },
  ),
  small(
    'clock-on-a-cell-behind-a-fuse',
    `
  net VIN_RAW power
  net N1 power
  net +1V8 1.8V
  X1 Connector: 1=VIN_RAW 2=GND
  F1 Fuse: 1=VIN_RAW 2=N1
  U1 PowerManagement+Charger+BuckConverter: 1:V_{BAT}=N1 2:SW1=SW1 3:VOUT1=+1V8 4:GND=GND
  L1 Inductor: 1=SW1 2=+1V8
  U2 RealTimeClock: 1:V_{DD}=VIN_RAW 2:SDA=SDA 3:SCL=SCL 4:VSS=GND
  U3 Microcontroller: 1:VDD=+1V8 2:P0.01=SDA 3:P0.02=SCL 4:VSS=GND`,
    {
      holds: {
        'clock-kept-alive-from-the-cell':
          'the connector is that of the cell, which the fuse leads to the charger',
      },
    },
  ),
]);
