import { didYouMean } from '../../text/near.ts';
import { Findings, type TradeFile, type TradeFormat, type TradeReading } from '../board-design.ts';
import { checkGivenColumns, settleColumns } from './columns.ts';
import { plain } from './headings.ts';
import { ListReader, PLACES } from './list-reader.ts';
import { readSheet } from './sheet.ts';

// Bills of materials and placement lists. Both are lists of components by designator; one with coordinates is a placement
// list, whatever else it says.

/** Whether a text is a list with headings known here. */
export function isList(text: string, reading: TradeReading = {}): boolean {
  return readSheet(text.slice(0, 100_000), knownBy(reading), new Findings('')) !== undefined;
}

/** Reads a bill of materials or a placement list. */
export function readList(
  text: string,
  file: string,
  reading: TradeReading = {},
  findings = new Findings(file),
): TradeFile {
  const sheet = readSheet(text, knownBy(reading), findings);
  if (!sheet) {
    if (findings.problems.length === 0) {
      findings.problem(
        undefined,
        'has no line of headings known here',
        'start with a line such as "Designator,Value,Footprint", or say what yours mean with --column "HEADING=FIELD"',
      );
    }
    return findings.result('bill-of-materials', []);
  }
  const given = reading.columns ?? new Map<string, string>();
  checkGivenColumns(sheet, given, findings);
  const columns = settleColumns(sheet, given, findings);
  const place = PLACES.find(([x, y]) => columns.byField.has(x) && columns.byField.has(y));
  const format: TradeFormat = place ? 'placement' : 'bill-of-materials';
  if (sheet.rows.length === 0) findings.problem(sheet.line, 'has headings and no rows', 'export it again');
  if (!columns.byField.has('designator')) {
    findings.problem(
      sheet.line,
      'has no column of designators',
      didYouMean('designator', sheet.headings) ??
        `say which it is: --column "${sheet.headings.find((one) => one !== '') ?? 'HEADING'}=designator"`,
    );
    return findings.result(format, [], columns.readings);
  }
  const reader = new ListReader(sheet, columns, reading, findings, place);
  const boards = reader.boards();
  return findings.result(format, boards, columns.readings);
}

function knownBy({ columns }: TradeReading): (heading: string) => boolean {
  const given = new Set([...(columns?.keys() ?? [])].map(plain));
  return (heading) => given.has(plain(heading));
}
