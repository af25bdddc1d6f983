import { heldTo, small } from './small-boards.ts';

// What is known in part: pins by number alone or not at all, traced connections beside nets, lines over several boards, chips of
// several functions. Circuits as common practice has them, no source; all boards invented.

const SUPPLY = `
  net VBAT 3.7V
  net VDD_3V3 3.3V
  BT1 PouchCell @-: +=VBAT -=GND
  U1 LinearRegulator: IN=VBAT OUT=VDD_3V3 GND=GND EN=VBAT`;

heldTo([
  // Pins by number alone, or not known.
  small(
    'gauge-whose-pins-are-not-known',
    `${SUPPLY}
  U5 FuelGauge: ?=VBAT ?=GND ?=SDA ?=SCL
  U2 Microcontroller: ?=VDD_3V3 ?=GND ?=SDA ?=SCL`,
    { holds: { 'gauge-at-the-cell': 'the net of the cell is the only supply that it touches' } },
  ),
  small(
    'charger-whose-pins-are-not-known',
    `
  net VBUS 5.0V
  net VBAT 3.7V
  net VDD 3.0V
  J1 CableConnector: ?=VBUS ?=GND
  BT1 PouchCell @-: ?=VBAT ?=GND
  U1 Charger: ?=VBUS ?=VBAT ?=GND
  U2 LinearRegulator: ?=VBAT ?=VDD ?=GND
  U3 Microcontroller: ?=VDD ?=GND`,
    {
      holds: {
        'power-functions-apart':
          'charger, cell and regulator meet on one net, the processor hangs on the next',
      },
    },
  ),
  small(
    'bus-whose-pins-are-not-known',
    `
  net I2C_SDA signal bus=I2C
  net I2C_SCL signal bus=I2C
  net VDD 1.8V
  U1 Microcontroller: ?=I2C_SDA ?=I2C_SCL ?=VDD
  U2 Accelerometer: ?=I2C_SDA ?=I2C_SCL ?=VDD
  U3 Magnetometer: ?=I2C_SDA ?=I2C_SCL ?=VDD
  U4 HumiditySensor: ?=I2C_SDA ?=I2C_SCL ?=VDD`,
    {
      holds: {
        'sensors-share-one-i2c-bus': 'the two nets are known to be the bus, whichever pins they meet',
      },
    },
  ),
  small(
    'usb-whose-pins-are-not-known',
    `
  net USB_DP signal bus=USB
  net USB_DM signal bus=USB
  net VBUS 5.0V
  J1 CableConnector: ?=USB_DP ?=USB_DM ?=VBUS ?=GND
  U1 Microcontroller: ?=USB_DP ?=USB_DM ?=GND`,
    { holds: { 'native-usb': 'both USB nets run from the connector to the processor' } },
  ),
  small(
    'load-switch-by-numbers',
    `${SUPPLY}
  net VDD_SENS power
  U3 LoadSwitch: 1=VDD_3V3 2=GND 3=SENS_EN 6=VDD_SENS
  U4 Accelerometer: 1=VDD_SENS 2=GND 3=SDA 4=SCL
  U2 Microcontroller: 1=VDD_3V3 2=GND 10=SDA 11=SCL 12=SENS_EN`,
    {
      holds: {
        'sensors-behind-a-load-switch': 'the switch stands between the regulated rail and that of the sensor',
      },
    },
  ),
  small(
    'transistor-by-numbers',
    `${SUPPLY}
  net VDD_SENS power
  Q1 Transistor: 1=SENS_EN_N 2=VDD_3V3 3=VDD_SENS
  R1 Resistor: 1=VDD_3V3 2=SENS_EN_N
  U4 Accelerometer: VDD=VDD_SENS GND=GND SDA=SDA SCL=SCL
  U2 Microcontroller: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL P1=SENS_EN_N`,
    {
      holds: {
        'rail-switched-by-a-transistor':
          'two of its pins are on two supplies, the third on a line of the processor',
      },
    },
  ),
  small(
    'transistor-by-numbers-at-ground',
    `
  net BAT_IN 3.0V
  net VBAT 3.0V
  BT1 ButtonCell: 1=BAT_IN 2=GND
  Q1 Transistor: 1=GND 2=VBAT 3=BAT_IN
  U1 Microcontroller: VDD=VBAT VSS=GND
  U2 Accelerometer: VDD=VBAT GND=GND`,
    {
      not: {
        'rail-switched-by-a-transistor': 'its third pin is on ground, so nothing switches it',
        'sensors-behind-a-load-switch': 'its third pin is on ground, so nothing switches it',
      },
    },
  ),
  small(
    'flash-by-numbers',
    `${SUPPLY}
  net QSPI_CS signal bus=QSPI
  net QSPI_SCK signal bus=QSPI
  net QSPI_IO0 signal bus=QSPI
  net QSPI_IO1 signal bus=QSPI
  net QSPI_IO2 signal bus=QSPI
  net QSPI_IO3 signal bus=QSPI
  U2 Microcontroller: 30=QSPI_CS 31=QSPI_SCK 32=QSPI_IO0 33=QSPI_IO1 34=QSPI_IO2 35=QSPI_IO3 1=VDD_3V3 2=GND
  U3 FlashMemory: 1=QSPI_CS 2=QSPI_IO1 3=QSPI_IO2 4=GND 5=QSPI_IO0 6=QSPI_SCK 7=QSPI_IO3 8=VDD_3V3`,
    {
      holds: {
        'memory-over-four-lines': 'the nets are called and known as the four data lines',
        'memory-beyond-the-processor': 'a flash memory hangs on lines of the processor',
      },
    },
  ),
  small(
    'regulator-by-numbers-of-a-known-part',
    `
  net VBAT 3.7V
  net AVDD 3.0V
  net VDD 1.8V
  BT1 PouchCell @-: 1=VBAT 2=GND
  U1 BuckConverter: VIN=VBAT SW=LX FB=VDD GND=GND
  L1 Inductor: 1=LX 2=VDD
  U2 LinearRegulator catalogued part=ldo-9: 1:VIN=VBAT 2:GND=GND 3:EN=VBAT 5:VOUT=AVDD
  U3 AnalogueFrontEnd: AVDD=AVDD IOVDD=VDD GND=GND SCLK=SCK SDIN=MOSI
  U4 Microcontroller: VDD=VDD VSS=GND SCK=SCK MOSI=MOSI`,
    {
      holds: {
        'quiet-supply-for-analogue': 'pin 5 of that part is its output, and only the front end hangs there',
        'two-supplies-for-one-sensor': 'analogue supply and line supply of the front end differ',
      },
    },
  ),

  // Traced connections, alone and beside nets.
  small(
    'hub-behind-connectors-traced',
    `
  board main rigid 30x20
  board sense rigid 15x15
  U1 ApplicationProcessor @main
  J1 BoardToBoardConnector @main
  J2 BoardToBoardConnector @sense
  U2 SensorHub @sense
  U3 Accelerometer @sense
  link U1 J1 trace bus=SPI
  link J1 J2 contact
  link J2 U2 trace bus=SPI
  link U2 U3 trace bus=I2C`,
    {
      holds: {
        'sensor-hub-behind-a-connector': 'traced from processor to connector, and from its mate to the hub',
        'sensor-hub-in-between': 'sensor, hub and main processor stand in a row',
        'boards-mated-through-a-connector': 'the connectors meet',
      },
    },
  ),
  small(
    'amplifier-at-the-sensor-traced',
    `
  board main rigid 30x20
  board optics rigid 10x10
  D1 Photodiode @optics
  U1 TransimpedanceAmplifier @optics
  J1 FlexConnector @optics
  J2 FlexConnector @main
  U2 Microcontroller @main
  link D1 U1 trace bus=analogue
  link U1 J1 trace bus=analogue
  link J1 J2 flex
  link J2 U2 trace bus=analogue`,
    {
      holds: {
        'amplifier-at-the-sensor': 'photodiode, amplifier, connectors, processor in a row',
        'boards-linked-by-flex': 'a flex runs between the two connectors',
      },
    },
  ),
  small(
    'hub-partly-traced',
    `${SUPPLY}
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND UART_TX=TX UART_RX=RX
  U3 SensorHub: VDD=VDD_3V3 VSS=GND RX=TX TX=RX
  U4 Gyroscope: VDD=VDD_3V3 GND=GND
  link U3 U4 trace bus=SPI`,
    { holds: { 'sensor-hub-in-between': 'the sensor is traced to the hub, whose serial lines are nets' } },
  ),
  small(
    'only-supplies-traced',
    `
  U1 Microcontroller
  U2 WifiRadio
  U3 FlashMemory
  U4 NearFieldTag
  U5 LinearRegulator
  link U1 U2 trace bus=power
  link U1 U3 trace bus=power
  link U1 U4 trace bus=power
  link U5 U1 trace bus=power`,
    {
      not: {
        'radio-apart-from-processor': 'what was traced between the two is a supply',
        'memory-beyond-the-processor': 'what was traced between the two is a supply',
        'near-field-tag-on-the-bus': 'what was traced between the two is a supply',
      },
    },
  ),
  small(
    'boost-behind-a-traced-connector',
    `
  board main rigid 30x20
  board face rigid 20x20
  U1 BuckConverter @main
  U2 Microcontroller @main
  J1 BoardToBoardConnector @main
  J2 BoardToBoardConnector @face
  U3 BoostConverter @face
  DS1 OledDisplay @face
  U4 TouchSensor @face
  BT1 PouchCell @-
  link BT1 U1 wire bus=power
  link U1 U2 trace bus=power
  link U1 J1 trace bus=power
  link J1 J2 contact
  link J2 U3 trace bus=power
  link J2 U4 trace bus=power
  link U3 DS1 trace bus=power`,
    {
      holds: {
        'display-rail-from-its-own-boost':
          'the supply comes in at the connector; what the boost makes goes to the display alone',
      },
    },
  ),
  small(
    'tag-traced',
    `
  U1 Microcontroller
  U4 NearFieldTag
  link U1 U4 trace bus=I2C`,
    { holds: { 'near-field-tag-on-the-bus': 'the bus was traced from chip to chip' } },
  ),

  // Over several boards.
  small(
    'amplifier-two-connectors-away',
    `
  board main rigid 30x20
  board cable flex 60x6
  board pads rigid 10x10
  net VDD 1.8V
  net VA power
  E1 Electrode @pads: 1=E1
  U1 OperationalAmplifier @pads: +IN=E1 -IN=OUT1 OUT=OUT1 V+=VA V-=GND_P
  J1 FlexConnector @pads: 1=OUT1 2=VA 3=GND_P
  P1 FlexConnector @cable: 1=C1 2=C2 3=C3
  P2 FlexConnector @cable: 3=C1 2=C2 1=C3
  J2 FlexConnector @main: 1=GND 2=VDD 3=ECG_IN
  mate J1 P1 1-1 2-2 3-3
  mate P2 J2 1-1 2-2 3-3
  U2 AnalogueToDigitalConverter @main: AIN0=ECG_IN VDD=VDD GND=GND`,
    {
      holds: {
        'amplifier-at-the-sensor': 'the amplified signal crosses two pairs of connectors to the converter',
      },
    },
  ),
  small(
    'amplifier-to-the-wrong-pin',
    `
  board main rigid 30x20
  board optics rigid 10x10
  net VDD 1.8V
  net VA power
  D1 Photodiode @optics: A=GND_O K=PDK
  U1 TransimpedanceAmplifier @optics: IN-=PDK OUT=SIG V+=VA V-=GND_O
  J1 BoardToBoardConnector @optics: 1=SIG 2=VA 3=GND_O 4=-
  J2 BoardToBoardConnector @main: 1=SPARE 2=VDD 3=GND 4=-
  mate J1 J2 1-4 2-2 3-3
  U2 Microcontroller @main: AIN0=SPARE VDD=VDD VSS=GND`,
    { not: { 'amplifier-at-the-sensor': 'pin 1 meets pin 4, where nothing is connected' } },
  ),
  small(
    'tag-on-another-board',
    `
  board main rigid 30x20
  board strap flex 60x10
  net VDD 1.8V
  net VDD_S power
  U1 Microcontroller+BluetoothRadio @main: SDA=SDA SCL=SCL VDD=VDD VSS=GND
  J1 FlexConnector @main: 1=SDA 2=SCL 3=VDD 4=GND
  P1 FlexConnector @strap: 1=SDA_S 2=SCL_S 3=VDD_S 4=GND_S
  mate J1 P1 1-1 2-2 3-3 4-4
  U4 NearFieldTag @strap: SDA=SDA_S SCL=SCL_S VCC=VDD_S VSS=GND_S`,
    { holds: { 'near-field-tag-on-the-bus': 'data and clock cross the connectors' } },
  ),
  small(
    'gauge-beyond-the-battery-connector',
    `
  board main rigid 30x20
  net CELL+ 3.8V
  net VBATT 3.8V
  net VDD 1.8V
  BT1 PouchCell @-: +=CELL+ -=CELL-
  P1 Connector @-: 1=CELL+ 2=CELL-
  net CELL- ground
  J1 Connector: 1=VBATT 2=GND
  mate P1 J1 1-1 2-2
  U5 FuelGauge: VDD=VBATT VSS=GND SDA=SDA SCL=SCL
  U1 BuckConverter: VIN=VBATT SW=LX FB=VDD GND=GND
  U2 Microcontroller: VDD=VDD VSS=GND SDA=SDA SCL=SCL`,
    { holds: { 'gauge-at-the-cell': 'the plug of the cell sits in the socket beside the gauge' } },
  ),
  small(
    'protector-beyond-the-connectors',
    `
  board main rigid 30x20
  board port flex 20x8
  net VBUS_P 5.0V
  net VBUS 5.0V
  net VBUS_F 5.0V
  net GND_P ground
  J1 CableConnector @port: VBUS=VBUS_P GND=GND_P D+=DP D-=DM
  J2 FlexConnector @port: 1=VBUS_P 2=GND_P
  J3 FlexConnector @main: 1=VBUS 2=GND
  mate J2 J3 1-1 2-2
  FB1 FerriteBead @main: 1=VBUS 2=VBUS_F
  D1 SurgeProtector @main: K=VBUS_F A=GND
  U1 Charger @main: VIN=VBUS_F BAT=VBAT GND=GND
  BT1 PouchCell @-: 1=VBAT 2=GND
  net VBAT power`,
    {
      holds: {
        'surge-protection-at-the-outside-connector':
          'the supply of the plug crosses connectors and a bead to its protector',
      },
    },
  ),
  small(
    'quiet-supply-over-a-connector',
    `
  board main rigid 30x20
  board optics rigid 10x10
  net VBAT 3.7V
  net AVDD 3.0V
  net AVDD_O power
  net VDD 1.8V
  BT1 PouchCell @-: +=VBAT -=GND
  U1 BuckConverter @main: VIN=VBAT SW=LX FB=VDD GND=GND
  U2 LinearRegulator @main: IN=VBAT OUT=AVDD GND=GND
  U3 Microcontroller @main: VDD=VDD VSS=GND SCK=SCK
  J1 BoardToBoardConnector @main: 1=AVDD 2=GND 3=SCK
  J2 BoardToBoardConnector @optics: 1=AVDD_O 2=GND_O 3=SCK_O
  mate J1 J2 1-1 2-2 3-3
  U4 AnalogueFrontEnd @optics: AVDD=AVDD_O AGND=GND_O SCLK=SCK_O`,
    {
      holds: {
        'quiet-supply-for-analogue':
          'the linear regulator feeds the front end over the connectors, and nothing else',
      },
    },
  ),
  small(
    'quiet-supply-spoilt-over-a-connector',
    `
  board main rigid 30x20
  board optics rigid 10x10
  net VBAT 3.7V
  net VCC 3.0V
  net VCC_O power
  BT1 PouchCell @-: +=VBAT -=GND
  U2 LinearRegulator @main: IN=VBAT OUT=VCC GND=GND
  U4 AnalogueFrontEnd @main: AVDD=VCC AGND=GND SCLK=SCK
  J1 BoardToBoardConnector @main: 1=VCC 2=GND 3=SCK
  J2 BoardToBoardConnector @optics: 1=VCC_O 2=GND_O 3=SCK_O
  mate J1 J2 1-1 2-2 3-3
  U3 Microcontroller @optics: VDD=VCC_O VSS=GND_O SCK=SCK_O`,
    { not: { 'quiet-supply-for-analogue': 'beyond the connectors a processor hangs on the same rail' } },
  ),

  // Chips of several functions and unlike names.
  small(
    'sensor-on-the-switch-of-a-power-chip',
    `
  net VBUS 5.0V
  net VBAT power
  net VSYS power
  net VDD_1V8 1.8V
  net VDD_SW power
  J1 CableConnector: VBUS=VBUS GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U1 PowerManagement+Charger+BuckConverter+LoadSwitch: VBUS=VBUS VBAT=VBAT VSYS=VSYS SW1=LX VOUT1=VDD_1V8 LSIN1=VDD_1V8 LSOUT1=VDD_SW GND=GND
  L1 Inductor: 1=LX 2=VDD_1V8
  U2 Microcontroller: VDD=VDD_1V8 VSS=GND SDA=SDA SCL=SCL
  U3 PressureSensor: VDD=VDD_SW GND=GND SDA=SDA SCL=SCL`,
    {
      holds: {
        'sensors-behind-a-load-switch': 'the sensor hangs on the switched output of the power chip',
      },
    },
  ),
  small(
    'sensor-on-the-neighbouring-output',
    `
  net VBUS 5.0V
  net VBAT power
  net VSYS power
  net VDD_1V8 1.8V
  net VDD_SW power
  J1 CableConnector: VBUS=VBUS GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U1 PowerManagement+Charger+BuckConverter+LoadSwitch: VBUS=VBUS VBAT=VBAT VSYS=VSYS SW1=LX VOUT1=VDD_1V8 LSIN1=VDD_1V8 LSOUT1=VDD_SW GND=GND
  L1 Inductor: 1=LX 2=VDD_1V8
  U2 Microcontroller: VDD=VDD_1V8 VSS=GND SDA=SDA SCL=SCL
  U3 PressureSensor: VDD=VDD_1V8 GND=GND SDA=SDA SCL=SCL
  U4 OledDisplay: VDD=VDD_SW GND=GND`,
    {
      not: {
        'sensors-behind-a-load-switch': 'the switched output feeds the display; the sensor is on the buck',
      },
      holds: { 'power-functions-in-one-chip': 'one chip charges and converts' },
    },
  ),
  small(
    'charger-with-a-small-ldo',
    `
  net VBUS 5.0V
  net VBAT power
  net VDD 3.3V
  J1 ChargingContact: 1=VBUS
  BT1 PouchCell @-: +=VBAT -=GND
  U1 Charger+LinearRegulator: IN=VBUS BAT=VBAT LDO=VDD GND=GND
  U2 Microcontroller: VDD=VDD VSS=GND`,
    {
      holds: { 'power-functions-in-one-chip': 'the charger also makes 3.3 V' },
      not: { 'power-functions-apart': 'there is no regulator beside it' },
    },
  ),
  small(
    'power-chip-beside-a-charger',
    `
  net VBUS 5.0V
  net VBAT power
  net V18 1.8V
  net V33 3.3V
  J1 CableConnector: VBUS=VBUS GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U1 Charger: IN=VBUS BAT=VBAT GND=GND STAT=-
  U2 PowerManagement: VIN=VBAT LX1=LX1 FB1=V18 LX2=LX2 FB2=V33 GND=GND EN=VBAT
  L1 Inductor: 1=LX1 2=V18
  L2 Inductor: 1=LX2 2=V33
  U3 Microcontroller: VDD=V18 VSS=GND`,
    {
      not: {
        'power-functions-in-one-chip':
          'a chip of its own charges; the power chip has no input from the cable',
      },
    },
  ),
  small(
    'shifter-with-other-names',
    `${SUPPLY}
  net VDD_1V8 1.8V
  U3 LinearRegulator: IN=VDD_3V3 OUT=VDD_1V8 GND=GND
  U4 LevelShifter: VL=VDD_1V8 VCC=VDD_3V3 GND=GND I/OVL1=SCK_L I/OVL2=MOSI_L I/OVCC1=SCK I/OVCC2=MOSI EN=VDD_1V8
  U5 Gyroscope: VDD=VDD_1V8 GND=GND SPC=SCK_L SDI=MOSI_L
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SCK=SCK MOSI=MOSI`,
    {
      holds: {
        'level-shifter-between-supplies':
          'VL and VCC are its two supplies, with a chip of each on either side',
      },
    },
  ),
  small(
    'shifter-for-a-bus-with-references',
    `${SUPPLY}
  net VDD_1V8 1.8V
  U3 LinearRegulator: IN=VDD_3V3 OUT=VDD_1V8 GND=GND
  U4 LevelShifter: VREF1=VDD_1V8 VREF2=VDD_3V3 EN=VDD_3V3 GND=GND SDA1=SDA_L SCL1=SCL_L SDA2=SDA SCL2=SCL
  U5 Magnetometer: VDD=VDD_1V8 GND=GND SDA=SDA_L SCL=SCL_L
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL`,
    { holds: { 'level-shifter-between-supplies': 'VREF1 and VREF2 are the voltages of its two sides' } },
  ),
  small(
    'optical-sensor-with-a-lamp-supply',
    `${SUPPLY}
  net VLED 5.0V
  net VDD_1V8 1.8V
  U3 LinearRegulator: IN=VDD_3V3 OUT=VDD_1V8 GND=GND
  U4 BoostConverter: VIN=VBAT SW=LX VOUT=VLED GND=GND
  L1 Inductor: 1=VBAT 2=LX
  U5 OpticalSensor: VDD=VDD_1V8 VLED+=VLED PGND=GND GND=GND SDA=SDA SCL=SCL INT=INT
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL`,
    { holds: { 'two-supplies-for-one-sensor': 'electronics at 1.8 V, lamps at 5 V' } },
  ),
  small(
    'memory-with-card-names',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDMMC_CK=CK SDMMC_CMD=CMD SDMMC_D0=D0 SDMMC_D1=D1 SDMMC_D2=D2 SDMMC_D3=D3
  U3 FlashMemory: VCC=VDD_3V3 VSS=GND CLK=CK CMD=CMD DAT0=D0 DAT1=D1 DAT2=D2 DAT3=D3`,
    { holds: { 'memory-over-four-lines': 'DAT0 to DAT3 all run to the processor' } },
  ),
  small(
    'working-memory-over-four-lines',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND OCTOSPI_CLK=CK OCTOSPI_NCS=CS OCTOSPI_IO0=D0 OCTOSPI_IO1=D1 OCTOSPI_IO2=D2 OCTOSPI_IO3=D3
  U3 RandomAccessMemory: VCC=VDD_3V3 VSS=GND SCLK=CK CE#=CS SI/SIO0=D0 SO/SIO1=D1 SIO2=D2 SIO3=D3`,
    {
      holds: {
        'memory-over-four-lines': 'SIO0 to SIO3 all run to the processor',
        'memory-beyond-the-processor': 'RAM outside the processor',
      },
    },
  ),
  small(
    'memory-on-i2c',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL
  U3 Memory: VCC=VDD_3V3 VSS=GND SDA=SDA SCL=SCL A0=GND A1=GND A2=GND WP=GND`,
    {
      holds: { 'memory-beyond-the-processor': 'a small memory on the bus' },
      not: { 'memory-over-four-lines': 'one data line; A0 to A2 and WP are tied to ground' },
    },
  ),
  small(
    'usb-through-a-choke',
    `${SUPPLY}
  J1 CableConnector: VBUS=VBUS D+=DP_C D-=DM_C GND=GND
  net VBUS 5.0V
  FL1 Filter: 1=DP_C 2=DM_C 3=DM 4=DP
  U2 Microcontroller+BluetoothRadio: VDD=VDD_3V3 VSS=GND D+=DP D-=DM VBUS=VBUS`,
    {
      holds: {
        'native-usb': 'a choke for both lines lies between connector and processor, and nothing else',
      },
    },
  ),
  small(
    'bridge-behind-a-shifter',
    `${SUPPLY}
  net VBUS 5.0V
  net VDD_1V8 1.8V
  U9 LinearRegulator: IN=VDD_3V3 OUT=VDD_1V8 GND=GND
  J1 CableConnector: VBUS=VBUS D+=DP D-=DM GND=GND
  U3 InterfaceBridge: VCC=VDD_3V3 GND=GND USBDP=DP USBDM=DM TXD=BR_TX RXD=BR_RX
  U4 LevelShifter: VCCA=VDD_1V8 VCCB=VDD_3V3 GND=GND B1=BR_TX B2=BR_RX A1=MCU_RX A2=MCU_TX
  U2 Microcontroller: VDD=VDD_1V8 VSS=GND UART_RX=MCU_RX UART_TX=MCU_TX`,
    {
      holds: {
        'usb-to-serial-bridge': 'connector, bridge, shifter, processor in a row',
        'level-shifter-between-supplies': 'bridge at 3.3 V, processor at 1.8 V',
      },
    },
  ),
  small(
    'keys-in-a-matrix',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL
  U3 PortExpander: VCC=VDD_3V3 GND=GND SDA=SDA SCL=SCL ROW0=ROW0 ROW1=ROW1 COL0=COL0
  SW1 Button: 1=ROW0 2=COL0
  SW2 Button: 1=ROW1 2=COL0`,
    { holds: { 'port-expander-for-keys': 'rows and column of the keys are ports of the expander' } },
  ),
  small(
    'rail-switched-by-a-bipolar-transistor',
    `${SUPPLY}
  net VDD_SENS power
  Q1 Transistor: B=Q1_B E=VDD_3V3 C=VDD_SENS
  R1 Resistor: 1=Q1_B 2=SENS_EN_N
  R2 Resistor: 1=VDD_3V3 2=Q1_B
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND P3=SENS_EN_N SDA=SDA SCL=SCL
  U3 HumiditySensor: VDD=VDD_SENS GND=GND SDA=SDA SCL=SCL`,
    {
      holds: {
        'rail-switched-by-a-transistor':
          'emitter on the rail, collector on the sensor, base worked through a resistor',
        'sensors-behind-a-load-switch': 'the sensor goes dark with the transistor',
      },
    },
  ),
  small(
    'inverter-by-a-transistor',
    `${SUPPLY}
  Q1 Transistor: B=Q1_B E=GND C=EN_N
  R1 Resistor: 1=Q1_B 2=EN
  R2 Resistor: 1=VDD_3V3 2=EN_N
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND P3=EN P4=EN_N`,
    {
      not: {
        'rail-switched-by-a-transistor': 'it turns a signal round; its collector is pulled up to a supply',
      },
    },
  ),
  small(
    'protection-in-the-return-of-the-cell',
    `
  net VBAT 3.7V
  net CELL- ground
  net VDD 1.8V
  BT1 PouchCell @-: +=VBAT -=CELL-
  U5 BatteryProtector: VDD=VBAT VSS=CELL- DO=DO CO=CO CS=GND
  Q1 Transistor: G=DO S=CELL- D=QMID
  Q2 Transistor: G=CO S=GND D=QMID
  U1 LinearRegulator: IN=VBAT OUT=VDD GND=GND
  U2 Microcontroller: VDD=VDD VSS=GND
  U3 Accelerometer: VDD=VBAT GND=GND`,
    {
      not: {
        'rail-switched-by-a-transistor':
          'two transistors of the protector sit in the return of the cell, and no rail',
        'sensors-behind-a-load-switch': 'no transistor stands in the supply of the sensor',
      },
    },
  ),
  small(
    'clocked-hub-on-its-own-buck',
    `
  net VSYS 3.8V
  net V18_AON 1.8V
  net V09 0.9V
  BT1 PouchCell @-: +=VSYS -=GND
  U1 PowerManagement+BuckConverter: VIN=VSYS LX1=LXA FB1=V09 GND=GND
  L1 Inductor: 1=LXA 2=V09
  U5 BuckConverter: VIN=VSYS SW=LXB VOUT=V18_AON GND=GND
  L2 Inductor: 1=LXB 2=V18_AON
  U2 ApplicationProcessor: VDD_CORE=V09 GND=GND SCK=SCK MOSI=MOSI
  U3 SensorHub: VDD=V18_AON VSS=GND SCK=SCK MOSI=MOSI`,
    {
      holds: {
        'always-on-domain': 'the hub has a buck to itself, the large processor hangs on the power chip',
      },
    },
  ),
  small(
    'debug-lines-by-net-name',
    `${SUPPLY}
  net SWDIO signal bus=SWD
  net SWCLK signal bus=SWD
  U2 Microcontroller+BluetoothRadio: VDD=VDD_3V3 VSS=GND PA13=SWDIO_M PA14=SWCLK
  R1 Resistor: 1=SWDIO_M 2=SWDIO
  TP1 TestPad: 1=SWDIO
  TP2 TestPad: 1=SWCLK`,
    { holds: { 'test-access-left-in': 'the nets are known as debug lines, one through a resistor' } },
  ),
  small(
    'debug-lines-of-jtag',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND TMS=TMS TCK=TCK TDI=TDI TDO=TDO
  J5 Connector: 1=VDD_3V3 2=TMS 3=GND 4=TCK 6=TDO 8=TDI`,
    { holds: { 'test-access-left-in': 'a bare connector has the four debug lines' } },
  ),
  small(
    'capacitors-at-connector-and-crystal',
    `
  board main rigid 40x20
  net VDD 1.8V
  U1 Microcontroller 10,10 4x4: VDD=VDD VSS=GND XIN=XI XOUT=XO
  Y1 Crystal 10,15 2x1.6: 1=XI 2=XO
  C1 Capacitor 8,13 1x0.5: 1=XI 2=GND
  C2 Capacitor 12,13 1x0.5: 1=XO 2=GND
  J1 Connector 35,10 4x3: 1=VDD 2=GND
  C3 Capacitor 32,10 1x0.5: 1=VDD 2=GND`,
    {
      not: {
        'decoupling-at-the-supply-pin':
          'near the chip are the load capacitors of the crystal; that of the supply is at the connector',
      },
    },
  ),
  small(
    'capacitor-behind-a-bead-at-the-pin',
    `
  board main rigid 40x20
  net VDD 1.8V
  net AVDD power
  U1 AnalogueFrontEnd 10,10 3x3: AVDD=AVDD DVDD=VDD GND=GND
  FB1 FerriteBead 13,12 1x0.5: 1=VDD 2=AVDD
  C1 Capacitor 12.5,10 1x0.5 rot=90: 1=AVDD 2=GND`,
    {
      holds: {
        'decoupling-at-the-supply-pin':
          'from the analogue supply pin, behind the bead, to ground, 0.75 mm away',
      },
    },
  ),
  small(
    'infrared-thermometer-near-a-converter',
    `
  board main rigid 40x20
  net VDD 1.8V
  U1 InfraredThermometer 10,10 4x4: VDD=VDD GND=GND
  U2 BoostConverter 15,10 2x2: VIN=VDD GND=GND VOUT=V5
  net V5 5.0V`,
    { not: { 'temperature-away-from-heat': 'a converter is 2 mm away' } },
  ),
]);
