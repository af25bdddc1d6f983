import { didYouMean, nearNames } from '../../text/near.ts';
import {
  type ColumnReading,
  type Findings,
  type LengthUnit,
  quoted,
  type TradeReading,
} from '../board-design.ts';
import { isDesignatorList } from './designators.ts';
import {
  FIELDS,
  type Field,
  headingMeaning,
  LENGTHS,
  meaningOfField,
  plain,
  unitNamed,
  valueUnitNamed,
} from './headings.ts';
import type { Sheet } from './sheet.ts';
import { suggestedField } from './suggest.ts';

/** A column that fills a field. */
export interface Column {
  readonly heading: string;
  readonly at: number;
  readonly unit?: LengthUnit;
  /** Of values: unit of bare numbers. */
  readonly valueUnit?: string;
}

export interface Columns {
  readonly byField: ReadonlyMap<Field, Column>;
  readonly readings: readonly ColumnReading[];
}

/** Why nothing is taken from a column that somebody said to leave aside. */
export const LEFT_ASIDE = 'left aside as asked';

/** Cells looked at to settle an ambiguous heading. */
const SAMPLE = 500;

/**
 * Which column fills which field. What a heading may mean is looked up; ambiguous ones are settled by their cells and the
 * other columns, and told; unknown ones are told and left aside.
 */
export function settleColumns(sheet: Sheet, given: ReadonlyMap<string, string>, findings: Findings): Columns {
  const byField = new Map<Field, Column>();
  const readings: (ColumnReading | undefined)[] = sheet.headings.map(() => undefined);
  const take = (
    at: number,
    field: Field,
    own: OwnUnit,
    why?: string,
    sure: 'certain' | 'likely' = 'certain',
  ) => {
    const heading = sheet.headings[at] as string;
    const before = byField.get(field);
    if (before) {
      readings[at] = { heading, why: `${field} is taken from "${before.heading}"` };
      findings.caution(
        sheet.line,
        `"${heading}" is a second column of ${field}; it is taken from "${before.heading}"`,
        `delete one, or say what it is: --column "${heading}=FIELD"`,
        heading,
      );
      return;
    }
    const below = sheet.units.get(at)?.written;
    const unit = LENGTHS.has(field) ? (own.unit ?? unitNamed(below ?? '')) : undefined;
    const valueUnit = field === 'value' ? (own.valueUnit ?? valueUnitNamed(below ?? '')) : undefined;
    byField.set(field, { heading, at, ...(unit ? { unit } : {}), ...(valueUnit ? { valueUnit } : {}) });
    const named = unit ?? valueUnit;
    readings[at] = { heading, field, sure, ...(named ? { unit: named } : {}), ...(why ? { why } : {}) };
  };
  const givenByHeading = new Map(
    [...given].map(([heading, said]) => [plain(heading), fieldAndUnit(said)] as const),
  );
  const meanings = sheet.headings.map((heading) => headingMeaning(heading));
  // First what is said, then what is certain, then what the cells settle.
  sheet.headings.forEach((heading, at) => {
    const said = givenByHeading.get(plain(heading));
    if (said === undefined) return;
    if (said.field === 'aside') readings[at] = { heading, why: LEFT_ASIDE };
    else
      take(
        at,
        said.field as Field,
        said.unit === undefined ? unitsOf(meanings[at]) : unitsAsked(said.unit),
        'as asked',
      );
  });
  meanings.forEach((meaning, at) => {
    if (!readings[at] && meaning.kind === 'field') take(at, meaning.field, unitsOf(meaning));
  });
  meanings.forEach((meaning, at) => {
    if (readings[at]) return;
    const heading = sheet.headings[at] as string;
    switch (meaning.kind) {
      case 'ambiguous': {
        const field = fieldByCells(sheet, at, meaning.fields, byField);
        if (!field) {
          readings[at] = { heading, why: 'ambiguous' };
          // Where others have all that it may be, nothing is lost.
          if (meaning.fields.some((one) => !byField.has(one))) {
            findings.caution(
              sheet.line,
              `"${heading}" may be ${meaning.fields.join(' or ')}; nothing is taken from it`,
              `say which: --column "${heading}=${meaning.fields[0]}"`,
              heading,
            );
          }
          return;
        }
        take(at, field, {}, 'settled by its cells and the other columns', 'likely');
        findings.caution(
          sheet.line,
          `"${heading}" is taken as ${field}`,
          `say so if it is not: --column "${heading}=${meaning.fields.find((one) => one !== field) ?? 'aside'}"`,
          heading,
        );
        return;
      }
      case 'aside':
        readings[at] = { heading, why: 'known, nothing for a dossier' };
        return;
      default: {
        const suggested = suggestedField(sheet, at, byField);
        readings[at] = {
          heading,
          why: suggested ? `unknown; ${suggested.why}` : 'unknown',
          ...(suggested ? { suggestion: suggested.field } : {}),
        };
        findings.caution(
          sheet.line,
          `${quoted(heading)} is not a heading known here; nothing is taken from it`,
          suggested
            ? `if it is what it looks like (${suggested.why}), say so: --column "${heading}=${suggested.field}"`
            : `say what it is: --column "${heading}=FIELD", or add it to schema/trade-file-headings.yaml`,
          heading,
        );
      }
    }
  });
  return { byField, readings: readings.map((one) => one as ColumnReading) };
}

