import type { Facts } from '../../src/state/facts.ts';
import { COLUMN, COLUMNS } from '../../src/state/lists/component-columns.ts';
import { dossierOf } from '../../src/state/merge.ts';
import type { Names } from '../../src/state/names.ts';

const LABELS = [
  'MADE_BY',
  'MAY_BE_BY',
  'IN_LINE',
  'SUCCEEDS',
  'SPECIMEN_OF',
  'SUPPORTED_BY',
  'CITES',
  'RELABELS',
];

/** Everything that facts hold, in a form that two can be compared by, however they came about. */
export function contentOf(facts: Facts, names: Names) {
  return {
    records: Object.entries(facts.records).map(([name, map]) => [
      name,
      sorted(map as unknown as Iterable<[string, unknown]>),
    ]),
    devices: sorted(facts.devices),
    specimens: sorted(facts.specimens).map(([, row]) => ({
      ...row,
      filed: undefined,
      version: undefined,
      parts: [...row.parts].map((part) => names.textOf(part)),
      named: [...row.named].map((name) => names.textOf(name)),
      columns: [...row.columns].map((value, index) =>
        [COLUMN.designator, COLUMN.part, COLUMN.board, COLUMN.package].some((c) => c === index % COLUMNS)
          ? names.textOf(value)
          : value,
      ),
      dossier: dossierOf(row),
    })),
    holders: sorted(facts.holders).map(([part, specimens]) => [part, [...specimens].sort()]),
    links: sorted(facts.links),
    into: sorted(facts.links).map(([id]) => LABELS.map((label) => facts.links.into(id, label))),
    judgements: sorted(facts.judgements),
    corrections: facts.corrections.map(({ correction }) => correction),
    standingRecords: sorted(facts.standingRecords),
    standingSpecimens: sorted(facts.standingSpecimens).map(([id, { until }]) => [id, until]),
    recalls: sorted(facts.recalls),
  };
}

function sorted<T>(map: Iterable<[string, T]>): [string, T][] {
  return [...map].sort(([a], [b]) => (a < b ? -1 : 1));
}
