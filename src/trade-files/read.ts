import { Findings, type TradeFile, type TradeFormat, type TradeReading } from './board-design.ts';
import { decodeTradeText } from './decode-text.ts';
import { readIpc2581 } from './ipc-2581/read.ts';
import { readNetlist356 } from './ipc-d-356/read.ts';
import { readKicadNetlist } from './kicad/netlist.ts';
import { readKicadBoard } from './kicad/read.ts';
import { isList, readList } from './table/read.ts';

/** Characters in which the content of a file shows its format. */
const HEAD = 20_000;

/**
 * The format of a trade file by its content; undefined for what is none. A dossier or catalogue is none, whatever it holds.
 */
export function tradeFormatOf(text: string, reading: TradeReading = {}): TradeFormat | 'list' | undefined {
  const head = text.slice(0, HEAD);
  if (/^\s*\(\s*(?:kicad_pcb|module|footprint)\b/u.test(head)) return 'kicad';
  if (/^\s*\(\s*export\s*\(\s*version\b/u.test(head)) return 'kicad-netlist';
  if (/^\s*<\?xml|^\s*</u.test(head))
    return /<(?:[\w-]+:)?IPC-2581[\s>]/u.test(head) ? 'ipc-2581' : undefined;
  if (/^\s*caseback\s*:|^\s*\{/u.test(head) || /(?:^|\n)caseback\s*:/u.test(head)) return undefined;
  if (/(?:^|\n)P\s{1,4}(?:JOB|UNITS|CODE|VER|IMAGE)\b/u.test(head) || /(?:^|\n)3[126]7.{14}/u.test(head)) {
    if (/(?:^|\n)3[0126]7/u.test(text)) return 'ipc-d-356';
  }
  return isList(head, reading) ? 'list' : undefined;
}

/**
 * Reads a trade file of any format.
 * @returns undefined for a file that is none: a dossier, a catalogue, no text, more than is read
 */
export function readTradeFile(
  bytes: Uint8Array,
  file: string,
  reading: TradeReading = {},
): TradeFile | undefined {
  const findings = new Findings(file);
  const text = decodeTradeText(bytes, file, findings);
  if (text === undefined) return undefined;
  switch (tradeFormatOf(text, reading)) {
    case 'kicad':
      return readKicadBoard(text, file, findings);
    case 'kicad-netlist':
      return readKicadNetlist(text, file, findings);
    case 'ipc-2581':
      return readIpc2581(text, file, findings);
    case 'ipc-d-356':
      return readNetlist356(text, file, findings);
    case 'list':
      return readList(text, file, reading, findings);
    default:
      return undefined;
  }
}