/** Problems of what a caller says of columns: a heading or a field that is not there. */
export function checkGivenColumns(
  sheet: Sheet,
  given: ReadonlyMap<string, string>,
  findings: Findings,
  mapping?: TradeReading['mapping'],
): void {
  const mapped = new Set(mapping?.columns.keys());
  for (const [heading, said] of given) {
    const { field, unit } = fieldAndUnit(said);
    if (
      unit !== undefined &&
      !(LENGTHS.has(field as Field) ? unitNamed(unit) : field === 'value' && valueUnitNamed(unit))
    )
      findings.problem(
        undefined,
        `${quoted(unit)} is not a unit of ${field}`,
        'write one such as "centreX mil" or "value nF"',
        heading,
      );
    if (field !== 'aside' && !FIELDS.includes(field as Field)) {
      findings.problem(
        undefined,
        `${quoted(field)} is not a field of a list`,
        didYouMean(field, FIELDS) ?? `the fields are ${FIELDS.join(', ')} and aside`,
        heading,
      );
    }
    if (sheet.headings.some((one) => plain(one) === plain(heading))) continue;
    const near = nearNames(
      heading,
      sheet.headings.filter((one) => one !== ''),
    );
    if (mapping && mapped.has(heading) && field !== 'aside')
      findings.problem(
        sheet.line,
        `has no column ${quoted(heading)}, which the list mapping ${mapping.id} takes as ${field}`,
        near[0] === undefined
          ? `it has ${sheet.headings.filter((one) => one !== '').join(', ')}; change the mapping, or read the list without it`
          : `is it ${quoted(near[0])} now? then change the mapping, or say so of this list: --column "${near[0]}=${said}"`,
      );
    else if (!mapped.has(heading))
      findings.caution(
        undefined,
        `has no column ${quoted(heading)}`,
        didYouMean(heading, sheet.headings) ?? `it has ${sheet.headings.join(', ')}`,
      );
  }
}

interface OwnUnit {
  readonly unit?: LengthUnit;
  readonly valueUnit?: string;
}

/** What is said of a column: `centreX mil`. */
function fieldAndUnit(said: string): { readonly field: string; readonly unit?: string } {
  const at = said.indexOf(' ');
  return at < 0 ? { field: said } : { field: said.slice(0, at), unit: said.slice(at + 1).trim() };
}

function unitsOf(meaning: ReturnType<typeof headingMeaning> | undefined): OwnUnit {
  if (meaning?.kind !== 'field') return {};
  const { unit, valueUnit } = meaning;
  return { ...(unit ? { unit } : {}), ...(valueUnit ? { valueUnit } : {}) };
}

function unitsAsked(written: string): OwnUnit {
  const [unit, valueUnit] = [unitNamed(written), valueUnitNamed(written)];
  return { ...(unit ? { unit } : {}), ...(valueUnit ? { valueUnit } : {}) };
}

/** What a field holds, for help and reports. */
export function fieldMeanings(): readonly string[] {
  return FIELDS.map((field) => `${field}: ${meaningOfField(field)}`);
}

/** The first field that an ambiguous heading may mean, that no column has yet, and that the cells fit. */
function fieldByCells(
  sheet: Sheet,
  at: number,
  fields: readonly Field[],
  taken: ReadonlyMap<Field, Column>,
): Field | undefined {
  const cells = sheet.rows.slice(0, SAMPLE).flatMap((row) => row.cells[at] || []);
  if (cells.length === 0) return undefined;
  return fields.find(
    (field) => !taken.has(field) && (field !== 'designator' || cells.every((cell) => isDesignatorList(cell))),
  );
}
