import { isFitted } from '../model/certainty.ts';
import { pinOf } from '../model/ids.ts';
import type { Net } from '../model/net.ts';
import type { Board } from './board.ts';
import type { ClueBus } from './class-table.ts';

/** A net, or a traced connection as a net of two. */
export interface Wire {
  readonly label: string | undefined;
  readonly kind: 'power' | 'signal';
  readonly bus: ClueBus | undefined;
  /** What its label says it is supplied by. */
  readonly supply: 'cell' | 'outside connector' | undefined;
  /** Components on it, each once. */
  readonly members: readonly string[];
  readonly isNet: boolean;
  /** Whether nothing else can hang on it. */
  readonly isComplete: boolean;
}

/** Media that carry no current. */
const NOT_ELECTRICAL: ReadonlySet<string> = new Set(['optical-path', 'adhesive', 'screw']);

/** What a recorded bus counts as; buses that are wired alike count as one. */
export const BUS_WORDS: Readonly<Record<string, ClueBus>> = {
  I2C: 'i2c',
  I3C: 'i2c',
  SPI: 'spi',
  QSPI: 'spi',
  SDIO: 'spi',
  UART: 'uart',
  I2S: 'audio',
  PDM: 'audio',
  USB: 'usb',
  SWD: 'debug',
  JTAG: 'debug',
};

/** Names of nets that tell a bus or a supply (common practice, no source), as words between signs or at the ends. */
const WORD = (words: string) => new RegExp(`(?:^|[^A-Za-z0-9])(?:${words})(?:$|[^A-Za-z0-9])`, 'iu');
const BY_LABEL: readonly (readonly [ClueBus, RegExp])[] = [
  ['debug', WORD('SWDIO|SWCLK|SWDCLK|SWD|SWO|TDI|TDO|TMS|TCK|TRST')],
  ['usb', WORD('USB_?D[PM+-]?|USB_?[PN]|D_?[+-]|DP|DM|USBDP|USBDM')],
  ['i2c', WORD('I2C\\d*|(?:I2C\\d*)?SDA\\d*|(?:I2C\\d*)?SCL\\d*')],
  ['spi', WORD('SPI\\d*|QSPI|MOSI\\d*|MISO\\d*|SCLK\\d*|SCK\\d*|CIPO|COPI|SIO[0-3]')],
  ['audio', WORD('PDM|I2S\\d*|LRCK|LRCLK|BCLK|MCLK|WS')],
  ['uart', WORD('UART\\d*|TXD?\\d*|RXD?\\d*')],
];
const CELL_LABEL = /^[+]?V?_?(?:BATT?(?:ERY)?|CELL|LIPO)(?![A-Za-z]*_?(?:SENSE|MON|ADC|EN|OK))/iu;
const OUTSIDE_LABEL = /VBUS|^V?_?USB$|USB_?(?:VCC|5V|VIN|PWR)|5V_?USB|VUSB|^DC_?IN$/iu;

function busOf(bus: Net['bus'], label: string | undefined): ClueBus | undefined {
  const known = bus && BUS_WORDS[bus];
  return known ?? (label === undefined ? undefined : busByLabel(label));
}

function supplyOf(label: string | undefined): Wire['supply'] {
  if (isCellLabel(label)) return 'cell';
  return isOutsideLabel(label) ? 'outside connector' : undefined;
}

/** Bus that the label of a signal net tells. */
export function busByLabel(label: string): ClueBus | undefined {
  return BY_LABEL.find(([, pattern]) => pattern.test(label))?.[0];
}

export function isCellLabel(label: string | undefined): boolean {
  return label !== undefined && CELL_LABEL.test(label);
}

export function isOutsideLabel(label: string | undefined): boolean {
  return label !== undefined && OUTSIDE_LABEL.test(label);
}

/** Wires of a board by the components on them; ground is none. Linear in pins. */
export class Wires {
  readonly #of = new Map<string, Wire[]>();

  constructor({ components, nets, joined }: Board) {
    const isThere = (id: string) => {
      const one = components.get(id);
      return one !== undefined && isFitted(one);
    };
    for (const { kind, label, bus, pins, complete } of nets) {
      if (kind === 'ground') continue;
      const members = [...new Set(pins.map((pin) => pinOf(pin).component))].filter(isThere);
      this.#add({
        label,
        kind,
        bus: kind === 'signal' ? busOf(bus, label) : undefined,
        supply: kind === 'power' ? supplyOf(label) : undefined,
        members,
        isNet: true,
        isComplete: complete === true,
      });
    }
    for (const { between, medium, bus } of joined) {
      if (NOT_ELECTRICAL.has(medium) || !between.every(isThere) || between[0] === between[1]) continue;
      this.#add({
        label: undefined,
        kind: bus === 'power' ? 'power' : 'signal',
        bus: bus && BUS_WORDS[bus],
        supply: undefined,
        members: between,
        isNet: false,
        isComplete: false,
      });
    }
  }

  #add(wire: Wire): void {
    for (const id of wire.members) {
      const own = this.#of.get(id);
      if (own) own.push(wire);
      else this.#of.set(id, [wire]);
    }
  }

  /** Wires that a component is on. */
  of(component: string): readonly Wire[] {
    return this.#of.get(component) ?? [];
  }
}
