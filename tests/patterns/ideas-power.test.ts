import { heldTo, small } from './small-boards.ts';

// Supplies: who feeds whom, and through what. Circuits as common practice has them, no source; all boards invented.

const CELL_AND_BUCK = `
  net VBAT 3.7V
  net +3V3 3.3V
  BT1 PouchCell @-: +=VBAT -=GND
  U1 BuckConverter: VIN=VBAT EN=VBAT SW=SW1 FB=+3V3 GND=GND
  L1 Inductor: 1=SW1 2=+3V3
  C1 Capacitor: 1=VBAT 2=GND
  C2 Capacitor: 1=+3V3 2=GND
  U2 Microcontroller: VDD=+3V3 VSS=GND PB7=SDA PB6=SCL PA3=PWR_EN PA4=MISC`;

heldTo([
  // What must never sleep, and clocks.
  small(
    'clock-with-own-ldo',
    `${CELL_AND_BUCK}
  net VDD_RTC 1.8V
  U3 LinearRegulator: IN=VBAT EN=VBAT OUT=VDD_RTC GND=GND
  U4 RealTimeClock: VDD=VDD_RTC SDA=SDA SCL=SCL VSS=GND`,
    {
      holds: {
        'always-on-domain': 'the clock runs from a linear regulator of its own, the processor from the buck',
      },
      not: {
        'clock-kept-alive-from-the-cell': 'a regulator stands between cell and clock',
        'quiet-supply-for-analogue': 'a clock is no analogue section',
        'rail-switched-by-a-transistor': 'there is no transistor',
      },
    },
  ),
  small(
    'hub-with-own-ldo-through-bead',
    `
  net VSYS 3.8V
  net VDD_CORE 0.9V
  net VDD_AON 1.8V
  net VDD_HUB 1.8V
  BT1 PouchCell @-: P=VSYS N=GND
  U1 BuckConverter: 1:PVIN=VSYS 2:LX=LX1 3:FB=VDD_CORE 4:PGND=GND 5:EN=VSYS
  L1 Inductor: 1=LX1 2=VDD_CORE
  U2 LinearRegulator: VIN=VSYS VOUT=VDD_AON GND=GND EN=VSYS
  FB1 FerriteBead: 1=VDD_AON 2=VDD_HUB
  C1 Capacitor: 1=VDD_HUB 2=GND
  U3 ApplicationProcessor: VDD_CPU=VDD_CORE GND=GND SPI_CLK=SCK SPI_MOSI=MOSI
  U4 SensorHub: VDD=VDD_HUB VSS=GND SCK=SCK SDI=MOSI`,
    {
      holds: {
        'always-on-domain':
          'the hub that stays awake has its own regulator, behind a bead that changes nothing',
      },
    },
  ),
  small(
    'clock-and-processor-on-one-ldo',
    `
  net VBAT 3.7V
  net VCC_MAIN 3.0V
  net VCC_RTC 3.0V
  net VHAP 3.3V
  BT1 PouchCell @-: +=VBAT -=GND
  U1 LinearRegulator: IN=VBAT OUT=VCC_MAIN GND=GND EN=VBAT
  U5 LinearRegulator: IN=VBAT OUT=VHAP GND=GND EN=VBAT
  U6 HapticDriver: VDD=VHAP GND=GND SDA=SDA SCL=SCL
  FB1 FerriteBead: 1=VCC_MAIN 2=VCC_RTC
  U2 Microcontroller: VDD=VCC_MAIN VSS=GND PB7=SDA PB6=SCL
  U3 RealTimeClock: VDD=VCC_RTC SDA=SDA SCL=SCL VSS=GND`,
    {
      not: {
        'always-on-domain': 'clock and processor hang on one regulator; the other one feeds the motor',
        'clock-kept-alive-from-the-cell': 'the clock hangs on a regulator, by way of a bead',
      },
    },
  ),
  small(
    'microphone-with-own-ldo',
    `${CELL_AND_BUCK}
  net VDD_MIC 1.8V
  U3 LinearRegulator: IN=VBAT OUT=VDD_MIC GND=GND EN=PWR_EN
  MK1 Microphone: VDD=VDD_MIC GND=GND DATA=MISC CLK=MIC_CLK`,
    { not: { 'always-on-domain': 'a microphone that is switched on by the processor may sleep' } },
  ),
  small(
    'clock-on-the-cell',
    `${CELL_AND_BUCK}
  U4 RealTimeClock: VDD=VBAT VSS=GND SDA=SDA SCL=SCL`,
    {
      holds: { 'clock-kept-alive-from-the-cell': 'the supply pin of the clock is on the net of the cell' },
      not: { 'always-on-domain': 'the clock has no regulator at all' },
    },
  ),
  small(
    'clock-behind-a-diode',
    `
  net VCOIN 3.0V
  net VDD_3V3 3.3V
  net VBUS 5.0V
  BT1 ButtonCell: 1=VCOIN 2=GND
  R1 Resistor: 1=VCOIN 2=VCOIN_R
  D1 Diode: A=VCOIN_R K=VRTC
  C1 Capacitor: 1=VRTC 2=GND
  net VCOIN_R power
  net VRTC power
  U1 LinearRegulator: IN=VBUS OUT=VDD_3V3 GND=GND
  J1 CableConnector: VBUS=VBUS GND=GND
  U2 RealTimeClock: VDD=VRTC GND=GND INT=RTC_INT
  U3 Microcontroller: VDD=VDD_3V3 GND=GND P0=RTC_INT`,
    {
      holds: {
        'clock-kept-alive-from-the-cell': 'the button cell feeds the clock through a resistor and a diode',
      },
    },
  ),
  small(
    'clock-with-a-supercapacitor',
    `${CELL_AND_BUCK}
  net VBACKUP power
  D1 Diode: A=+3V3 K=VBACKUP
  C9 Supercapacitor: 1=VBACKUP 2=GND
  U4 RealTimeClock: VDD=+3V3 VBAT=VBACKUP VSS=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'clock-kept-alive-from-the-cell':
          'pin VBAT is on a capacitor charged from the regulator, not on the cell',
        'always-on-domain': 'the clock is on the rail of the processor',
      },
    },
  ),

  // Quiet supplies.
  small(
    'front-end-with-own-ldo',
    `
  net VBAT 3.7V
  net VDD_1V8 1.8V
  net AVDD_LDO 3.0V
  net AVDD 3.0V
  BT1 PouchCell @-: +=VBAT -=GND
  U1 BuckConverter: VIN=VBAT SW=SW FB=VDD_1V8 GND=GND EN=VBAT
  L1 Inductor: 1=SW 2=VDD_1V8
  U2 LinearRegulator: 1:IN=VBAT 2:GND=GND 3:EN=AFE_EN 5:OUT=AVDD_LDO
  FB1 FerriteBead: 1=AVDD_LDO 2=AVDD
  C1 Capacitor: 1=AVDD 2=GND
  U3 AnalogueFrontEnd: AVDD=AVDD DVDD=VDD_1V8 AGND=GND DGND=GND SCLK=SCK SDI=MOSI SDO=MISO INP=PD_A INN=PD_K
  D1 Photodiode: A=PD_A K=PD_K
  U4 Microcontroller: VDD=VDD_1V8 VSS=GND PA5=SCK PA7=MOSI PA6=MISO PB0=AFE_EN`,
    {
      holds: {
        'quiet-supply-for-analogue': 'the linear regulator feeds the front end alone, through a bead',
        'two-supplies-for-one-sensor':
          'the front end has its analogue pin on 3.0 V and its digital pin on 1.8 V',
      },
      not: {
        'sensors-behind-a-load-switch': 'a regulator with an enable pin is no switch',
        'always-on-domain': 'the front end is switched by the processor',
      },
    },
  ),
  small(
    'reference-for-the-converter',
    `${CELL_AND_BUCK}
  net VREF 2.5V
  U3 VoltageReference: VIN=VBAT VOUT=VREF GND=GND
  U4 AnalogueToDigitalConverter: VDD=+3V3 REFP=VREF REFN=GND GND=GND AIN0=ECG_OUT SDA=SDA SCL=SCL
  U5 InstrumentationAmplifier: V+=+3V3 V-=GND OUT=ECG_OUT REF=VREF IN+=E1 IN-=E2`,
    {
      holds: {
        'quiet-supply-for-analogue': 'the reference feeds converter and amplifier and no processor',
      },
    },
  ),
  small(
    'ldo-for-front-end-and-processor',
    `
  net VBAT 3.7V
  net VCC_1V8 1.8V
  net VCC_1V8_A 1.8V
  BT1 PouchCell @-: +=VBAT -=GND
  U2 LinearRegulator: VIN=VBAT VOUT=VCC_1V8 GND=GND EN=VBAT
  FB1 FerriteBead: 1=VCC_1V8 2=VCC_1V8_A
  U3 AnalogueFrontEnd: AVDD=VCC_1V8_A DVDD=VCC_1V8 GND=GND SCLK=SCK SDI=MOSI SDO=MISO
  U4 Microcontroller: VDD=VCC_1V8 VSS=GND PA5=SCK PA7=MOSI PA6=MISO`,
    {
      not: {
        'quiet-supply-for-analogue': 'the same regulator feeds the processor',
        'two-supplies-for-one-sensor': 'both pins are on one rail, one of them behind a bead',
        'level-shifter-between-supplies': 'there is no shifter',
      },
    },
  ),
  small(
    'second-buck-for-the-front-end',
    `${CELL_AND_BUCK}
  net VANA 1.8V
  net VMEM 1.8V
  U5 BuckConverter: VIN=VBAT EN=PWR_EN SW=SW2 FB=VANA GND=GND
  L2 Inductor: 1=SW2 2=VANA
  U6 LinearRegulator: IN=VBAT OUT=VMEM GND=GND EN=VBAT
  U7 FlashMemory: VCC=VMEM GND=GND
  U8 AnalogueFrontEnd: AVDD=VANA AGND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'quiet-supply-for-analogue':
          'the front end is fed by a switching converter, and the linear one feeds a memory',
      },
    },
  ),

  // Display rails.
  small(
    'boost-for-the-oled',
    `${CELL_AND_BUCK}
  net VPP_13V 13.0V
  U5 BoostConverter: VIN=VBAT LX=BST_LX VOUT=VPP_13V FB=BST_FB EN=PWR_EN GND=GND
  L2 Inductor: 1=VBAT 2=BST_LX
  R1 Resistor: 1=VPP_13V 2=BST_FB
  R2 Resistor: 1=BST_FB 2=GND
  DS1 OledDisplay: VPP=VPP_13V VDD=+3V3 VSS=GND SCLK=MISC`,
    {
      holds: {
        'display-rail-from-its-own-boost': 'the boost converter feeds the display and nothing else',
      },
    },
  ),
  small(
    'boost-for-the-oled-by-its-tail',
    `
  board main rigid 30x20
  board tail flex 40x8
  net VSYS 3.8V
  net ELVDD 4.6V
  net ELVDD_F 4.6V
  net VDD1V8 1.8V
  BT1 PouchCell @-: +=VSYS -=GND
  U5 BoostConverter: VIN=VSYS SW=SW_B VO=ELVDD EN=EN_B GND=GND
  L2 Inductor: 1=VSYS 2=SW_B
  J1 BoardToBoardConnector @main: 1=ELVDD 2=GND 3=DSI_CLK
  P1 BoardToBoardConnector @tail: 1=ELVDD_F 2=GND_F 3=DSI_CLK_F
  mate J1 P1 1-1 2-2 3-3
  DS1 OledDisplay @tail: ELVDD=ELVDD_F GND=GND_F CLK=DSI_CLK_F
  U1 LinearRegulator: IN=VSYS OUT=VDD1V8 GND=GND
  U2 ApplicationProcessor: VDD=VDD1V8 GND=GND GPIO4=EN_B CKP=DSI_CLK`,
    {
      holds: {
        'display-rail-from-its-own-boost': 'the rail reaches the display through the connector of its tail',
        'boards-mated-through-a-connector': 'main board and tail meet in a pair of connectors',
      },
    },
  ),
  small(
    'boost-shared-with-lamps',
    `${CELL_AND_BUCK}
  net VBOOST_5V 5.0V
  U5 BoostConverter: VIN=VBAT SW=BST_LX VOUT=VBOOST_5V EN=PWR_EN GND=GND
  L2 Inductor: 1=VBAT 2=BST_LX
  DS1 OledDisplay: VCC=VBOOST_5V VDD=+3V3 GND=GND
  U6 EmitterDriver: VLED=VBOOST_5V VDD=+3V3 GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'display-rail-from-its-own-boost': 'the converter feeds the lamps of the pulse sensor as well',
      },
    },
  ),
  small(
    'boost-fed-from-the-display-rail',
    `${CELL_AND_BUCK}
  net 5V0 5.0V
  U5 BoostConverter: VIN=+3V3 SW=BST_LX VOUT=5V0 EN=PWR_EN GND=GND
  L2 Inductor: 1=+3V3 2=BST_LX
  DS1 OledDisplay: VDD=+3V3 GND=GND
  U6 HapticDriver: VDD=5V0 GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'display-rail-from-its-own-boost':
          'display and converter draw from one rail; the converter feeds the motor',
      },
    },
  ),

  // Fuel gauges.
  small(
    'gauge-on-the-cell',
    `${CELL_AND_BUCK}
  U5 FuelGauge: VDD=VBAT CELL=VBAT VSS=GND SDA=SDA SCL=SCL ALRT=MISC`,
    { holds: { 'gauge-at-the-cell': 'the supply pin of the gauge is on the net of the cell' } },
  ),
  small(
    'gauge-behind-fuse-and-filter',
    `
  net PACK+ 3.85V
  net VBATT 3.85V
  net VGG power
  BT1 PouchCell @-: P+=PACK+ P-=GND
  F1 Fuse: 1=PACK+ 2=VBATT
  R7 Resistor: 1=VBATT 2=VGG
  C7 Capacitor: 1=VGG 2=GND
  U5 FuelGauge: 3:VDD=VGG 2:VSS=GND 7:SDA=I2C_SDA 8:SCL=I2C_SCL
  U1 LinearRegulator: IN=VBATT OUT=VDD_3V0 GND=GND
  net VDD_3V0 3.0V
  U2 Microcontroller: VDD=VDD_3V0 GND=GND SDA0=I2C_SDA SCL0=I2C_SCL`,
    { holds: { 'gauge-at-the-cell': 'fuse and filter resistor lie between cell and gauge, and no chip' } },
  ),
  small(
    'gauge-on-a-regulator',
    `${CELL_AND_BUCK}
  U5 FuelGauge: VDD=+3V3 CELL=VBAT VSS=GND SDA=SDA SCL=SCL`,
    { not: { 'gauge-at-the-cell': 'it measures at the cell but draws its supply from the regulator' } },
  ),
  small(
    'gauge-on-the-system-rail',
    `
  net VBUS 5.0V
  net VBAT 3.7V
  net VSYS power
  net V1P8 1.8V
  J1 CableConnector: VBUS=VBUS GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U1 Charger: VBUS=VBUS BAT=VBAT SYS=VSYS GND=GND SDA=SDA SCL=SCL
  U2 BuckConverter: VIN=VSYS SW=SW FB=V1P8 GND=GND
  L1 Inductor: 1=SW 2=V1P8
  U3 FuelGauge: VDD=VSYS GND=GND SDA=SDA SCL=SCL
  U4 Microcontroller: VDD=V1P8 GND=GND SDA=SDA SCL=SCL`,
    {
      holds: { 'power-functions-apart': 'the charger feeds the buck by its system output' },
      not: {
        'gauge-at-the-cell': 'the charger stands between cell and gauge',
        'power-functions-in-one-chip': 'the charger makes no steady supply',
      },
    },
  ),

  // Charger and regulators.
  small(
    'charger-then-ldo',
    `
  net VBUS_5V 5.0V
  net VBAT power
  net VDD 3.0V
  J1 ChargingContact: 1=VBUS_5V
  J2 ChargingContact: 1=GND
  U1 Charger: 1:STAT=CHG_N 2:VSS=GND 3:VBAT=VBAT 4:VDD=VBUS_5V 5:PROG=PROG
  R1 Resistor: 1=PROG 2=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U2 LinearRegulator: VIN=VBAT VOUT=VDD GND=GND CE=VBAT
  U3 Microcontroller: VDD=VDD VSS=GND P0.04=CHG_N`,
    {
      holds: {
        'power-functions-apart':
          'the charger fills the cell, and from the cell a regulator of its own makes 3 V',
      },
      not: { 'power-functions-in-one-chip': 'charging and regulating are two chips' },
    },
  ),
  small(
    'regulator-on-the-cable',
    `
  net VBUS 5.0V
  net VCELL power
  net +3V3 3.3V
  J1 CableConnector: VBUS=VBUS GND=GND
  U1 Charger: VIN=VBUS BAT=VCELL GND=GND STAT=STAT
  BT1 PouchCell @-: +=VCELL -=GND
  M1 HapticActuator @-: 1=VCELL 2=MOT_N
  Q1 Transistor: D=MOT_N G=MOT_EN S=GND
  U2 LinearRegulator: IN=VBUS OUT=+3V3 GND=GND
  U3 Microcontroller: VDD=+3V3 GND=GND P1=STAT P2=MOT_EN`,
    {
      not: {
        'power-functions-apart': 'charger and regulator both draw from the cable; neither feeds the other',
        'rail-switched-by-a-transistor': 'the transistor pulls one end of a motor to ground',
        'power-functions-in-one-chip': 'charging and regulating are two chips',
      },
    },
  ),
  small(
    'power-chip-with-an-extra-ldo',
    `
  net VBUS 5.0V
  net VBAT power
  net VSYS power
  net VDD_1V8 1.8V
  net VDD_3V0 3.0V
  net VDD_GPS 2.8V
  J1 CableConnector: VBUS=VBUS GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U1 PowerManagement+Charger+BuckConverter+LinearRegulator: VBUS=VBUS VBAT=VBAT VSYS=VSYS SW1=SW1 VOUT1=VDD_1V8 LDO1=VDD_3V0 GND=GND SDA=SDA SCL=SCL
  L1 Inductor: 1=SW1 2=VDD_1V8
  U2 LinearRegulator: IN=VSYS OUT=VDD_GPS GND=GND
  U3 SatelliteReceiver: VCC=VDD_GPS GND=GND TXD=GPS_TX
  U4 Microcontroller: VDD=VDD_1V8 GND=GND SDA=SDA SCL=SCL RX=GPS_TX
  U5 Accelerometer: VDD=VDD_3V0 VDDIO=VDD_3V0 GND=GND INT1=ACC_INT`,
    {
      holds: { 'power-functions-in-one-chip': 'the power chip charges and makes two supplies' },
      not: {
        'power-functions-apart':
          'the charger is one with regulators, and one more regulator does not part them',
        'sensors-behind-a-load-switch': 'the sensor hangs on an output of the power chip that is a regulator',
        'two-supplies-for-one-sensor': 'both supply pins of the sensor are on 3.0 V',
      },
    },
  ),
  small(
    'power-chip-known-by-its-kind',
    `
  net VIN_CHG 5.0V
  net VBAT power
  net V18 1.8V
  net V33 3.3V
  J1 ChargingContact: 1=VIN_CHG
  BT1 PouchCell @-: +=VBAT -=GND
  U1 PowerManagement: CHGIN=VIN_CHG BATT=VBAT LX1=LX1 BUCK1_OUT=V18 LDO2_OUT=V33 GND=GND
  L1 Inductor: 1=LX1 2=V18
  U4 Microcontroller: VDD=V18 GND=GND`,
    {
      holds: {
        'power-functions-in-one-chip':
          'one chip has the contact on its charge input, the cell, a buck and a linear output',
      },
    },
  ),
  small(
    'several-regulators-and-a-charger',
    `
  net VBUS 5.0V
  net VBAT power
  net V18 1.8V
  net V28 2.8V
  J1 CableConnector: VBUS=VBUS GND=GND
  U1 Charger: IN=VBUS BAT=VBAT GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U2 BuckConverter+LinearRegulator: VIN1=VBAT VIN2=VBAT SW=LX FB=V18 OUT2=V28 GND=GND
  L1 Inductor: 1=LX 2=V18
  U3 Microcontroller: VDD=V18 GND=GND`,
    {
      holds: {
        'power-functions-apart':
          'the charger has no regulator, and a chip with two regulators runs from the cell',
      },
      not: { 'power-functions-in-one-chip': 'the chip with several supplies does not charge' },
    },
  ),

  small(
    'charger-ahead-of-a-power-chip',
    `
  net VBUS 5.0V
  net VBAT power
  net VSYS power
  net V18 1.8V
  net V33 3.3V
  J1 CableConnector: VBUS=VBUS GND=GND
  U1 Charger: IN=VBUS BAT=VBAT SYS=VSYS GND=GND
  BT1 PouchCell @-: +=VBAT -=GND
  U2 PowerManagement: VIN=VSYS LX1=LX1 BUCK1_OUT=V18 LDO2_OUT=V33 GND=GND
  L1 Inductor: 1=LX1 2=V18
  U3 Microcontroller: VDD=V18 GND=GND`,
    {
      holds: {
        'power-functions-apart': 'one chip charges, and another makes the supplies from its system output',
      },
      not: { 'power-functions-in-one-chip': 'the power chip does not charge: a charger stands ahead of it' },
    },
  ),

  // Transistors and load switches.
  small(
    'sensors-behind-a-transistor',
    `${CELL_AND_BUCK}
  net VDD_SENS power
  Q1 Transistor catalogued part=pfet-a: 1:G=PWR_EN 2:S=+3V3 3:D=VDD_SENS
  R1 Resistor: 1=+3V3 2=PWR_EN
  U5 Accelerometer: VDD=VDD_SENS VDDIO=VDD_SENS GND=GND SDA=SDA SCL=SCL`,
    {
      holds: {
        'rail-switched-by-a-transistor':
          'source on the rail, drain on the sensors, gate worked by the processor',
        'sensors-behind-a-load-switch': 'the sensor goes dark with the transistor',
      },
    },
  ),
  small(
    'receiver-behind-two-transistors',
    `${CELL_AND_BUCK}
  net VBAT_SW power
  Q2 Transistor: G=Q2_G S=VBAT D=VBAT_SW
  R1 Resistor: 1=VBAT 2=Q2_G
  Q3 Transistor: G=PWR_EN D=Q2_G S=GND
  R2 Resistor: 1=PWR_EN 2=GND
  U5 SatelliteReceiver: VCC=VBAT_SW GND=GND TXD=MISC
  U6 Accelerometer: VDD=+3V3 GND=GND SDA=SDA SCL=SCL`,
    {
      holds: {
        'rail-switched-by-a-transistor':
          'one transistor cuts the rail, the other only turns the signal round',
      },
      not: {
        'sensors-behind-a-load-switch': 'what is cut off is a receiver; the sensor stays on its rail',
      },
    },
  ),
  small(
    'transistor-pulls-a-lamp-down',
    `${CELL_AND_BUCK}
  R1 Resistor: 1=+3V3 2=LED_A
  D1 Emitter: A=LED_A K=LED_K
  Q1 Transistor: 1:G=PWR_EN 2:S=GND 3:D=LED_K`,
    { not: { 'rail-switched-by-a-transistor': 'the transistor pulls a lamp to ground; no rail goes off' } },
  ),
  small(
    'transistor-against-wrong-polarity',
    `
  net BAT_IN 3.0V
  net VBAT 3.0V
  BT1 ButtonCell: +=BAT_IN -=GND
  Q1 Transistor: G=GND D=BAT_IN S=VBAT
  U1 Microcontroller: VDD=VBAT VSS=GND SDA=SDA SCL=SCL
  U2 Accelerometer: VDD=VBAT GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'rail-switched-by-a-transistor': 'the gate is tied to ground: it is there against wrong polarity',
        'sensors-behind-a-load-switch': 'nobody can switch the transistor off',
      },
    },
  ),
  small(
    'transistor-against-wrong-polarity-gate-resistor',
    `
  net BAT+ 3.7V
  net VCC_MAIN 3.7V
  BT1 PouchCell @-: 1=BAT+ 2=GND
  Q1 Transistor: 1:G=QG 2:S=VCC_MAIN 3:D=BAT+
  R1 Resistor: 1=QG 2=GND
  D1 Diode: A=QG K=VCC_MAIN
  U1 Microcontroller: VDD=VCC_MAIN VSS=GND SDA=SDA SCL=SCL
  U2 PressureSensor: VDD=VCC_MAIN GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'rail-switched-by-a-transistor':
          'the gate is pulled to ground by a resistor and held by a diode; nothing works it',
        'sensors-behind-a-load-switch': 'nobody can switch the transistor off',
      },
    },
  ),
  small(
    'transistors-shift-a-bus',
    `${CELL_AND_BUCK}
  net VDD_1V8 1.8V
  U3 LinearRegulator: IN=+3V3 OUT=VDD_1V8 GND=GND
  Q1 Transistor: G=VDD_1V8 S=SDA_1V8 D=SDA
  Q2 Transistor: G=VDD_1V8 S=SCL_1V8 D=SCL
  R1 Resistor: 1=+3V3 2=SDA
  R2 Resistor: 1=+3V3 2=SCL
  R3 Resistor: 1=VDD_1V8 2=SDA_1V8
  R4 Resistor: 1=VDD_1V8 2=SCL_1V8
  U5 PressureSensor: VDD=VDD_1V8 GND=GND SDA=SDA_1V8 SCL=SCL_1V8`,
    {
      not: {
        'rail-switched-by-a-transistor':
          'the transistors pass a bus between two voltages; no supply goes through them',
        'sensors-behind-a-load-switch': 'the supply of the sensor comes from a regulator',
      },
    },
  ),
  small(
    'transistor-left-out',
    `${CELL_AND_BUCK}
  net VDD_SENS power
  Q1 Transistor unfitted: G=PWR_EN S=+3V3 D=VDD_SENS
  R1 Resistor: 1=+3V3 2=VDD_SENS
  U5 Accelerometer: VDD=VDD_SENS GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'rail-switched-by-a-transistor': 'the place of the transistor is empty and a resistor bridges it',
        'sensors-behind-a-load-switch': 'the place of the transistor is empty and a resistor bridges it',
      },
    },
  ),
  small(
    'sensors-behind-a-load-switch-and-bead',
    `${CELL_AND_BUCK}
  net VDD_S power
  net VDD_S_F power
  U3 LoadSwitch: VIN=+3V3 VOUT=VDD_S ON=PWR_EN GND=GND
  FB1 FerriteBead: 1=VDD_S 2=VDD_S_F
  U5 Gyroscope: VDD=VDD_S_F GND=GND SDA=SDA SCL=SCL`,
    {
      holds: { 'sensors-behind-a-load-switch': 'the switch feeds the sensor through a bead' },
      not: { 'rail-switched-by-a-transistor': 'the switch is a load switch, no single transistor' },
    },
  ),
  small(
    'sensor-ahead-of-the-load-switch',
    `${CELL_AND_BUCK}
  net VGPS power
  U3 LoadSwitch: VIN=+3V3 VOUT=VGPS ON=PWR_EN GND=GND
  U4 SatelliteReceiver: VCC=VGPS GND=GND TXD=MISC
  U5 Accelerometer: VDD=+3V3 GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'sensors-behind-a-load-switch':
          'the sensor shares the input of the switch; its output feeds a receiver',
      },
    },
  ),
  small(
    'front-end-behind-switch-and-connector',
    `
  board main rigid 30x20
  board optics rigid 12x12
  net VDD_1V8 1.8V
  net VDD_AFE power
  net AVDD power
  U1 LinearRegulator: IN=VBAT OUT=VDD_1V8 GND=GND
  net VBAT 3.7V
  BT1 PouchCell @-: +=VBAT -=GND
  U2 Microcontroller: VDD=VDD_1V8 GND=GND P0.02=AFE_EN SDA=SDA SCL=SCL
  U3 LoadSwitch: IN=VDD_1V8 OUT=VDD_AFE EN=AFE_EN GND=GND
  J1 BoardToBoardConnector: 1=VDD_AFE 2=GND 3=SDA 4=SCL
  J2 BoardToBoardConnector @optics: 4=AVDD 3=AGND 2=SDA_S 1=SCL_S
  mate J1 J2 1-4 2-3 3-2 4-1
  U7 AnalogueFrontEnd @optics: AVDD=AVDD AGND=AGND SDA=SDA_S SCL=SCL_S`,
    {
      holds: {
        'sensors-behind-a-load-switch': 'the switch feeds the front end through pin 1, which meets pin 4',
      },
    },
  ),
  small(
    'sensor-works-the-load-switch',
    `${CELL_AND_BUCK}
  net V_MOT power
  U3 LoadSwitch: VIN=+3V3 VOUT=V_MOT ON=ACC_INT GND=GND
  U6 HapticDriver: VDD=V_MOT GND=GND
  U5 Accelerometer: VDD=+3V3 GND=GND SDA=SDA SCL=SCL INT1=ACC_INT`,
    { not: { 'sensors-behind-a-load-switch': 'the sensor turns the switch on; the switch feeds a motor' } },
  ),

  // One sensor on two supplies.
  small(
    'sensor-with-core-and-line-supply',
    `${CELL_AND_BUCK}
  net VDD_1V8 1.8V
  U3 LinearRegulator: IN=+3V3 OUT=VDD_1V8 GND=GND
  U5 Accelerometer: 8:VDD=+3V3 5:VDDIO=VDD_1V8 6:GND=GND 14:SDA=SDA 13:SCL=SCL 12:CS=VDD_1V8`,
    { holds: { 'two-supplies-for-one-sensor': 'VDD is on 3.3 V and VDDIO on 1.8 V' } },
  ),
  small(
    'sensor-on-one-rail-bus-on-another',
    `${CELL_AND_BUCK}
  net VDD_1V8 1.8V
  U3 LinearRegulator: IN=+3V3 OUT=VDD_1V8 GND=GND
  R1 Resistor: 1=+3V3 2=SDA
  R2 Resistor: 1=+3V3 2=SCL
  U5 Accelerometer: VDD=VDD_1V8 VDDIO=VDD_1V8 GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'two-supplies-for-one-sensor': 'both supply pins are on 1.8 V; only the bus is pulled to 3.3 V',
      },
    },
  ),
  small(
    'sensor-with-a-capacitor-pin',
    `${CELL_AND_BUCK}
  net VREG power
  U5 Magnetometer: VDD=+3V3 VDDIO=+3V3 VREG=VREG GND=GND SDA=SDA SCL=SCL
  C5 Capacitor: 1=VREG 2=GND`,
    {
      not: {
        'two-supplies-for-one-sensor':
          'VREG is the output of its own regulator, with a capacitor and nothing else',
      },
    },
  ),
  small(
    'sensor-with-a-strap-on-another-rail',
    `${CELL_AND_BUCK}
  net VDD_1V8 1.8V
  U3 LinearRegulator: IN=+3V3 OUT=VDD_1V8 GND=GND
  U5 Gyroscope: VDD=VDD_1V8 VDDIO=VDD_1V8 SA0=+3V3 GND=GND SDA=SDA SCL=SCL`,
    { not: { 'two-supplies-for-one-sensor': 'SA0 is an address strap and no supply pin' } },
  ),

  // Level shifters.
  small(
    'shifter-on-the-sensor-bus',
    `${CELL_AND_BUCK}
  net VDD_1V8 1.8V
  U3 LinearRegulator: IN=+3V3 OUT=VDD_1V8 GND=GND
  U4 LevelShifter: VCCA=VDD_1V8 VCCB=+3V3 GND=GND A1=SDA_LV A2=SCL_LV B1=SDA B2=SCL OE=VDD_1V8
  R5 Resistor: 1=SDA_LV 2=SDA_S
  U5 PressureSensor: VDD=VDD_1V8 GND=GND SDA=SDA_S SCL=SCL_LV`,
    {
      holds: {
        'level-shifter-between-supplies': 'sensor at 1.8 V on one side, processor at 3.3 V on the other',
      },
      not: { 'rail-switched-by-a-transistor': 'there is no transistor' },
    },
  ),
  small(
    'shifter-for-the-lamps',
    `${CELL_AND_BUCK}
  net VBOOST 5.0V
  U3 BoostConverter: VIN=VBAT SW=BLX VOUT=VBOOST GND=GND EN=PWR_EN
  L2 Inductor: 1=VBAT 2=BLX
  U4 LevelShifter: 1:VCCA=+3V3 6:VCCB=VBOOST 2:GND=GND 3:A=MISC 4:B=LED_DATA 5:DIR=+3V3
  D1 AddressableLed: VDD=VBOOST GND=GND DIN=LED_DATA`,
    { holds: { 'level-shifter-between-supplies': 'processor at 3.3 V drives lamps at 5 V through it' } },
  ),
  small(
    'shifter-with-one-voltage',
    `${CELL_AND_BUCK}
  U4 LevelShifter: VCCA=+3V3 VCCB=+3V3 GND=GND A1=MISC B1=INT_S
  U5 PressureSensor: VDD=+3V3 GND=GND SDA=SDA SCL=SCL INT=INT_S`,
    { not: { 'level-shifter-between-supplies': 'both supplies are 3.3 V; it only repeats a line' } },
  ),
  small(
    'shifter-to-an-empty-place',
    `${CELL_AND_BUCK}
  net VDD_1V8 1.8V
  U3 LinearRegulator: IN=+3V3 OUT=VDD_1V8 GND=GND
  U4 LevelShifter: VCCA=VDD_1V8 VCCB=+3V3 GND=GND A1=SDA_LV A2=SCL_LV B1=SDA B2=SCL
  U5 PressureSensor unfitted: VDD=VDD_1V8 GND=GND SDA=SDA_LV SCL=SCL_LV`,
    { not: { 'level-shifter-between-supplies': 'the chip of the other voltage is not fitted' } },
  ),
]);
