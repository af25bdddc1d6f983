import { type Findings, quoted } from '../board-design.ts';
import { headingMeaning, unitNamed, valueUnitNamed } from './headings.ts';
import { numberText } from './number-text.ts';
import type { RawSheet, Sheet, SheetRow } from './sheet.ts';

// Headings that take more than one row: a group over several columns ("Position" over X and Y), and a row of units below.

/** Words of a row of units beside units of lengths and values. */
const OTHER_UNITS =
  /^(?:deg(?:rees?)?|°|grad|pcs\.?|pieces|stk\.?|stück|ea|each|pzs?|text|n\/a|-|–|—|v|a|w|%)$/iu;

/** A list with one heading for each column. */
export function understoodHeadings(
  raw: RawSheet,
  known: (heading: string) => boolean,
  findings: Findings,
): Sheet {
  const ofHeadings: { line: number; why: string }[] = [];
  let { headings, rows } = raw;
  const grouped = groupedWith(raw.above, headings, raw);
  if (grouped) {
    headings = grouped;
    ofHeadings.push({ line: (raw.above as SheetRow).line, why: 'headings of several columns' });
  }
  const [next] = rows;
  const continued = next && continuedBy(raw, headings, next, known);
  if (continued) {
    headings = continued;
    ofHeadings.push({ line: next.line, why: 'second row of headings' });
    rows = rows.slice(1);
  }
  const units = new Map<number, { written: string; line: number }>();
  const [first] = rows;
  if (first && isUnits(first, headings)) {
    first.cells.forEach((cell, at) => {
      const written = bare(cell);
      if (unitNamed(written) || valueUnitNamed(written)) units.set(at, { written, line: first.line });
    });
    ofHeadings.push({ line: first.line, why: 'units of the columns' });
    rows = rows.slice(1);
    findings.understood.push(`units in ${findings.placeOf(first.line)}`);
  }
  return { ...raw, headings, rows, units, ofHeadings };
}

/** Headings with the groups that stand above them, where these make them known. */
function groupedWith(
  above: SheetRow | undefined,
  headings: readonly string[],
  raw: RawSheet,
): readonly string[] | undefined {
  if (!above || above.cells.filter((cell) => cell !== '').length === 0) return undefined;
  let changed = false;
  const width = Math.max(headings.length, above.cells.length);
  const joined = Array.from({ length: width }, (_, at) => {
    const heading = headings[at] ?? '';
    const own = above.cells[at] ?? '';
    if (heading === '' && /^(?:field|ambiguous)$/u.test(headingMeaning(own).kind)) {
      changed = true;
      return own;
    }
    const group = groupOver(above, at, raw);
    if (group === undefined || heading === '') return heading;
    const [alone, together] = [headingMeaning(heading), headingMeaning(`${group} ${heading}`)];
    const isBetter =
      together.kind === 'field' &&
      (alone.kind !== 'field' || alone.field === 'x' || alone.field === 'y') &&
      !(alone.kind === 'field' && alone.field === together.field);
    if (!isBetter) return heading;
    changed = true;
    return `${group} ${heading}`;
  });
  return changed ? joined : undefined;
}

/** Headings continued by the next row, where that is no row of the list. */
function continuedBy(
  raw: RawSheet,
  headings: readonly string[],
  next: SheetRow,
  known: (heading: string) => boolean,
): readonly string[] | undefined {
  const cells = next.cells.filter((cell) => cell !== '');
  if (cells.length === 0 || next.facts?.size) return undefined;
  const top: SheetRow = { line: raw.line, cells: headings };
  let fields = 0;
  const joined: string[] = [];
  for (let at = 0; at < Math.max(headings.length, next.cells.length); at++) {
    const [heading = '', cell = ''] = [headings[at], next.cells[at]];
    if (cell === '') {
      joined.push(heading);
      continue;
    }
    const own = headingMeaning(heading).kind;
    // What means something by itself is continued only where it stands over several columns.
    const isOverSeveral = (headings[at + 1] ?? '-') === '' && (next.cells[at + 1] ?? '') !== '';
    if (numberText(cell) || (/^(?:field|ambiguous)$/u.test(own) && !isOverSeveral)) return undefined;
    const group = groupOver(top, at, raw);
    const together = group === undefined ? undefined : `${group} ${cell}`;
    const isKnown = (text: string) => known(text) || headingMeaning(text).kind !== 'unknown';
    if (together !== undefined && headingMeaning(together).kind === 'field') joined.push(together);
    else if (isKnown(cell)) joined.push(cell);
    else return undefined;
    if (headingMeaning(joined.at(-1) as string).kind === 'field') fields++;
  }
  return fields > 0 ? joined : undefined;
}

/** The text over a column: its own, that of a merged cell, or in a text file that of the last column to the left that has one. */
function groupOver({ line, cells }: SheetRow, at: number, { merges }: RawSheet): string | undefined {
  const own = cells[at];
  if (own !== undefined && own !== '') return own;
  if (merges) {
    const merge = merges.find((one) => one.top === line && one.left <= at && at <= one.right);
    return merge && (cells[merge.left] || undefined);
  }
  for (let left = at - 1; left >= 0; left--) if (cells[left]) return cells[left];
  return undefined;
}

function isUnits({ cells, facts }: SheetRow, headings: readonly string[]): boolean {
  if (facts?.size) return false;
  const written = cells.map(bare);
  const designator = headings.findIndex((one) => {
    const meaning = headingMeaning(one);
    return meaning.kind === 'field' && meaning.field === 'designator';
  });
  if (
    designator >= 0 &&
    (written[designator] ?? '') !== '' &&
    !OTHER_UNITS.test(written[designator] as string)
  )
    return false;
  const named = written.filter((cell) => cell !== '');
  return (
    named.some((cell) => unitNamed(cell) || (designator >= 0 && valueUnitNamed(cell))) &&
    named.every((cell) => unitNamed(cell) || valueUnitNamed(cell) || OTHER_UNITS.test(cell))
  );
}

/** A unit without brackets around it. */
function bare(cell: string): string {
  return cell
    .trim()
    .replace(/^[([{](.*)[)\]}]$/u, '$1')
    .trim();
}

/** Tells headings whose unit is another than that of the row below. */
export function checkUnits(sheet: Sheet, findings: Findings): void {
  for (const [at, { written, line }] of sheet.units) {
    const heading = sheet.headings[at] ?? '';
    const meaning = headingMeaning(heading);
    const unit = unitNamed(written);
    if (meaning.kind === 'field' && meaning.unit && unit && meaning.unit !== unit)
      findings.problem(
        line,
        `says ${quoted(written)} under a heading that says ${meaning.unit}`,
        'keep the right one',
        heading,
      );
  }
}
