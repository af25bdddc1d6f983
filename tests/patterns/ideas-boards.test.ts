import { heldTo, type SmallBoard, small } from './small-boards.ts';

// Boards, how they meet, the enclosure, and parts shared between makers. Common practice, no source; all boards invented.

const two = (
  id: string,
  first: { maker: string; text: string },
  second: { maker: string; text: string },
  judged: Pick<SmallBoard, 'holds' | 'not'>,
): SmallBoard => ({
  id,
  devices: [
    { id: `${id}-1`, ...first },
    { id: `${id}-2`, ...second },
  ],
  ...judged,
});

heldTo([
  small(
    'mated-and-stacked',
    `
  board main rigid 30x20
  board upper rigid 20x15 on=main
  J1 BoardToBoardConnector @main: 1=SDA 2=SCL
  J2 BoardToBoardConnector @upper: 1=SDA_U 2=SCL_U
  mate J1 J2 1-1 2-2
  U1 Microcontroller @main: SDA=SDA SCL=SCL
  U2 Accelerometer @upper: SDA=SDA_U SCL=SCL_U`,
    {
      holds: {
        'boards-mated-through-a-connector': 'a plug of one board sits in a socket of the other',
        'boards-stacked': 'one board lies on the other',
      },
      not: {
        'single-board': 'there are two',
        'boards-linked-by-flex': 'there is no flex',
      },
    },
  ),
  small(
    'wired-together',
    `
  board main rigid 30x20
  board strap rigid 20x15
  J1 Connector @main: 1=VDD
  J2 Connector @strap: 1=VDD_S
  link main strap wire
  BT1 PouchCell @-: 1=VDD
  net VDD power
  net VDD_S power`,
    {
      not: {
        'boards-mated-through-a-connector': 'each has a connector, but they are joined by soldered wires',
        'boards-linked-by-flex': 'wires are no flex',
        'boards-stacked': 'they lie side by side',
        'single-board': 'there are two',
      },
    },
  ),
  small(
    'flex-soldered-between-boards',
    `
  board main rigid 30x20
  board sense rigid 10x10
  link main sense flex`,
    {
      holds: { 'boards-linked-by-flex': 'a flexible circuit runs from board to board' },
      not: { 'boards-mated-through-a-connector': 'the flex is soldered at both ends' },
    },
  ),
  small(
    'flex-board-between-two-boards',
    `
  board main rigid 30x20
  board link flex 50x6
  board sense rigid 10x10
  J1 FlexConnector @main: 1=SDA 2=SCL
  P1 FlexConnector @link: 1=A 2=B
  P2 FlexConnector @link: 1=A 2=B
  J2 FlexConnector @sense: 1=SDA_S 2=SCL_S
  mate J1 P1 1-1 2-2
  mate P2 J2 1-1 2-2
  U1 Microcontroller @main: SDA=SDA SCL=SCL
  U2 Accelerometer @sense: SDA=SDA_S SCL=SCL_S`,
    {
      holds: {
        'boards-linked-by-flex': 'a flex with a plug at either end joins the two',
        'boards-mated-through-a-connector': 'the flex meets each board in a pair of connectors',
      },
    },
  ),
  small(
    'tail-of-the-display',
    `
  board main rigid 30x20
  J1 FlexConnector: 1=DSI_P 2=DSI_N
  DS1 OledDisplay @-: 1=DSI_P 2=DSI_N
  link J1 DS1 flex
  BT1 PouchCell @-: +=VBAT
  J2 CableConnector: 1=VBAT
  net VBAT power
  link BT1 J2 wire`,
    {
      holds: { 'single-board': 'one board; display and cell hang on it' },
      not: {
        'boards-linked-by-flex': 'the flex leads to the display, which is no board',
        'boards-mated-through-a-connector': 'what is plugged in is a display and a cell',
        'boards-stacked': 'there is one board',
      },
    },
  ),
  small(
    'bezel-as-antenna',
    `
  board main rigid 30x20
  ANT1 StructuralAntenna @-: 1=RF_BEZEL
  J1 SpringContact: 1=RF_BEZEL
  U1 BluetoothRadio: ANT=RF_BEZEL`,
    { holds: { 'structural-antenna': 'the bezel is fed by a spring from the radio' } },
  ),
  small(
    'spring-to-ground',
    `
  board main rigid 30x20
  J1 SpringContact: 1=GND
  AE1 ChipAntenna: 1=RF
  U1 BluetoothRadio: ANT=RF GND=GND`,
    { not: { 'structural-antenna': 'the spring grounds the bezel; the antenna is a chip' } },
  ),
  small(
    'programming-pads',
    `
  J1 ProgrammingContact: 1=SWDIO 2=SWCLK 3=VDD 4=GND
  U1 Microcontroller: SWDIO=SWDIO SWCLK=SWCLK VDD=VDD VSS=GND
  net VDD power`,
    {
      holds: {
        'programming-contacts-left': 'a row of contacts for a needle adapter is on the board',
        'test-access-left-in': 'its contacts lead to the debug lines',
        'single-board': 'there is one',
      },
    },
  ),
  small(
    'programming-test-pads',
    `
  TP1 TestPad: 1=SWDIO
  TP2 TestPad: 1=SWCLK
  U1 Microcontroller: SWDIO=SWDIO SWCLK=SWCLK VDD=VDD VSS=GND
  net VDD power`,
    { holds: { 'programming-contacts-left': 'pads on the debug lines are contacts for programming' } },
  ),
  small(
    'programming-none',
    `
  J1 ChargingContact: 1=VCHG
  J2 SpringContact: 1=GND
  TP1 TestPad: 1=VDD
  U1 Microcontroller: SWDIO=- SWCLK=- VDD=VDD VSS=GND
  net VDD power
  net VCHG power`,
    {
      not: {
        'programming-contacts-left': 'contacts for charging, a spring to the shell and a pad on the supply',
        'test-access-left-in': 'the debug lines lead nowhere',
      },
    },
  ),
  two(
    'shared-part',
    { maker: 'bench-a', text: 'U1 PressureSensor part=baro-1: VDD=VDD\n net VDD power' },
    { maker: 'bench-b', text: 'U9 PressureSensor part=baro-1: VDD=VDD\n net VDD power' },
    { holds: { 'part-shared-by-makers': 'both makers took the same pressure sensor' } },
  ),
  two(
    'own-part',
    { maker: 'bench-a', text: 'U1 Gyroscope part=gyro-1: VDD=VDD\n net VDD power' },
    { maker: 'bench-a', text: 'U1 Gyroscope part=gyro-1: VDD=VDD\n net VDD power' },
    { not: { 'part-shared-by-makers': 'both devices are of one maker' } },
  ),
  two(
    'like-parts',
    { maker: 'bench-a', text: 'U1 HallSensor part=hall-1: VDD=VDD\n net VDD power' },
    { maker: 'bench-b', text: 'U1 HallSensor part=hall-2: VDD=VDD\n net VDD power' },
    { not: { 'part-shared-by-makers': 'the parts are of one kind, but two parts' } },
  ),
]);
