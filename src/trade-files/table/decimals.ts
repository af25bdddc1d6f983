import { DECIMAL_SIGNS } from '../../model/list-mapping.ts';
import { type Findings, type LengthUnit, quoted } from '../board-design.ts';
import { inMillimetres } from './cells.ts';
import type { Column, Columns } from './columns.ts';
import { type Field, LENGTHS, PLACES } from './headings.ts';
import { type DecimalSign, numberText } from './number-text.ts';
import type { Sheet } from './sheet.ts';

// Which sign is the decimal one, column by column over the whole file. A number alone may not tell, 1,234 being one and a bit or
// over a thousand; others of its column do, then those of other columns, and where nothing does it is asked.

/** Fields that hold numbers. */
const NUMBERS: readonly Field[] = ['quantity', 'rotation', ...LENGTHS];
/** A rotation read as more than this was not grouped. */
const MOST_DEGREES = 3_600;

/** The decimal sign of each column of numbers; left out where each number of it tells by itself. */
export type DecimalSigns = ReadonlyMap<Field, DecimalSign>;

interface Seen {
  readonly column: Column;
  /** The sign under which alone the column reaches as far as boards do. */
  readonly byReach?: DecimalSign;
  /** The first number that must have the sign, and the first that may be either. */
  readonly certain: { readonly [S in DecimalSign]?: Place };
  readonly unclear: { readonly [S in DecimalSign]?: Place };
}

interface Place {
  readonly line: number;
  readonly cell: string;
}

/**
 * Settles the decimal signs of a list, and tells problems where they cannot be.
 * @param said by the caller, before all else
 */
export function decimalSignsOf(
  sheet: Sheet,
  { byField }: Columns,
  said: DecimalSign | undefined,
  findings: Findings,
): DecimalSigns {
  const seen = new Map<Field, Seen>();
  for (const field of NUMBERS) {
    const column = byField.get(field);
    if (column) seen.set(field, look(sheet, column, field));
  }
  const signs = new Map<Field, DecimalSign>();
  const others = new Set([...seen.values()].flatMap(({ certain }) => Object.keys(certain) as DecimalSign[]));
  for (const [field, one] of seen) {
    const sign = signOf(one, said, others, findings);
    if (sign) signs.set(field, sign);
  }
  const used = [...new Set(signs.values())];
  const isShown = [...seen.values()].some(
    ({ certain, unclear }) => certain.comma || unclear.comma || unclear.point,
  );
  if (used.length > 0 && isShown)
    findings.understood.push(
      used.length === 1
        ? `a ${used[0]} is the decimal sign${said ? ', as asked' : ''}`
        : `decimal signs: ${[...signs].map(([field, sign]) => `a ${sign} in "${byField.get(field)?.heading}"`).join(', ')}`,
    );
  return signs;
}

function look(sheet: Sheet, column: Column, field: Field): Seen {
  const certain: { [S in DecimalSign]?: Place } = {};
  const unclear: { [S in DecimalSign]?: Place } = {};
  for (const { line, cells, facts } of sheet.rows) {
    const cell = cells[column.at];
    if (cell === undefined || cell === '' || facts?.has(column.at)) continue;
    const read = numberText(cell);
    if (!read) continue;
    const place = { line, cell };
    if (read.certain) certain[read.certain] ??= place;
    else if (read.unclear) {
      const grouped = read.value(read.unclear === 'comma' ? 'point' : 'comma');
      if (field === 'rotation' && Math.abs(grouped) > MOST_DEGREES) certain[read.unclear] ??= place;
      else unclear[read.unclear] ??= place;
    }
  }
  const byReach =
    PLACED.has(field) && column.unit !== undefined ? signByReach(sheet, column, column.unit) : undefined;
  return { column, certain, unclear, ...(byReach ? { byReach } : {}) };
}

/** Columns of places. */
const PLACED: ReadonlySet<Field> = new Set(PLACES.flatMap((place) => place.slice(0, 2) as Field[]));
/** How far the places of a board's components lie apart, mm, generously. */
const REACH = [0.5, 1_000] as const;

/** The one sign under which the column, in a unit that is stated, reaches as far as a board may. */
function signByReach(sheet: Sheet, { at }: Column, unit: LengthUnit): DecimalSign | undefined {
  const numbers = sheet.rows.flatMap(({ cells, facts }) =>
    facts?.has(at) ? [] : (numberText(cells[at] ?? '') ?? []),
  );
  if (numbers.length < 2) return undefined;
  const possible = DECIMAL_SIGNS.filter((sign) => {
    let [least, greatest] = [Infinity, -Infinity];
    for (const read of numbers) {
      const value = inMillimetres(read.value(sign), unit);
      [least, greatest] = [Math.min(least, value), Math.max(greatest, value)];
    }
    return greatest - least >= REACH[0] && greatest - least <= REACH[1];
  });
  return possible.length === 1 ? possible[0] : undefined;
}

function signOf(
  { column, certain, unclear, byReach }: Seen,
  said: DecimalSign | undefined,
  others: ReadonlySet<DecimalSign>,
  findings: Findings,
): DecimalSign | undefined {
  const { heading } = column;
  const ask = 'say which is the decimal sign: --decimal comma or --decimal point';
  if (said) {
    const other = certain[said === 'comma' ? 'point' : 'comma'];
    if (other)
      findings.problem(
        other.line,
        `${quoted(other.cell)} cannot have a decimal ${said}, as was said`,
        'write all numbers of the list in one way, or say nothing of the decimal sign',
        heading,
      );
    return said;
  }
  if (certain.point && certain.comma) {
    findings.caution(
      certain.comma.line,
      `${quoted(certain.comma.cell)} has a decimal comma, and ${quoted(certain.point.cell)} in ${findings.placeOf(certain.point.line, heading)} a decimal point; each is read as it is written`,
      'write all numbers of a column in one way',
      heading,
    );
    const open = unclear.comma ?? unclear.point;
    if (open)
      findings.problem(
        open.line,
        `${quoted(open.cell)} may be ${either(open.cell)}: its column has decimal commas and decimal points`,
        ask,
        heading,
      );
    return undefined;
  }
  if (certain.point) return 'point';
  if (certain.comma) return 'comma';
  if (unclear.comma && unclear.point) {
    findings.problem(
      unclear.comma.line,
      `${quoted(unclear.comma.cell)} and ${quoted(unclear.point.cell)} in ${findings.placeOf(unclear.point.line, heading)} have different signs, and nothing in the file tells which is the decimal one`,
      ask,
      heading,
    );
    return undefined;
  }
  if (!unclear.comma && !unclear.point) return undefined;
  const [only] = others;
  if (others.size === 1 && only) return only;
  if (byReach && others.size === 0) return byReach;
  // Programs that place components write points, with three decimals as often as not.
  if (unclear.point && others.size === 0) return 'point';
  const open = (unclear.comma ?? unclear.point) as Place;
  findings.problem(
    open.line,
    `${quoted(open.cell)} may be ${either(open.cell)}, and nothing in the file tells`,
    ask,
    heading,
  );
  return undefined;
}

/** `1.234 or 1234` */
function either(cell: string): string {
  const read = numberText(cell);
  const [small, large] = [read?.value('point') ?? 0, read?.value('comma') ?? 0].toSorted(
    (a, b) => Math.abs(a) - Math.abs(b),
  );
  return `${small} or ${large}`;
}
