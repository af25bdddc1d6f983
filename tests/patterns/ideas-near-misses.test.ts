import { heldTo, small } from './small-boards.ts';

// More near misses and unlike forms of what holds, in pairs where a small change turns the answer. Circuits as common practice has
// them, no source; all boards invented.

const SUPPLY = `
  net VBAT 3.7V
  net VDD_3V3 3.3V
  BT1 PouchCell @-: +=VBAT -=GND
  U1 BuckConverter: VIN=VBAT SW=LX FB=VDD_3V3 EN=VBAT GND=GND
  L1 Inductor: 1=LX 2=VDD_3V3`;
/** Two boards that meet in J1 and J2, with a hub on the second. */
const hubBoards = (mates: string, main: string, far: string) => `
  board main rigid 30x20
  board sense rigid 15x15
  net VDD 1.8V
  net VDD_S power
  U1 ApplicationProcessor @main: VDD=VDD VSS=GND UART1_TXD=TX UART1_RXD=RX
  J1 BoardToBoardConnector @main: ${main}
  J2 BoardToBoardConnector @sense: ${far}
  mate J1 J2 ${mates}
  U2 SensorHub @sense: VDD=VDD_S VSS=GND_S PA3=RX_S PA2=TX_S
  net RX_S signal bus=UART
  net TX_S signal bus=UART
  U3 Accelerometer @sense: VDD=VDD_S GND=GND_S SCK=SCK SDI=MOSI
  link U2 U3 trace bus=SPI`;

