import { quoted } from '../board-design.ts';
import { WorkbookFault } from './fault.ts';
import { readCells, type Surroundings } from './hucre-cells.ts';
import { escaped, prefixed, readPart } from './parts.ts';
import { MOST_IN_CELL, siftSheet } from './sift.ts';
import { openPackage, type Package } from './unpack.ts';
import type { OpenWorkbook, SheetInfo, WorkbookSheet } from './workbook.ts';

/** Bytes of parts that are held whole: texts, formats. */
const MOST_TEXTS = 48 * 1024 * 1024;
const MOST_SMALL = 16 * 1024 * 1024;
/** Shared texts, and their characters, that are held. */
const MOST_SHARED = 300_000;
const MOST_CHARACTERS = 32 * 1024 * 1024;
const MOST_SHEETS = 255;

/**
 * Opens a workbook: its directory, its sheets by name. Macros, links to other files and all else that is not cells is never unpacked.
 * @throws WorkbookFault
 */
export async function openWorkbook(bytes: Uint8Array): Promise<OpenWorkbook> {
  const files = await openPackage(bytes);
  refuseOthers(files);
  const main = await mainPart(files);
  const links = await linksOf(files, main);
  const { sheets, isDate1904 } = await sheetsIn(files, main, links);
  if (sheets.length === 0)
    throw new WorkbookFault('has no sheet of cells', 'save the list as an XLSX workbook');
  let around: Promise<Surroundings & { readonly count: number }> | undefined;
  return {
    sheets: sheets.map(({ name, isHidden }): SheetInfo => ({ name, isHidden })),
    async read(at, rows): Promise<WorkbookSheet> {
      const { name, part } = sheets[at] as FoundSheet;
      around ??= surroundings(files, links, isDate1904);
      const { count, ...rest } = await around;
      const sifted = await siftSheet(await files.open(part), name, count, rows);
      const cells = await readCells(sifted, rest, name);
      return {
        name,
        rows: cells,
        merges: sifted.merges,
        hiddenRows: sifted.hiddenRows,
        hiddenColumns: sifted.hiddenColumns,
      };
    },
  };
}

