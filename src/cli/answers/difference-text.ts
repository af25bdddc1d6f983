import type { CellFigures, DecisionChange, Difference } from '../../evidence/difference.ts';
import { toTable } from '../../export/table.ts';
import { writtenUnit } from '../../model/written-unit.ts';
import { fixed } from '../../text/rounding.ts';
import { counted } from './figures.ts';

type Row = Readonly<Record<string, string>>;

/** The result of a change, in tables and sentences. */
export function differenceText(difference: Difference): string {
  const { gained, lost, moved, cells, trendPoints, claims } = difference;
  let unseen = 0;
  /** Rows that show a difference: what changes behind the last digit is counted only. */
  const visible = (rows: readonly Row[]) => {
    const seen = rows.filter(({ before, after, standing = '' }) => before !== after || standing !== '');
    unseen += rows.length - seen.length;
    return seen;
  };
  const sections = [
    section('Decisions gained', gained.map(decisionRow)),
    section('Decisions lost', lost.map(decisionRow)),
    section('Decisions moved', visible(moved.map(decisionRow))),
    section(
      'Cells of the comparison table',
      visible(
        cells.map(({ specimenId, label, unit, before, after }) => ({
          specimen: specimenId,
          row: label,
          unit: writtenUnit(unit),
          before: cellText(before),
          after: cellText(after),
        })),
      ),
    ),
    section(
      'Points of trends (expected devices of the year)',
      visible(
        trendPoints.map(({ subject, year, deviceId, before, after }) => ({
          of: subject,
          year: String(year),
          device: deviceId,
          before: fixed(before, 3),
          after: fixed(after, 3),
        })),
      ),
    ),
    ...(claims.length === 0 ? [] : [`Sentences touched\n${claims.map(claimLines).join('\n')}\n`]),
  ].filter((text) => text !== '');
  if (unseen > 0)
    sections.push(`${counted(unseen, 'figure')} more by less than is shown; --format json has them\n`);
  return sections.length === 0 ? 'Nothing that it supports changes.\n' : sections.join('\n');
}

function section(title: string, rows: readonly Row[]): string {
  return rows.length === 0 ? '' : `${title}\n${toTable(rows)}`;
}

function decisionRow({ id, name, before, after, standingBefore, standingAfter }: DecisionChange) {
  const standing =
    standingBefore === standingAfter ? '' : `${standingBefore ?? '-'} > ${standingAfter ?? '-'}`;
  return { decision: id, name, before: number(before), after: number(after), standing };
}

function number(value: number | null): string {
  return value === null ? '-' : fixed(value, 3);
}

function cellText(cell: CellFigures | null): string {
  if (!cell) return '-';
  const { certain, expected } = cell;
  const short = (value: number) => String(Number(fixed(value, 3)));
  if (certain === null && expected === null) return 'not known';
  return certain === expected || expected === null
    ? short((certain ?? expected) as number)
    : `${certain === null ? '-' : short(certain)} (${short(expected)} expected)`;
}

function claimLines({
  id,
  sentence,
  before,
  after,
  newFindings,
  settledFindings,
  movedFindings,
  proposal,
}: Difference['claims'][number]) {
  return [
    `  ${id}  ${number(before)} > ${number(after)}`,
    `    “${sentence}”`,
    ...newFindings.map(({ kind, message }) => `    now ${kind}: ${message}`),
    ...movedFindings.map(({ kind, message }) => `    still ${kind}: ${message}`),
    ...settledFindings.map(({ kind }) => `    no longer ${kind}`),
    ...(proposal && newFindings.length > 0 && !isNamed([...newFindings, ...movedFindings], proposal)
      ? [`    to fit, ${proposal}`]
      : []),
  ].join('\n');
}

function isNamed(findings: readonly { readonly message: string }[], proposal: string): boolean {
  return findings.some(({ message }) => message.includes(proposal));
}
