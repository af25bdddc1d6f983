import { ZipFile } from 'yazl';
import type { TradeFile, TradeReading } from '../../src/trade-files/board-design.ts';
import { readWorkbookList } from '../../src/trade-files/workbook/read.ts';

// Workbooks by hand, of as few parts as SpreadsheetML asks for: ECMA-376, 5th edition, Part 1, 12.2 ("Package structure") and 18
// ("SpreadsheetML reference material"), Part 2 for the package.

const RELATED = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
export const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
/** Namespaces of the strict form: ECMA-376, Part 1, annex A. */
export const STRICT = {
  main: 'http://purl.oclc.org/ooxml/spreadsheetml/main',
  related: 'http://purl.oclc.org/ooxml/officeDocument/relationships',
};

/** Bytes of a ZIP of these files. */
export function zipOf(
  files: Readonly<Record<string, string | Buffer>>,
  options: { readonly compress?: boolean } = {},
): Promise<Buffer> {
  const zip = new ZipFile();
  for (const [name, content] of Object.entries(files))
    zip.addBuffer(Buffer.from(content as string), name, { compress: options.compress ?? true });
  zip.end();
  return new Promise((resolve, reject) => {
    const pieces: Buffer[] = [];
    zip.outputStream.on('data', (piece: Buffer) => pieces.push(piece));
    zip.outputStream.on('error', reject);
    zip.outputStream.on('end', () => resolve(Buffer.concat(pieces)));
  });
}

export interface HandMade {
  /** What stands in the worksheet, from `<sheetData>` on or before. */
  readonly sheets: Readonly<Record<string, string>>;
  readonly state?: Readonly<Record<string, string>>;
  readonly texts?: string;
  readonly styles?: string;
  readonly workbookPr?: string;
  readonly main?: string;
  readonly related?: string;
  /** Targets from the root of the package. */
  readonly absolute?: boolean;
  readonly more?: Readonly<Record<string, string | Buffer>>;
}

/** Parts of a workbook. */
export function partsOf(made: HandMade): Readonly<Record<string, string | Buffer>> {
  const { main = MAIN, related = RELATED, absolute = false } = made;
  const folder = absolute ? '/xl/' : '';
  const link = (id: string, type: string, target: string) =>
    `<Relationship Id="${id}" Type="${related}/${type}" Target="${target}"/>`;
  const names = Object.keys(made.sheets);
  const links = [
    ...names.map((_, i) => link(`s${i}`, 'worksheet', `${folder}worksheets/sheet${i + 1}.xml`)),
    ...(made.texts === undefined ? [] : [link('t', 'sharedStrings', `${folder}sharedStrings.xml`)]),
    ...(made.styles === undefined ? [] : [link('y', 'styles', `${folder}styles.xml`)]),
  ];
  const rels = (content: string) =>
    `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">${content}</Relationships>`;
  return {
    '[Content_Types].xml':
      '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>',
    '_rels/.rels': rels(link('w', 'officeDocument', `${absolute ? '/' : ''}xl/workbook.xml`)),
    'xl/workbook.xml': `<workbook xmlns="${main}" xmlns:r="${related}">${made.workbookPr ?? ''}<sheets>${names
      .map(
        (name, i) =>
          `<sheet name="${name}" sheetId="${i + 1}" ${made.state?.[name] ? `state="${made.state[name]}" ` : ''}r:id="s${i}"/>`,
      )
      .join('')}</sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': rels(links.join('')),
    ...Object.fromEntries(
      names.map((name, i) => [
        `xl/worksheets/sheet${i + 1}.xml`,
        made.sheets[name].startsWith('<?')
          ? made.sheets[name]
          : `<worksheet xmlns="${main}">${made.sheets[name]}</worksheet>`,
      ]),
    ),
    ...(made.texts === undefined ? {} : { 'xl/sharedStrings.xml': made.texts }),
    ...(made.styles === undefined ? {} : { 'xl/styles.xml': made.styles }),
    ...made.more,
  };
}

export function workbookOf(made: HandMade): Promise<Buffer> {
  return zipOf(partsOf(made));
}

/** Rows of inline texts and numbers as sheet data. */
export function sheetData(rows: readonly (readonly (string | number | null)[])[]): string {
  const written = rows.map((cells, r) => {
    const inside = cells.map((cell, c) => {
      const at = `${String.fromCharCode(65 + c)}${r + 1}`;
      if (cell === null) return '';
      return typeof cell === 'number'
        ? `<c r="${at}"><v>${cell}</v></c>`
        : `<c r="${at}" t="inlineStr"><is><t>${cell.replaceAll('&', '&amp;').replaceAll('<', '&lt;')}</t></is></c>`;
    });
    return `<row r="${r + 1}">${inside.join('')}</row>`;
  });
  return `<sheetData>${written.join('')}</sheetData>`;
}

export function readBook(
  bytes: Uint8Array,
  reading: TradeReading = {},
  file = 'parts.xlsx',
): Promise<TradeFile> {
  return readWorkbookList(bytes, file, reading);
}