/** Other things that come as a ZIP. */
function refuseOthers(files: Package): void {
  const has = (pattern: RegExp) => files.names.some((name) => pattern.test(name));
  const save = 'open it in a spreadsheet program and save it as XLSX';
  if (has(/vbaProject\.bin$/iu))
    throw new WorkbookFault('is a workbook with macros (XLSM), which is not read', save);
  if (has(/^xl\/workbook\.bin$/iu)) throw new WorkbookFault('is a binary workbook (XLSB)', save);
  if (has(/^content\.xml$/iu)) throw new WorkbookFault('is an OpenDocument file (ODS)', save);
  if (has(/^word\/|^ppt\//iu)) throw new WorkbookFault('is an office file, but no workbook', save);
  if (!files.has('[Content_Types].xml') || !files.has('_rels/.rels'))
    throw new WorkbookFault('is a ZIP and no workbook', 'unpack it, and import what is in it');
}

interface Link {
  readonly id: string;
  /** Last word of the type: `worksheet`, `styles`. */
  readonly type: string;
  readonly part: string;
}

async function relationships(files: Package, part: string, folder: string): Promise<readonly Link[]> {
  if (!files.has(part)) return [];
  const links: Link[] = [];
  await readPart(
    await files.open(part),
    part,
    {
      open(name, { Id, Type, Target, TargetMode }) {
        // What leads out of the workbook is never followed.
        if (name !== 'Relationship' || TargetMode === 'External' || !Id || !Type || !Target) return;
        links.push({ id: Id, type: Type.slice(Type.lastIndexOf('/') + 1), part: resolved(folder, Target) });
      },
    },
    MOST_SMALL,
  );
  return links;
}

/** A target against the folder of its source (ECMA-376, Part 2, 6.5.3); from the root where it begins with a slash. */
function resolved(folder: string, target: string): string {
  const steps = target.startsWith('/') ? [] : folder.split('/').filter((step) => step !== '');
  for (const step of target.split('/')) {
    if (step === '..') steps.pop();
    else if (step !== '.' && step !== '') steps.push(step);
  }
  return steps.join('/');
}

async function mainPart(files: Package): Promise<string> {
  const main = (await relationships(files, '_rels/.rels', '')).find(({ type }) => type === 'officeDocument');
  if (!main || !files.has(main.part))
    throw new WorkbookFault('is a ZIP and no workbook', 'unpack it, and import what is in it');
  return main.part;
}

function linksOf(files: Package, main: string): Promise<readonly Link[]> {
  const at = main.lastIndexOf('/');
  const folder = at < 0 ? '' : main.slice(0, at);
  return relationships(files, `${folder === '' ? '' : `${folder}/`}_rels/${main.slice(at + 1)}.rels`, folder);
}

interface FoundSheet extends SheetInfo {
  readonly part: string;
}

async function sheetsIn(
  files: Package,
  main: string,
  links: readonly Link[],
): Promise<{ readonly sheets: readonly FoundSheet[]; readonly isDate1904: boolean }> {
  const sheets: FoundSheet[] = [];
  let isDate1904 = false;
  await readPart(
    await files.open(main),
    main,
    {
      open(name, attributes, within) {
        if (name === 'workbookPr') isDate1904 = /^(?:1|true)$/u.test(attributes.date1904 ?? '');
        if (name !== 'sheet' || within !== 'sheets') return;
        const id = prefixed(attributes, 'id');
        const link = links.find((one) => one.id === id && one.type === 'worksheet');
        // Charts on sheets of their own are no sheets of cells.
        if (!link) return;
        if (sheets.length >= MOST_SHEETS)
          throw new WorkbookFault(`has more than ${MOST_SHEETS} sheets`, 'save the list alone');
        sheets.push({
          name: attributes.name ?? `sheet ${sheets.length + 1}`,
          isHidden: /^(?:hidden|veryHidden)$/u.test(attributes.state ?? ''),
          part: link.part,
        });
      },
    },
    MOST_SMALL,
  );
  return { sheets, isDate1904 };
}

async function surroundings(
  files: Package,
  links: readonly Link[],
  isDate1904: boolean,
): Promise<Surroundings & { readonly count: number }> {
  const part = (type: string) => {
    const found = links.find((link) => link.type === type)?.part;
    return found !== undefined && files.has(found) ? found : undefined;
  };
  const texts = await textsIn(files, part('sharedStrings'));
  return {
    styles: await stylesIn(files, part('styles')),
    texts: `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">${texts.join('')}</sst>`,
    count: texts.length,
    isDate1904,
  };
}

/** Shared texts, runs of one text joined and reading aids (`rPh`) left out; ECMA-376, Part 1, 18.4. */
async function textsIn(files: Package, part: string | undefined): Promise<readonly string[]> {
  if (part === undefined) return [];
  const texts: string[] = [];
  let [text, aside, characters, isText] = ['', 0, 0, false];
  await readPart(
    await files.open(part),
    part,
    {
      open(name) {
        if (name === 'si') text = '';
        else if (name === 'rPh') aside++;
        else if (name === 't') isText = aside === 0;
      },
      text(more) {
        if (isText) text = `${text}${more}`.slice(0, MOST_IN_CELL + 1);
      },
      close(name) {
        if (name === 't') isText = false;
        else if (name === 'rPh') aside--;
        else if (name === 'si') {
          characters += text.length;
          if (texts.length >= MOST_SHARED || characters > MOST_CHARACTERS)
            throw new WorkbookFault(
              `has more than ${texts.length >= MOST_SHARED ? `${MOST_SHARED.toLocaleString('en')} texts` : `${MOST_CHARACTERS / 1024 ** 2} million characters of text`}`,
              'save the list alone in a workbook of its own',
            );
          texts.push(`<si><t xml:space="preserve">${escaped(text)}</t></si>`);
        }
      },
    },
    MOST_TEXTS,
  );
  return texts;
}

/** Number formats of the cell styles, which say how numbers are shown and which of them are dates. */
async function stylesIn(files: Package, part: string | undefined): Promise<string> {
  const formats: string[] = [];
  const styles: string[] = [];
  if (part !== undefined)
    await readPart(
      await files.open(part),
      part,
      {
        open(name, { numFmtId = '0', formatCode = '' }, within) {
          if (name === 'numFmt' && within === 'numFmts')
            formats.push(
              `<numFmt numFmtId="${escaped(numFmtId)}" formatCode="${escaped(formatCode.slice(0, 255))}"/>`,
            );
          if (name === 'xf' && within === 'cellXfs') styles.push(`<xf numFmtId="${escaped(numFmtId)}"/>`);
          if (styles.length > 100_000 || formats.length > 10_000)
            throw new WorkbookFault(`has too many cell formats (${quoted(part)})`, 'save the list alone');
        },
      },
      MOST_SMALL,
    );
  return `<styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><numFmts>${formats.join('')}</numFmts><cellXfs>${styles.join('')}</cellXfs></styleSheet>`;
}
