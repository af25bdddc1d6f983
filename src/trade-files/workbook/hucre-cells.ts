import { formatValue } from 'hucre';
import { readXlsx } from 'hucre/xlsx';
import { ZipFile } from 'yazl';
import { WorkbookFault } from './fault.ts';
import { MOST_IN_CELL, type Sifted } from './sift.ts';
import { cellName, type WorkbookCell, type WorkbookRow } from './workbook.ts';

// Cells by hucre. It is given a workbook of our own, with one sifted sheet, so it never unpacks or parses what came from outside
// as it came. Another library would take the place of this file alone.

const MAIN = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
const RELATED = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
const PACKAGED = 'http://schemas.openxmlformats.org/package/2006/relationships';

/** What a list needs of a workbook beside its sheets. */
export interface Surroundings {
  /** Sifted parts for the library that reads cells. */
  readonly styles: string;
  readonly texts: string;
  readonly isDate1904: boolean;
}

/** Cells of a sifted sheet, row by row. @throws WorkbookFault */
export async function readCells(
  sifted: Sifted,
  around: Surroundings,
  name: string,
): Promise<readonly WorkbookRow[]> {
  if (sifted.lines.length === 0) return [];
  const bytes = await packed(sifted, around);
  const { sheets } = await readXlsx(bytes, { readStyles: true }).catch((error: Error) => {
    throw new WorkbookFault(
      `cannot be read: ${error.message}`,
      'save it again, or save the list as CSV',
      name,
    );
  });
  const [sheet] = sheets;
  if (!sheet) throw new Error('a sheet was handed over and none came back');
  return sifted.lines.map((line, at): WorkbookRow => {
    const values = sheet.rows[at] ?? [];
    const cells = values.flatMap((value, column): WorkbookCell[] => {
      const details = sheet.cells?.get(`${at},${column}`);
      const hasFormula = details?.formula !== undefined;
      if (value === null) return hasFormula ? [{ column, text: '', kind: 'no value' }] : [];
      const format = details?.style?.numFmt ?? 'General';
      if (details?.type === 'error') return [{ column, text: String(value), kind: 'error' }];
      if (typeof value === 'boolean') return [{ column, text: value ? 'TRUE' : 'FALSE', kind: 'boolean' }];
      if (typeof value === 'number')
        return [{ column, text: shown(value, format), kind: 'number', number: value }];
      if (value instanceof Date)
        return [{ column, text: formatValue(value, format, { is1904: around.isDate1904 }), kind: 'date' }];
      if (value.length > MOST_IN_CELL)
        throw new WorkbookFault(
          `has more than ${MOST_IN_CELL.toLocaleString('en')} characters`,
          'shorten it',
          `${name}!${cellName(column, line)}`,
        );
      return value === '' ? [] : [{ column, text: value }];
    });
    return { line, cells };
  });
}

/** A number as its cell shows it; without a format all digits, where programs show as many as the column is wide. */
function shown(value: number, format: string): string {
  if (format !== 'General' && format !== '@') return formatValue(value, format);
  return Number.isSafeInteger(value) ? String(value) : String(Number(value.toPrecision(15)));
}

function packed({ xml }: Sifted, { styles, texts, isDate1904 }: Surroundings): Promise<Uint8Array> {
  const link = (id: string, type: string, target: string) =>
    `<Relationship Id="${id}" Type="${RELATED}/${type}" Target="${target}"/>`;
  const parts = {
    '[Content_Types].xml':
      '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>',
    '_rels/.rels': `<Relationships xmlns="${PACKAGED}">${link('r1', 'officeDocument', 'xl/workbook.xml')}</Relationships>`,
    'xl/workbook.xml': `<workbook xmlns="${MAIN}" xmlns:r="${RELATED}"><workbookPr date1904="${isDate1904}"/><sheets><sheet name="sheet" sheetId="1" r:id="r1"/></sheets></workbook>`,
    'xl/_rels/workbook.xml.rels': `<Relationships xmlns="${PACKAGED}">${link('r1', 'worksheet', 'sheet.xml')}${link('r2', 'sharedStrings', 'texts.xml')}${link('r3', 'styles', 'styles.xml')}</Relationships>`,
    'xl/sheet.xml': xml,
    'xl/texts.xml': texts,
    'xl/styles.xml': styles,
  };
  const zip = new ZipFile();
  for (const [name, text] of Object.entries(parts))
    zip.addBuffer(Buffer.from(text), name, { compress: false });
  zip.end();
  return new Promise((resolve, reject) => {
    const pieces: Buffer[] = [];
    zip.outputStream.on('data', (piece: Buffer) => pieces.push(piece));
    zip.outputStream.on('error', reject);
    zip.outputStream.on('end', () => resolve(Buffer.concat(pieces)));
  });
}
