import { heldTo, small } from './small-boards.ts';

// Signals: USB, buses, memories, processors and radios. Circuits as common practice has them, no source; all boards invented.

const SUPPLY = `
  net VBUS 5.0V
  net VBAT 3.7V
  net VDD_3V3 3.3V
  BT1 PouchCell @-: +=VBAT -=GND
  U1 LinearRegulator: IN=VBAT OUT=VDD_3V3 GND=GND EN=VBAT
  C1 Capacitor: 1=VDD_3V3 2=GND`;

heldTo([
  // USB.
  small(
    'usb-with-protector-and-resistors',
    `${SUPPLY}
  J1 CableConnector: A4:VBUS=VBUS A6:DP1=D_P A7:DN1=D_N A5:CC1=CC1 A12:GND=GND
  R9 Resistor: 1=CC1 2=GND
  U5 SurgeProtector: I/O1=D_P I/O2=D_N VBUS=VBUS GND=GND
  R1 Resistor: 1=D_P 2=USB_DP
  R2 Resistor: 1=D_N 2=USB_DM
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND PA12/USB_DP=USB_DP PA11/USB_DM=USB_DM PB6=SCL PB7=SDA`,
    {
      holds: {
        'native-usb': 'both data lines reach the processor through 22 ohm resistors, a protector beside them',
        'surge-protection-at-the-outside-connector':
          'the protector clamps both data lines and the supply at the plug',
      },
      not: { 'usb-to-serial-bridge': 'there is no bridge' },
    },
  ),
  small(
    'usb-on-a-dock-board',
    `
  board main rigid 30x20
  board dock rigid 20x10
  net VBUS 5.0V
  net VDD 3.3V
  J1 CableConnector @dock: VBUS=VBUS_D D+=DP_D D-=DN_D GND=GND_D
  net VBUS_D 5.0V
  net GND_D ground
  D1 SurgeProtector @dock: K=VBUS_D A=GND_D
  J2 FlexConnector @dock: 1=VBUS_D 2=DP_D 3=DN_D 4=GND_D
  J3 FlexConnector @main: 1=GND 2=USB_N 3=USB_P 4=VBUS
  mate J2 J3 flex 1-4 2-3 3-2 4-1
  U1 LinearRegulator: IN=VBUS OUT=VDD GND=GND
  U2 Microcontroller catalogued part=mcu-usb: 12:VDD=VDD 13:VSS=GND 45:USBDP=USB_P 46:USBDM=USB_N`,
    {
      holds: {
        'native-usb': 'the data lines cross a pair of connectors, pin 2 to pin 3, and end at the processor',
        'surge-protection-at-the-outside-connector': 'the protector clamps the supply of the plug',
        'boards-linked-by-flex': 'a flexible circuit runs from one connector to the other',
      },
    },
  ),
  small(
    'usb-to-a-bridge',
    `${SUPPLY}
  J1 CableConnector: VBUS=VBUS D+=UDP D-=UDM ID=- GND=GND
  U3 InterfaceBridge: VDD=VDD_3V3 GND=GND UD+=UDP UD-=UDM TXD=UART_RX RXD=BR_RX
  R1 Resistor: 1=BR_RX 2=UART_TX
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND PA2/TX=UART_TX PA3/RX=UART_RX`,
    {
      holds: {
        'usb-to-serial-bridge': 'USB lines end at the bridge, and two serial lines go on to the processor',
      },
      not: {
        'native-usb': 'the data lines end at the bridge',
        'surge-protection-at-the-outside-connector': 'there is no protector',
      },
    },
  ),
  small(
    'usb-for-charging-alone',
    `${SUPPLY}
  J1 CableConnector: VBUS=VBUS D+=DSHORT D-=DSHORT GND=GND
  U4 Charger: VIN=VBUS BAT=VBAT GND=GND STAT=CHG
  R1 Resistor: 1=VBUS 2=VB_SENSE
  R2 Resistor: 1=VB_SENSE 2=GND
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND P0=CHG AIN1=VB_SENSE USB_DP=- USB_DM=-
  D9 Diode: A=VBUS K=VSCH
  net VSCH power`,
    {
      not: {
        'native-usb': 'the data lines are joined to each other; the processor only measures the supply',
        'surge-protection-at-the-outside-connector': 'a diode in series with the supply clamps nothing',
      },
    },
  ),
  small(
    'usb-lines-for-charger-detection',
    `${SUPPLY}
  J1 CableConnector: VBUS=VBUS DP=USB_DP DM=USB_DM CC1=CC1 CC2=CC2 GND=GND
  U4 Charger: VBUS=VBUS D+=USB_DP D-=USB_DM BAT=VBAT GND=GND SDA=I2C_SDA SCL=I2C_SCL
  D2 SurgeProtector: 1=VBAT 2=GND
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND P0.11=I2C_SDA P0.12=I2C_SCL P0.30=CC1 P0.31=CC2`,
    {
      not: {
        'native-usb':
          'the data lines end at the charger, which tells ports apart; the processor has the CC lines',
        'surge-protection-at-the-outside-connector': 'the protector clamps the cell, behind the charger',
        'usb-to-serial-bridge': 'a charger is no bridge',
      },
    },
  ),
  small(
    'usb-behind-a-hub',
    `${SUPPLY}
  J1 CableConnector: VBUS=VBUS DP=UP_P DM=UP_M GND=GND
  U3 UsbHub: VDD33=VDD_3V3 GND=GND USBDP_UP=UP_P USBDM_UP=UP_M USBDP_DN1=DN1_P USBDM_DN1=DN1_M
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND USB_DP=DN1_P USB_DM=DN1_M`,
    {
      not: {
        'native-usb': 'the lines of the connector end at the hub',
        'usb-to-serial-bridge': 'a hub gives USB on, no serial line',
      },
    },
  ),
  small(
    'usb-native-beside-an-i2c-bridge',
    `${SUPPLY}
  J1 CableConnector: VBUS=VBUS DP=D_P DM=D_N GND=GND
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND USB_D+=D_P USB_D-=D_N SDA=I2C_SDA SCL=I2C_SCL
  U3 InterfaceBridge: VDD=VDD_3V3 VIN=VBUS GND=GND SDA=I2C_SDA SCL=I2C_SCL TX=GPS_RX RX=GPS_TX
  U4 SatelliteReceiver: VCC=VDD_3V3 GND=GND RXD=GPS_RX TXD=GPS_TX`,
    {
      holds: { 'native-usb': 'the data lines end at the processor' },
      not: {
        'usb-to-serial-bridge':
          'the bridge shares the supply of the plug, but translates I2C for the receiver',
      },
    },
  ),
  small(
    'usb-bridge-to-test-pads',
    `${SUPPLY}
  J1 CableConnector: VBUS=VBUS DP=D_P DM=D_N GND=GND
  U3 InterfaceBridge: VDD=VDD_3V3 GND=GND D+=D_P D-=D_N TXD=BR_TX RXD=BR_RX
  TP1 TestPad: 1=BR_TX
  TP2 TestPad: 1=BR_RX
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND PA2/TX=- PA3/RX=-`,
    {
      not: {
        'usb-to-serial-bridge': 'the serial side of the bridge ends at two pads and not at the processor',
      },
    },
  ),
  small(
    'protector-at-the-charging-contacts',
    `${SUPPLY}
  net VCHG_IN 5.0V
  J1 ChargingContact: 1=VCHG_IN
  J2 ChargingContact: 1=GND
  D1 SurgeProtector: 1=VCHG_IN 2=GND
  U4 Charger: VIN=VCHG_IN BAT=VBAT GND=GND`,
    {
      holds: {
        'surge-protection-at-the-outside-connector':
          'the contact touches skin and charger, and the protector clamps it',
      },
    },
  ),
  small(
    'protector-inside',
    `${SUPPLY}
  J2 Connector: 1=VBAT 2=GND
  D1 SurgeProtector: 1=VBAT 2=GND
  J1 CableConnector: VBUS=VBUS GND=GND
  U4 Charger: VIN=VBUS BAT=VBAT GND=GND
  L9 Coil: 1=NFC1 2=NFC2
  D2 SurgeProtector: IO1=NFC1 IO2=NFC2 GND=GND
  U5 NearFieldTag: LA=NFC1 LB=NFC2 VCC=VDD_3V3 GND=GND`,
    {
      not: {
        'surge-protection-at-the-outside-connector':
          'one protector clamps the cell inside, one the coil; the plug shares only ground with them',
      },
    },
  ),

  // Memories.
  small(
    'flash-over-spi',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND PA4=FLASH_CS PA5=SPI_SCK PA6=SPI_MISO PA7=SPI_MOSI
  U3 FlashMemory: 1:CS#=FLASH_CS 2:DO/IO1=MISO_F 3:WP#/IO2=VDD_3V3 4:GND=GND 5:DI/IO0=SPI_MOSI 6:CLK=SPI_SCK 7:HOLD#/IO3=VDD_3V3 8:VCC=VDD_3V3
  R1 Resistor: 1=MISO_F 2=SPI_MISO`,
    {
      holds: { 'memory-beyond-the-processor': 'a flash memory hangs on four lines of the processor' },
      not: {
        'memory-over-four-lines':
          'the four lines are select, clock and one data line each way; IO2 and IO3 are tied to the supply',
      },
    },
  ),
  small(
    'flash-over-spi-with-pull-ups',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND P0.20=CS P0.19=SCK P0.21=IO1 P0.22=IO0
  R1 Resistor: 1=VDD_3V3 2=WP_N
  R2 Resistor: 1=VDD_3V3 2=HOLD_N
  U3 FlashMemory: CS=CS SCLK=SCK SO/SIO1=IO1 SI/SIO0=IO0 WP/SIO2=WP_N HOLD/SIO3=HOLD_N VCC=VDD_3V3 GND=GND`,
    {
      holds: { 'memory-beyond-the-processor': 'a flash memory hangs on lines of the processor' },
      not: {
        'memory-over-four-lines':
          'only IO0 and IO1 reach the processor; the others are pulled up to its supply',
      },
    },
  ),
  small(
    'flash-over-qspi',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND P0.17/CSN=QSPI_CS P0.19/SCK=QSPI_CLK P0.20=QSPI_D0 P0.21=QSPI_D1 P0.22=QSPI_D2 P0.23=QSPI_D3
  U3 FlashMemory: CS#=QSPI_CS CLK=QSPI_CLK DI/IO0=QSPI_D0 DO/IO1=QSPI_D1 WP#/IO2=QSPI_D2 HOLD#/IO3=QSPI_D3 VCC=VDD_3V3 GND=GND`,
    {
      holds: {
        'memory-over-four-lines': 'IO0 to IO3 all run to the processor',
        'memory-beyond-the-processor': 'a flash memory hangs on lines of the processor',
      },
    },
  ),
  small(
    'flash-over-qspi-with-resistors',
    `${SUPPLY}
  net QSPI_D0 signal bus=QSPI
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND QSPI_NCS=NCS QSPI_CLK=CLK QSPI_IO0=QSPI_D0 QSPI_IO1=D1 QSPI_IO2=D2 QSPI_IO3=D3
  R1 Resistor: 1=QSPI_D0 2=F_D0
  R2 Resistor: 1=D1 2=F_D1
  R3 Resistor: 1=D2 2=F_D2
  R4 Resistor: 1=D3 2=F_D3
  R5 Resistor: 1=CLK 2=F_CLK
  U3 FlashMemory catalogued part=nor-q: 1:CS#=NCS 2:IO1=F_D1 3:IO2=F_D2 4:VSS=GND 5:IO0=F_D0 6:SCK=F_CLK 7:IO3=F_D3 8:VCC=VDD_3V3`,
    { holds: { 'memory-over-four-lines': 'four data lines, each through a series resistor' } },
  ),
  small(
    'flash-of-the-display',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND PA5=D_SCK PA7=D_MOSI
  U4 DisplayDriver: VDDIO=VDD_3V3 GND=GND SCL=D_SCK SDA=D_MOSI QCS=QCS QCK=QCK QIO0=Q0 QIO1=Q1 QIO2=Q2 QIO3=Q3
  U3 FlashMemory: CS#=QCS CLK=QCK IO0=Q0 IO1=Q1 IO2=Q2 IO3=Q3 VCC=VDD_3V3 GND=GND`,
    {
      not: {
        'memory-beyond-the-processor':
          'the memory belongs to the display driver; the processor shares its supply alone',
        'memory-over-four-lines': 'the four lines end at the display driver',
      },
    },
  ),
  small(
    'flash-not-fitted',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND PA4=CS PA5=SCK PA6=MISO PA7=MOSI PA8=D2 PA9=D3
  U3 FlashMemory unfitted: CS#=CS DO=MISO DI=MOSI CLK=SCK IO2=D2 IO3=D3 VCC=VDD_3V3 GND=GND`,
    {
      not: {
        'memory-beyond-the-processor': 'the place of the memory is empty',
        'memory-over-four-lines': 'the place of the memory is empty',
      },
    },
  ),
  small(
    'memory-traced-without-pins',
    `
  U2 Microcontroller: VDD=VDD
  U3 FlashMemory: VCC=VDD
  net VDD power open
  link U2 U3 trace bus=SPI`,
    { holds: { 'memory-beyond-the-processor': 'the traces between the two were followed' } },
  ),

  // Buses.
  small(
    'three-sensors-on-one-bus',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA0=SDA0 SCL0=SCL0
  R1 Resistor: 1=VDD_3V3 2=SDA0
  R2 Resistor: 1=VDD_3V3 2=SCL0
  U3 Accelerometer: VDD=VDD_3V3 GND=GND SDA/SDI=SDA0 SCL/SPC=SCL0
  U4 Magnetometer: VDD=VDD_3V3 GND=GND SDA=SDA0 SCL=SCL0
  R3 Resistor: 1=SDA0 2=SDA_P
  U5 PressureSensor: VDD=VDD_3V3 GND=GND SDI=SDA_P SCK=SCL0 CSB=VDD_3V3`,
    { holds: { 'sensors-share-one-i2c-bus': 'three sensors on data and clock, one through a resistor' } },
  ),
  small(
    'three-sensors-one-beyond-a-connector',
    `
  board main rigid 30x20
  board skin flex 30x8
  net VDD 1.8V
  net VDD_F power
  U1 Microcontroller: VDD=VDD GND=GND TWIM_SDA=I2C_SDA TWIM_SCL=I2C_SCL
  U2 Accelerometer: VDD=VDD GND=GND SDA=I2C_SDA SCL=I2C_SCL
  U3 AmbientLightSensor: VDD=VDD GND=GND SDA=I2C_SDA SCL=I2C_SCL INT=-
  J1 FlexConnector: 1=GND 2=VDD 3=I2C_SDA 4=I2C_SCL
  P1 FlexConnector @skin: 1=GND_F 2=VDD_F 3=SDA_F 4=SCL_F
  mate J1 P1 1-1 2-2 3-3 4-4
  U4 TemperatureSensor @skin: V+=VDD_F GND=GND_F SDA=SDA_F SCL=SCL_F`,
    {
      holds: {
        'sensors-share-one-i2c-bus': 'two sensors on the board, one on the flex, on the same two lines',
      },
    },
  ),
  small(
    'one-sensor-among-other-chips',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL
  U3 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL
  U4 FuelGauge: VDD=VBAT GND=GND SDA=SDA SCL=SCL
  U5 HapticDriver: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL
  U6 RealTimeClock: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL`,
    { not: { 'sensors-share-one-i2c-bus': 'one sensor shares the bus with gauge, driver and clock' } },
  ),
  small(
    'two-sensors-and-one-elsewhere',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA0=SDA0 SCL0=SCL0 SDA1=SDA1 SCL1=SCL1
  U3 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA0 SCL=SCL0
  U4 Magnetometer: VDD=VDD_3V3 GND=GND SDA=SDA0 SCL=SCL0
  U5 PressureSensor: VDD=VDD_3V3 GND=GND SDA=SDA1 SCL=SCL1
  U6 HumiditySensor unfitted: VDD=VDD_3V3 GND=GND SDA=SDA0 SCL=SCL0`,
    { not: { 'sensors-share-one-i2c-bus': 'two on the first bus, one on the second, and an empty place' } },
  ),
  small(
    'three-sensors-on-spi',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SCK=SCK MOSI=MOSI MISO=MISO PB0=CS1 PB1=CS2 PB2=CS3
  U3 Accelerometer: VDD=VDD_3V3 GND=GND SDA/SDI=MOSI SDO/SA0=MISO SCL/SPC=SCK CS=CS1
  U4 Magnetometer: VDD=VDD_3V3 GND=GND SDA/SDI=MOSI SDO=MISO SCL/SPC=SCK CS=CS2
  U5 PressureSensor: VDD=VDD_3V3 GND=GND SDI=MOSI SDO=MISO SCK=SCK CSB=CS3`,
    { not: { 'sensors-share-one-i2c-bus': 'the bus has a data line each way and a select each: SPI' } },
  ),
  small(
    'three-sensors-on-one-interrupt',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA0=S0 SCL0=C0 SDA1=S1 SCL1=C1 SDA2=S2 SCL2=C2 P5=INT_N
  R1 Resistor: 1=VDD_3V3 2=INT_N
  U3 Accelerometer: VDD=VDD_3V3 GND=GND SDA=S0 SCL=C0 INT=INT_N
  U4 Magnetometer: VDD=VDD_3V3 GND=GND SDA=S1 SCL=C1 INT=INT_N
  U5 PressureSensor: VDD=VDD_3V3 GND=GND SDA=S2 SCL=C2 INT=INT_N`,
    { not: { 'sensors-share-one-i2c-bus': 'each has its own bus; they share supply and interrupt' } },
  ),

  // Tags, expanders, test access.
  small(
    'tag-on-the-bus',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND P0.26=I2C_SDA P0.27=I2C_SCL
  L1 Coil: 1=AC0 2=AC1
  U3 NearFieldTag: AC0=AC0 AC1=AC1 VCC=VDD_3V3 VSS=GND SDA=I2C_SDA SCL=I2C_SCL GPO=-`,
    { holds: { 'near-field-tag-on-the-bus': 'data and clock of the tag are those of the processor' } },
  ),
  small(
    'tag-by-itself',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND P0.26=I2C_SDA P0.27=I2C_SCL P0.28=NFC_FD
  U4 Accelerometer: VDD=VDD_3V3 GND=GND SDA=I2C_SDA SCL=I2C_SCL
  L1 Coil: 1=LA 2=LB
  U3 NearFieldTag: LA=LA LB=LB VCC=VDD_3V3 VSS=GND FD=NFC_FD SDA=- SCL=-`,
    {
      not: {
        'near-field-tag-on-the-bus': 'the tag only tells that a field is there; its bus pins are open',
      },
    },
  ),
  small(
    'tag-of-the-secure-element',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SPI_SCK=SCK SPI_MOSI=MOSI
  U5 SecureElement: VCC=VDD_3V3 GND=GND CLK=SCK DI=MOSI SDA=SE_SDA SCL=SE_SCL
  U3 NearFieldTag: VCC=VDD_3V3 VSS=GND SDA=SE_SDA SCL=SE_SCL`,
    {
      not: {
        'near-field-tag-on-the-bus':
          'the tag shares its bus with the secure element and not with the processor',
      },
    },
  ),
  small(
    'reader-instead-of-a-tag',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SCK=SCK MOSI=MOSI MISO=MISO
  U3 NearFieldRadio: VDD=VDD_3V3 VSS=GND SCK=SCK MOSI=MOSI MISO=MISO`,
    {
      holds: { 'radio-apart-from-processor': 'the reader hangs on the processor by SPI' },
      not: { 'near-field-tag-on-the-bus': 'a reader is no tag' },
    },
  ),
  small(
    'keys-on-an-expander',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL P3=EXP_INT
  U3 PortExpander: VCC=VDD_3V3 GND=GND SDA=SDA SCL=SCL INT=EXP_INT A0=GND P0=KEY_UP P1=KEY_DN
  SW1 Button: 1=KEY_UP 2=GND
  SW2 Button: 1=KEY_DN_S 2=GND
  R1 Resistor: 1=KEY_DN 2=KEY_DN_S
  C5 Capacitor: 1=KEY_DN_S 2=GND`,
    {
      holds: { 'port-expander-for-keys': 'both keys are on ports of the expander, one through a resistor' },
    },
  ),
  small(
    'keys-on-another-board-by-an-expander',
    `
  board main rigid 30x20
  board keys flex 30x6
  net VDD 1.8V
  U2 Microcontroller: VDD=VDD VSS=GND SDA=SDA SCL=SCL
  U3 PortExpander: VDDP=VDD VSS=GND SDA=SDA SCL=SCL IO0_0=K0
  J1 FlexConnector: 1=K0 2=GND
  P1 FlexConnector @keys: 1=K0_F 2=GND_F
  mate J1 P1 1-1 2-2
  SW1 Button @keys: A=K0_F B=GND_F`,
    { holds: { 'port-expander-for-keys': 'the key on the flex reaches a port through the connectors' } },
  ),
  small(
    'expander-for-lamps',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL NRST=RST_N P9=KEY
  U3 PortExpander: VCC=VDD_3V3 GND=GND SDA=SDA SCL=SCL RESET=RST_N P0=LED1_K P1=LED2_K
  D1 Emitter: A=VDD_3V3 K=LED1_K
  D2 Emitter: A=VDD_3V3 K=LED2_K
  SW1 Button: 1=KEY 2=GND
  SW2 Button: 1=RST_N 2=GND`,
    {
      not: {
        'port-expander-for-keys':
          'one key is read by the processor, the other resets both chips; the ports drive lamps',
      },
    },
  ),
  small(
    'debug-lines-on-pads',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SWDIO=SWDIO SWCLK=SWCLK NRST=NRST
  TP1 TestPad: 1=SWDIO
  TP2 TestPad: 1=SWCLK
  TP3 TestPad: 1=NRST`,
    { holds: { 'test-access-left-in': 'two pads lead to the debug lines of the processor' } },
  ),
  small(
    'serial-lines-on-a-bare-connector',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND PA9/USART1_TX=DBG_TX PA10/USART1_RX=DBG_RX
  R1 Resistor: 1=DBG_TX 2=DBG_TX_R
  J5 Connector: 1=DBG_TX_R 2=DBG_RX 3=GND 4=VDD_3V3`,
    { holds: { 'test-access-left-in': 'nothing is plugged into the connector that has the serial lines' } },
  ),
  small(
    'pads-on-supplies',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND SWDIO=SWDIO SWCLK=SWCLK SDA=SDA SCL=SCL PB1=ACC_INT
  U4 Microcontroller: VDD=VDD_3V3 VSS=GND P1=SWDIO P2=SWCLK
  U3 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL INT1=ACC_INT
  TP1 TestPad: 1=VDD_3V3
  TP2 TestPad: 1=VBAT
  TP3 TestPad: 1=GND
  TP4 TestPad: 1=ACC_INT`,
    {
      not: {
        'test-access-left-in':
          'the pads are on supplies, ground and an interrupt; the debug lines run to the other processor',
      },
    },
  ),
  small(
    'serial-lines-to-a-mated-board',
    `
  board main rigid 30x20
  board gnss rigid 15x15
  net VDD 3.3V
  net VDD_G power
  U2 Microcontroller: VDD=VDD VSS=GND UART_TX=GTX UART_RX=GRX
  J1 BoardToBoardConnector: 1=GTX 2=GRX 3=VDD 4=GND
  J2 BoardToBoardConnector @gnss: 1=RXD 2=TXD 3=VDD_G 4=GND_G
  mate J1 J2 1-1 2-2 3-3 4-4
  U5 SatelliteReceiver @gnss: VCC=VDD_G GND=GND_G RXD=RXD TXD=TXD`,
    {
      holds: { 'radio-apart-from-processor': 'the receiver hangs on a serial port through the connectors' },
      not: { 'test-access-left-in': 'the connector is taken: a receiver hangs on it' },
    },
  ),

  // Radios and processors.
  small(
    'radio-over-spi',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND PA5=SCK PA6=MISO PA7=MOSI PA4=NSS
  R1 Resistor: 1=SCK 2=SCK_R
  U3 BluetoothRadio: VCC=VDD_3V3 GND=GND SPI_CLK=SCK_R SPI_DI=MOSI SPI_DO=MISO SPI_CS=NSS ANT=RF
  AE1 ChipAntenna: 1=RF 2=-`,
    {
      holds: { 'radio-apart-from-processor': 'a bare radio hangs on a processor without one' },
      not: {
        'radio-and-processor-in-one-chip': 'they are two chips',
        'two-unlike-processors': 'there is one processor',
      },
    },
  ),
  small(
    'radio-chip-and-a-receiver',
    `${SUPPLY}
  U2 Microcontroller+BluetoothRadio: VDD=VDD_3V3 VSS=GND P0.06=GPS_RX P0.08=GPS_TX ANT=RF
  U3 SatelliteReceiver: VCC=VDD_3V3 GND=GND RXD=GPS_RX TXD=GPS_TX
  AE1 ChipAntenna: FEED=RF`,
    {
      holds: { 'radio-and-processor-in-one-chip': 'one chip runs the program and has the radio' },
      not: { 'radio-apart-from-processor': 'the processor has a radio itself' },
    },
  ),
  small(
    'radio-without-a-line-to-the-processor',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND OSC_IN=CLK_32M
  Y1 Oscillator: VDD=VDD_3V3 GND=GND OUT=CLK_32M
  U3 UltraWidebandRadio: VCC=VDD_3V3 GND=GND XTI=CLK_32M ANT=RF
  AE1 ChipAntenna: 1=RF`,
    {
      not: { 'radio-apart-from-processor': 'radio and processor share supply and clock, no line of data' },
    },
  ),
  small(
    'radio-chip-beside-a-processor',
    `${SUPPLY}
  U2 ApplicationProcessor part=ap-64: VDD=VDD_3V3 VSS=GND UART1_TXD=TXD UART1_RXD=RXD
  U3 Microcontroller+BluetoothRadio part=soc-2: VDD=VDD_3V3 GND=GND P0.05=RXD P0.06=TXD`,
    {
      holds: {
        'two-unlike-processors': 'a small processor with radio and a large one talk over a serial line',
        'radio-and-processor-in-one-chip': 'the smaller one is both',
      },
      not: { 'radio-apart-from-processor': 'the radio chip is a processor too' },
    },
  ),
  small(
    'radio-and-processor-dies-in-one-module',
    `${SUPPLY}
  MOD1 Module: VDD=VDD_3V3 GND=GND
  U7 Microcontroller in=MOD1
  U8 WifiRadio in=MOD1
  link U7 U8 trace bus=SDIO`,
    {
      holds: { 'radio-apart-from-processor': 'two dies, joined by SDIO' },
      not: { 'radio-and-processor-in-one-chip': 'a module with two dies is not one chip' },
    },
  ),
  small(
    'two-processors-of-one-part',
    `${SUPPLY}
  U2 Microcontroller part=mcu-x: VDD=VDD_3V3 VSS=GND TX=A RX=B
  U3 Microcontroller part=mcu-x: VDD=VDD_3V3 VSS=GND TX=B RX=A`,
    { not: { 'two-unlike-processors': 'both are the same part' } },
  ),
  ...['TouchSensor', 'FuelGauge', 'HapticDriver', 'DisplayDriver'].map((peripheral) =>
    small(
      `processor-and-${peripheral.toLowerCase()}-with-a-core`,
      `${SUPPLY}
  U2 Microcontroller+BluetoothRadio part=soc-3: VDD=VDD_3V3 VSS=GND P0.1=SDA P0.2=SCL
  U3 Microcontroller+${peripheral} part=core-8-${peripheral.toLowerCase()}: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL`,
      { not: { 'two-unlike-processors': 'one processor, and a peripheral with a core inside' } },
    ),
  ),
  small(
    'hub-with-a-sensor-inside',
    `${SUPPLY}
  U2 ApplicationProcessor part=ap-65: VDD=VDD_3V3 VSS=GND SPI_SCLK=SCK SPI_MOSI=MOSI
  U3 SensorHub+Accelerometer part=hub-3: VDD=VDD_3V3 VSS=GND SCK=SCK MOSI=MOSI`,
    { holds: { 'two-unlike-processors': 'the hub works while the large one sleeps' } },
  ),
  small(
    'processor-and-programmable-logic',
    `${SUPPLY}
  U2 Microcontroller+SignalProcessor: VDD=VDD_3V3 VSS=GND SCK=SCK MOSI=MOSI
  U3 ProgrammableLogic part=gates-4: VCC=VDD_3V3 GND=GND IO1=SCK IO2=MOSI`,
    { not: { 'two-unlike-processors': 'one processor of two kinds, and gates, which run no program' } },
  ),

  // Sensor hubs.
  small(
    'hub-between',
    `${SUPPLY}
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND SPI_SCLK=SCK SPI_MOSI=MOSI SPI_MISO=MISO SPI_CS=CS
  U3 SensorHub: VDD=VDD_3V3 VSS=GND SCK=SCK MOSI=MOSI MISO=MISO NSS=CS PB7=S_SDA PB6=S_SCL
  U4 Accelerometer: VDD=VDD_3V3 GND=GND SDA=S_SDA SCL=S_SCL
  U5 PressureSensor: VDD=VDD_3V3 GND=GND SDA=S_SDA SCL=S_SCL`,
    { holds: { 'sensor-hub-in-between': 'sensors on one bus of the hub, the main processor on another' } },
  ),
  small(
    'hub-on-the-common-bus',
    `${SUPPLY}
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND I2C1_SDA=SDA I2C1_SCL=SCL
  U3 SensorHub: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL
  U4 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'sensor-hub-in-between': 'all three are on one bus, so the hub stands beside and not between',
      },
    },
  ),
  small(
    'microcontroller-as-hub',
    `${SUPPLY}
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND UART_TX=TX UART_RX=RX
  U3 Microcontroller: VDD=VDD_3V3 VSS=GND PA3=TX PA2=RX SDA=SDA SCL=SCL
  U4 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL`,
    {
      holds: {
        'sensor-hub-in-between':
          'the microcontroller has the sensor on its own bus and serial lines to the main processor',
      },
    },
  ),
  small(
    'microcontroller-beside-the-sensors',
    `${SUPPLY}
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND UART_TX=TX UART_RX=RX I2C1_SDA=SDA I2C1_SCL=SCL
  U3 Microcontroller: VDD=VDD_3V3 VSS=GND PA3=TX PA2=RX
  U4 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL`,
    { not: { 'sensor-hub-in-between': 'the sensor is on the bus of the main processor' } },
  ),
  small(
    'touch-controller-with-a-core',
    `${SUPPLY}
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND I2C1_SDA=SDA I2C1_SCL=SCL
  U3 Microcontroller+TouchSensor: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL TS1=PAD
  E1 Electrode: 1=PAD`,
    { not: { 'sensor-hub-in-between': 'the chip is the sensor itself' } },
  ),
  small(
    'two-microcontrollers-and-a-sensor',
    `${SUPPLY}
  U2 Microcontroller: VDD=VDD_3V3 VSS=GND UART_TX=TX UART_RX=RX
  U3 Microcontroller: VDD=VDD_3V3 VSS=GND PA3=TX PA2=RX SDA=SDA SCL=SCL
  U4 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL`,
    { not: { 'sensor-hub-in-between': 'either may be the main one: the other may be but a radio' } },
  ),
  small(
    'hub-without-sensors',
    `${SUPPLY}
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND SPI_SCK=SCK SPI_MOSI=MOSI SDA=SDA SCL=SCL
  U3 SensorHub: VDD=VDD_3V3 VSS=GND SCK=SCK MOSI=MOSI
  U4 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL`,
    {
      not: {
        'sensor-hub-in-between':
          'the sensor is on the main processor and shares only the supply with the hub',
      },
    },
  ),
  small(
    'hub-alone-with-sensors',
    `${SUPPLY}
  U2 ApplicationProcessor: VDD=VDD_3V3 VSS=GND SPI_SCK=SCK SPI_MOSI=MOSI
  U6 FlashMemory: VCC=VDD_3V3 GND=GND CLK=SCK DI=MOSI
  U3 SensorHub: VDD=VDD_3V3 VSS=GND SDA=SDA SCL=SCL
  U4 Accelerometer: VDD=VDD_3V3 GND=GND SDA=SDA SCL=SCL`,
    { not: { 'sensor-hub-in-between': 'no line goes from the hub to the main processor' } },
  ),
  small(
    'hub-behind-connectors',
    `
  board main rigid 30x20
  board sense rigid 15x15
  net VDD 1.8V
  net VDD_S power
  U2 ApplicationProcessor: VDD=VDD VSS=GND UART_TX=TX UART_RX=RX
  J1 BoardToBoardConnector: 1=TX 2=RX 3=VDD 4=GND
  J2 BoardToBoardConnector @sense: 1=RX_S 2=TX_S 3=VDD_S 4=GND_S
  mate J1 J2 1-1 2-2 3-3 4-4
  U3 SensorHub @sense: VDD=VDD_S VSS=GND_S PA3=RX_S PA2=TX_S SDA=SDA SCL=SCL
  U4 Accelerometer @sense: VDD=VDD_S GND=GND_S SDA=SDA SCL=SCL`,
    {
      holds: {
        'sensor-hub-behind-a-connector': 'the serial lines of the hub cross a pair of connectors',
        'sensor-hub-in-between': 'sensor, hub and main processor stand in a row',
      },
    },
  ),
  small(
    'sensors-behind-connectors-hub-ahead',
    `
  board main rigid 30x20
  board sense rigid 15x15
  net VDD 1.8V
  net VDD_S power
  U2 ApplicationProcessor: VDD=VDD VSS=GND UART_TX=TX UART_RX=RX
  U3 SensorHub: VDD=VDD VSS=GND PA3=TX PA2=RX SDA=SDA SCL=SCL
  J1 BoardToBoardConnector: 1=SDA 2=SCL 3=VDD 4=GND
  J2 BoardToBoardConnector @sense: 1=SDA_S 2=SCL_S 3=VDD_S 4=GND_S
  mate J1 J2 1-1 2-2 3-3 4-4
  U4 Accelerometer @sense: VDD=VDD_S GND=GND_S SDA=SDA_S SCL=SCL_S`,
    {
      holds: { 'sensor-hub-in-between': 'sensor, hub and main processor stand in a row' },
      not: {
        'sensor-hub-behind-a-connector': 'hub and main processor are on one board; the sensor is behind it',
      },
    },
  ),
  small(
    'hub-behind-connectors-for-supply-alone',
    `
  board main rigid 30x20
  board sense rigid 15x15
  net VDD 1.8V
  net VDD_S power
  U2 ApplicationProcessor: VDD=VDD VSS=GND UART_TX=TX UART_RX=RX
  J1 BoardToBoardConnector: 1=VDD 2=GND 3=TX
  J2 BoardToBoardConnector @sense: 1=VDD_S 2=GND_S 3=KEY
  mate J1 J2 1-1 2-2 3-3
  SW1 Button @sense: 1=KEY 2=GND_S
  U3 SensorHub @sense: VDD=VDD_S VSS=GND_S SDA=SDA SCL=SCL
  U4 Accelerometer @sense: VDD=VDD_S GND=GND_S SDA=SDA SCL=SCL`,
    {
      not: {
        'sensor-hub-behind-a-connector': 'only supply, ground and a key cross; the hub is reached by no line',
        'sensor-hub-in-between': 'no line goes from the hub to the main processor',
      },
    },
  ),
]);
