import { MAX_FILE_BYTES } from '../dossier/decode.ts';
import { Findings, type TradeFile, type TradeFormat, type TradeReading } from './board-design.ts';
import { decodeTradeText } from './decode-text.ts';
import { readIpc2581 } from './ipc-2581/read.ts';
import { readNetlist356 } from './ipc-d-356/read.ts';
import { readKicadNetlist } from './kicad/netlist.ts';
import { readKicadBoard } from './kicad/read.ts';
import { isList, listByDesignators, readList } from './table/read.ts';
import { compoundFault, contentFault, isZip } from './workbook/kind.ts';

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
  if (isRecord(head)) return undefined;
  if (/(?:^|\n)P\s{1,4}(?:JOB|UNITS|CODE|VER|IMAGE)\b/u.test(head) || /(?:^|\n)3[126]7.{14}/u.test(head)) {
    if (/(?:^|\n)3[0126]7/u.test(text)) return 'ipc-d-356';
  }
  return isList(head, reading) ? 'list' : undefined;
}

/** A text whose lines end in carriage returns alone, as older programs write them, with line feeds instead. */
function withLineFeeds(text: string): string {
  return text.includes('\n') ? text : text.replaceAll('\r', '\n');
}

/** Whether a text is a dossier or catalogue, or JSON or XML, which no list is. */
function isRecord(text: string): boolean {
  const head = text.slice(0, HEAD);
  return /^\s*caseback\s*:|^\s*[{<]/u.test(head) || /(?:^|\n)caseback\s*:/u.test(head);
}

/**
 * Reads a trade file of any format, workbooks in a thread of their own.
 * @returns undefined as {@link readTradeFile}
 * @throws CasebackError OUT_OF_BUDGET for a workbook that takes too long or too much memory; the signal's reason
 */
export async function readAnyTradeFile(
  bytes: Uint8Array,
  file: string,
  reading: TradeReading = {},
  signal?: AbortSignal,
): Promise<TradeFile | undefined> {
  if (!isZip(bytes) || bytes.byteLength > MAX_FILE_BYTES) return readTradeFile(bytes, file, reading);
  const { readWorkbookApart } = await import('./workbook/apart.ts');
  return readWorkbookApart({ bytes, file, reading }, signal ? { signal } : {});
}

/**
 * Reads a trade file of any format that is text.
 * @returns undefined for a file that is none: a dossier, a catalogue, no text, more than is read
 */
export function readTradeFile(
  bytes: Uint8Array,
  file: string,
  reading: TradeReading = {},
): TradeFile | undefined {
  const findings = new Findings(file);
  const compound = compoundFault(bytes);
  if (compound) {
    findings.problem(undefined, compound.what, compound.fix);
    return findings.result('bill-of-materials', []);
  }
  const isNamedWorkbook = /\.(?:xls[xmb]?|ods)$/iu.test(file);
  const decoded = decodeTradeText(bytes, file, findings);
  const format = decoded && tradeFormatOf(withLineFeeds(decoded.text), reading);
  if (isNamedWorkbook && format === undefined && bytes.byteLength <= MAX_FILE_BYTES) {
    const other = new Findings(file);
    other.problem(undefined, contentFault(bytes), 'open it in a spreadsheet program and save it as XLSX');
    return other.result('bill-of-materials', []);
  }
  if (decoded === undefined) return undefined;
  const { encoding } = decoded;
  const text = withLineFeeds(decoded.text);
  if (isNamedWorkbook) findings.understood.push('text, whatever its name says');
  if (format !== undefined && findings.problems.length > 0)
    return findings.result(format === 'list' ? 'bill-of-materials' : format, []);
  switch (format) {
    case 'kicad':
      return readKicadBoard(text, file, findings);
    case 'kicad-netlist':
      return readKicadNetlist(text, file, findings);
    case 'ipc-2581':
      return readIpc2581(text, file, findings);
    case 'ipc-d-356':
      return readNetlist356(text, file, findings);
    case 'list':
      return readList(text, file, reading, findings, encoding);
    default:
      return isRecord(text) ? undefined : listByDesignators(text, reading, findings, encoding);
  }
}