heldTo([
  // Access and connectors.
  small(
    'serial-lines-to-a-plain-connector-taken',
    `
  board main rigid 30x20
  board gnss rigid 15x15
  net VDD 3.3V
  net VDD_G power
  U2 Microcontroller: VDD=VDD VSS=GND UART_TX=GTX UART_RX=GRX
  J1 Connector: 1=GTX 2=GRX 3=VDD 4=GND
  J2 Connector @gnss: 1=RXD 2=TXD 3=VDD_G 4=GND_G
  mate J1 J2 wire 1-1 2-2 3-3 4-4
  U5 SatelliteReceiver @gnss: VCC=VDD_G GND=GND_G RXD=RXD TXD=TXD`,
    {
      holds: { 'radio-apart-from-processor': 'the receiver hangs on a serial port through the connectors' },
      not: {
        'test-access-left-in': 'the connector is taken, whatever its kind',
        'boards-linked-by-flex': 'a bundle of wires runs between the boards',
      },
    },
  ),
  small(
    'pads-on-the-sensor-bus',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL SWDIO=- SWCLK=-
  U3 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL
  TP1 TestPad: 1=SDA
  TP2 TestPad: 1=SCL`,
    {
      not: {
        'test-access-left-in': 'the pads are on the bus of the sensor and on no debug line',
        'programming-contacts-left': 'nothing is programmed over the bus of a sensor',
      },
    },
  ),
  small(
    'flex-that-ends-nowhere',
    `
  board main rigid 30x20
  board aerial flex 30x6
  J1 FlexConnector @main: 1=RF
  P1 FlexConnector @aerial: 1=RF_A
  mate J1 P1 1-1
  AE1 PrintedAntenna @aerial: FEED=RF_A
  U1 BluetoothRadio @main: ANT=RF`,
    { not: { 'boards-linked-by-flex': 'the flex hangs on one board and carries the antenna' } },
  ),
  small(
    'protector-of-data-lines-beyond-connectors',
    `
  board main rigid 30x20
  board port flex 20x8
  net VBUS_P 5.0V
  net VBUS 5.0V
  net GND_P ground
  net VDD 3.3V
  J1 CableConnector @port: VBUS=VBUS_P GND=GND_P D+=DP_P D-=DM_P
  J2 FlexConnector @port: 1=VBUS_P 2=DP_P 3=DM_P 4=GND_P
  J3 FlexConnector @main: 1=VBUS 2=DP 3=DM 4=GND
  mate J2 J3 1-1 2-2 3-3 4-4
  D1 SurgeProtector @main: IO1=DP IO2=DM GND=GND
  U1 LinearRegulator @main: IN=VBUS OUT=VDD GND=GND
  U2 Microcontroller @main: VDD=VDD VSS=GND USB_DP=DP USB_DM=DM`,
    {
      holds: {
        'surge-protection-at-the-outside-connector':
          'the data lines of the plug meet their protector beyond a pair of connectors',
        'native-usb': 'the data lines end at the processor',
      },
    },
  ),

  // One rail under two names.
  small(
    'two-pins-of-one-rail-over-a-connector',
    `
  board main rigid 30x20
  board sense rigid 15x15
  net VDD 1.8V
  net VDD_A 1.8V
  net VDD_B 1.8V
  U1 LinearRegulator @main: IN=VBAT OUT=VDD GND=GND
  net VBAT 3.7V
  BT1 PouchCell @-: +=VBAT -=GND
  J1 BoardToBoardConnector @main: 1=VDD 2=VDD_2 3=GND
  net VDD_2 1.8V
  FB1 FerriteBead @main: 1=VDD 2=VDD_2
  J2 BoardToBoardConnector @sense: 1=VDD_A 2=VDD_B 3=GND_S
  mate J1 J2 1-1 2-2 3-3
  U3 Gyroscope @sense: VDD=VDD_A VDDIO=VDD_B GND=GND_S`,
    { not: { 'two-supplies-for-one-sensor': 'both pins come from one rail, by two pins of the connector' } },
  ),
  small(
    'two-beads-of-one-rail',
    `${SUPPLY}
  net AVDD 3.3V
  net DVDD 3.3V
  FB1 FerriteBead: 1=VDD_3V3 2=AVDD
  FB2 FerriteBead: 1=VDD_3V3 2=DVDD
  U3 AnalogueFrontEnd: AVDD=AVDD DVDD=DVDD GND=GND`,
    { not: { 'two-supplies-for-one-sensor': 'two beads hang on one rail' } },
  ),
  small(
    'two-regulators-of-one-voltage',
    `${SUPPLY}
  net V18A 1.8V
  net V18D 1.8V
  U4 LinearRegulator: IN=VDD_3V3 OUT=V18A GND=GND
  U5 BuckConverter: VIN=VBAT SW=LX2 FB=V18D GND=GND
  L2 Inductor: 1=LX2 2=V18D
  U2 Microcontroller: VDD=V18D VSS=GND
  U3 AnalogueFrontEnd: AVDD=V18A DVDD=V18D GND=GND`,
    {
      holds: {
        'two-supplies-for-one-sensor': 'two regulators of one voltage make two rails',
        'quiet-supply-for-analogue': 'the linear one feeds the front end alone',
      },
    },
  ),
  small(
    'filter-of-the-processors-rail',
    `
  net VBAT 3.7V
  net VDD 1.8V
  net AVDD power
  BT1 PouchCell @-: +=VBAT -=GND
  U1 LinearRegulator: IN=VBAT OUT=VDD GND=GND
  U2 Microcontroller: VDD=VDD VSS=GND
  R1 Resistor: 1=VDD 2=AVDD
  C1 Capacitor: 1=AVDD 2=GND
  U3 AnalogueFrontEnd: AVDD=AVDD DVDD=VDD GND=GND`,
    {
      not: {
        'quiet-supply-for-analogue': 'behind the resistor is the rail of the processor',
        'two-supplies-for-one-sensor': 'a filtered rail is still that rail',
      },
    },
  ),
  small(
    'gauge-behind-a-filter-of-the-system-rail',
    `
  net VBUS 5.0V
  net VBAT 3.7V
  net VSYS power
  net VG power
  J1 CableConnector: VBUS=VBUS GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U1 Charger: VBUS=VBUS BAT=VBAT SYS=VSYS GND=GND
  R1 Resistor: 1=VSYS 2=VG
  C1 Capacitor: 1=VG 2=GND
  U3 FuelGauge: VDD=VG VSS=GND`,
    { not: { 'gauge-at-the-cell': 'its filter hangs on the output of the charger' } },
  ),
  small(
    'reference-on-a-signal-net',
    `${SUPPLY}
  U3 VoltageReference: VIN=VBAT VOUT=VREF_2V5 GND=GND
  U4 AnalogueToDigitalConverter: VDD=VDD_3V3 VREF=VREF_2V5 GND=GND AIN0=SIG SDA=SDA SCL=SCL
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL`,
    {
      holds: {
        'quiet-supply-for-analogue':
          'the reference feeds the converter, though its net was filed as a signal',
      },
    },
  ),

  // Switches that cannot switch, and others that do.
  small(
    'load-switch-tied-on',
    `${SUPPLY}
  net VDD_S power
  U3 LoadSwitch: VIN=VDD_3V3 VOUT=VDD_S ON=VDD_3V3 GND=GND
  U4 Accelerometer: VDD=VDD_S GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'sensors-behind-a-load-switch':
          'its enable pin is tied to its input, so that nothing can cut the sensor off',
      },
    },
  ),
  small(
    'load-switch-for-half-a-sensor',
    `${SUPPLY}
  net VDD_S power
  net VDD_1V8 1.8V
  U6 LinearRegulator: IN=VDD_3V3 OUT=VDD_1V8 GND=GND
  U3 LoadSwitch: VIN=VDD_3V3 VOUT=VDD_S ON=S_EN GND=GND
  U2 Microcontroller: VDD=VDD_1V8 VSS=GND P1=S_EN SDA=SDA SCL=SCL
  U4 Accelerometer: VDD=VDD_S VDDIO=VDD_1V8 GND=GND SDA=SDA SCL=SCL`,
    {
      holds: {
        'sensors-behind-a-load-switch': 'the sensing part is cut off, its lines stay',
        'two-supplies-for-one-sensor': 'a switched 3.3 V and 1.8 V',
      },
    },
  ),
  small(
    'transistor-with-a-gate-resistor',
    `${SUPPLY}
  net V_MOT power
  Q1 Transistor: G=QG S=VBAT D=V_MOT
  R1 Resistor: 1=QG 2=MOT_EN_N
  R2 Resistor: 1=VBAT 2=QG
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND P7=MOT_EN_N
  U3 HapticDriver: VDD=V_MOT GND=GND`,
    {
      holds: { 'rail-switched-by-a-transistor': 'the processor works the gate through a resistor' },
      not: { 'sensors-behind-a-load-switch': 'a motor driver hangs behind it' },
    },
  ),
  small(
    'transistor-against-inrush',
    `
  net BAT_IN 3.7V
  net VSYS power
  BT1 PouchCell @-: +=BAT_IN -=GND
  Q1 Transistor: G=QG S=BAT_IN D=VSYS
  R1 Resistor: 1=QG 2=GND
  C1 Capacitor: 1=QG 2=BAT_IN
  U1 Microcontroller: VDD=VSYS VSS=GND
  U2 Accelerometer: VDD=VSYS GND=GND`,
    {
      not: {
        'rail-switched-by-a-transistor':
          'resistor and capacitor let it open slowly once; nothing switches it off',
        'sensors-behind-a-load-switch': 'nobody can switch the transistor off',
      },
    },
  ),
  small(
    'charger-cell-transistor-regulator',
    `
  net VBUS 5.0V
  net VBAT 3.7V
  net VSYS power
  net VDD 3.0V
  J1 CableConnector: VBUS=VBUS GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U1 Charger: VDD=VBUS VBAT=VBAT VSS=GND
  Q1 Transistor: G=VBUS S=VSYS D=VBAT
  R1 Resistor: 1=VBUS 2=GND
  D1 Diode: A=VBUS K=VSYS
  U2 LinearRegulator: IN=VSYS OUT=VDD GND=GND
  U3 Microcontroller: VDD=VDD VSS=GND`,
    { holds: { 'power-functions-apart': 'charger, cell, transistor and regulator in a row' } },
  ),
  small(
    'power-chip-without-charging-beside-a-charger',
    `
  net VBUS 5.0V
  net VBAT power
  net V18 1.8V
  J1 CableConnector: VBUS=VBUS GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U1 Charger: IN=VBUS BAT=VBAT GND=GND
  U2 PowerManagement+BuckConverter+LinearRegulator: VIN=VBAT LX1=LX1 FB1=V18 LDO1=V30 GND=GND
  net V30 3.0V
  L1 Inductor: 1=LX1 2=V18
  U3 Microcontroller: VDD=V18 VSS=GND`,
    { not: { 'power-functions-in-one-chip': 'one chip charges, another makes the supplies' } },
  ),
  small(
    'hub-behind-a-load-switch',
    `${SUPPLY}
  net VDD_HUB power
  U5 LoadSwitch: IN=VDD_3V3 OUT=VDD_HUB EN=HUB_EN GND=GND
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND GPIO1=HUB_EN
  U3 SensorHub: VDD=VDD_HUB VSS=GND`,
    {
      not: {
        'always-on-domain': 'a switch of its own is no regulator; the rail is that of the main processor',
      },
    },
  ),
  small(
    'clock-on-the-cell-behind-polarity-transistor',
    `
  net BAT_IN 3.0V
  net VCELL 3.0V
  net VDD 1.8V
  BT1 ButtonCell: +=BAT_IN -=GND
  Q1 Transistor: G=GND D=BAT_IN S=VCELL
  U1 LinearRegulator: IN=VCELL OUT=VDD GND=GND
  U2 Microcontroller: VDD=VDD VSS=GND
  U3 RealTimeClock: VDD=VCELL VSS=GND`,
    {
      holds: { 'clock-kept-alive-from-the-cell': 'the transistor against wrong polarity is always on' },
      not: { 'rail-switched-by-a-transistor': 'the transistor is always on' },
    },
  ),

  // Lines.
  small(
    'clock-line-from-a-clock-chip',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL OSC32_IN=CLK32K
  U3 RealTimeClock: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL CLKOUT=CLK32K
  U4 WifiRadio: VBAT=VDD_3V3 GND=GND LPO_IN=CLK32K`,
    {
      not: {
        'radio-apart-from-processor':
          'processor and radio take one clock from the clock chip and share no data',
      },
    },
  ),
  small(
    'flash-with-two-lines-strapped',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND QSPI_CS=CS QSPI_CLK=CLK QSPI_IO0=D0 QSPI_IO1=D1 QSPI_IO2=- QSPI_IO3=-
  U3 FlashMemory: CS#=CS CLK=CLK IO0=D0 IO1=D1 IO2=WP IO3=HOLD VCC=VDD_3V3 GND=GND
  JP1 SolderBridge: 1=WP 2=VDD_3V3
  JP2 SolderBridge: 1=HOLD 2=VDD_3V3`,
    { not: { 'memory-over-four-lines': 'two of the four lines end at solder bridges to the supply' } },
  ),
  small(
    'three-sensors-behind-a-shifter',
    `${SUPPLY}
  net V18 1.8V
  U6 LinearRegulator: IN=VDD_3V3 OUT=V18 GND=GND
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL
  U5 LevelShifter: VCCA=V18 VCCB=VDD_3V3 GND=GND A1=SDA_1V8 A2=SCL_1V8 B1=SDA B2=SCL
  U7 Accelerometer: VDD=V18 GND=GND SDA=SDA_1V8 SCL=SCL_1V8
  U8 Magnetometer: VDD=V18 GND=GND SDA=SDA_1V8 SCL=SCL_1V8
  U9 PressureSensor: VDD=V18 GND=GND SDA=SDA_1V8 SCL=SCL_1V8`,
    {
      holds: {
        'sensors-share-one-i2c-bus': 'three sensors on the two lines of the low side',
        'level-shifter-between-supplies': 'sensors at 1.8 V, processor at 3.3 V',
      },
    },
  ),
  small(
    'three-sensors-behind-a-bus-switch',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL
  U5 AnalogueSwitch: VCC=VDD_3V3 GND=GND SDA=SDA SCL=SCL SD0=SD0 SC0=SC0 SD1=SD1 SC1=SC1 SD2=SD2 SC2=SC2 A0=GND
  U7 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SD0 SCL=SC0
  U8 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SD1 SCL=SC1
  U9 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SD2 SCL=SC2`,
    {
      not: {
        'sensors-share-one-i2c-bus':
          'a bus switch gives each sensor lines of its own, since they have one address',
      },
    },
  ),
  small(
    'hub-with-sensors-behind-a-shifter',
    `${SUPPLY}
  net V18 1.8V
  U6 LinearRegulator: IN=VDD_3V3 OUT=V18 GND=GND
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND SPI_CLK=CK SPI_DO=DO SPI_DI=DI
  U3 SensorHub: VDD=VDD_3V3 VSS=GND SCK=CK MOSI=DO MISO=DI SDA=SDA SCL=SCL
  U5 LevelShifter: VCCA=V18 VCCB=VDD_3V3 GND=GND A1=SDA_1V8 A2=SCL_1V8 B1=SDA B2=SCL
  U7 Gyroscope: VDD=V18 GND=GND SDA=SDA_1V8 SCL=SCL_1V8`,
    { holds: { 'sensor-hub-in-between': 'sensor, shifter, hub and main processor in a row' } },
  ),
  small(
    'hub-with-its-lines-across',
    hubBoards('1-1 2-2 3-3 4-4', '1=TX 2=RX 3=VDD 4=GND', '1=RX_S 2=TX_S 3=VDD_S 4=GND_S'),
    {
      holds: { 'sensor-hub-behind-a-connector': 'both serial lines cross' },
    },
  ),
  small(
    'hub-with-its-lines-mismatched',
    hubBoards('1-5 2-6 3-3 4-4', '1=TX 2=RX 3=VDD 4=GND 5=- 6=-', '1=RX_S 2=TX_S 3=VDD_S 4=GND_S 5=- 6=-'),
    {
      not: {
        'sensor-hub-behind-a-connector':
          'the serial lines of either side meet pins where nothing is connected',
        'sensor-hub-in-between': 'no line reaches the main processor',
      },
    },
  ),
  small(
    'hub-over-a-flex-board',
    `
  board main rigid 30x20
  board link flex 40x6
  board sense rigid 15x15
  net VDD 1.8V
  U1 ApplicationProcessor @main: VDD=VDD VSS=GND UART1_TXD=TX UART1_RXD=RX
  J1 FlexConnector @main: 1=TX 2=RX
  P1 FlexConnector @link: 1=LA 2=LB
  P2 FlexConnector @link: 2=LA 1=LB
  J2 FlexConnector @sense: 1=TX_S 2=RX_S
  mate J1 P1 1-1 2-2
  mate P2 J2 1-1 2-2
  U2 SensorHub @sense: PA3=RX_S PA2=TX_S SDA=SDA SCL=SCL
  U3 Accelerometer @sense: SDA=SDA SCL=SCL`,
    {
      holds: {
        'sensor-hub-behind-a-connector': 'the serial lines cross two pairs of connectors',
        'sensor-hub-in-between': 'sensor, hub and main processor in a row',
        'boards-linked-by-flex': 'a flex with a plug at either end joins the two',
      },
    },
  ),
  small(
    'power-chip-with-its-coil',
    `
  board main rigid 30x20
  net VBAT 3.7V
  net V18 1.8V
  BT1 PouchCell @-: +=VBAT -=GND
  U1 PowerManagement 10,10 3x3: VBAT=VBAT LX1=LX1 VOUT1=V18 GND=GND
  L1 Inductor 13,10 2x2: 1=LX1 2=V18`,
    {
      holds: {
        'converter-close-to-its-inductor':
          'the power chip has a switch node, and its coil is half a millimetre away',
      },
    },
  ),
]);
