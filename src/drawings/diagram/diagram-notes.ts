import { designatorOf } from '../../model/designator.ts';
import { compareText } from '../../state/lists/device-list.ts';
import type { OpenedSpecimen } from '../../state/specimen.ts';
import { DOUBTS } from '../board-notes.ts';
import { designatorList } from '../designator-list.ts';
import type { LegendEntry } from '../legend.ts';
import type { Blocks } from './blocks.ts';
import { type Picked, strokeOf } from './diagram-view.ts';
import type { Wire, WireKind } from './wires.ts';

const WIRES: readonly (readonly [WireKind, boolean, string])[] = [
  ['supply', false, 'supply as recorded; the arrow ends at what draws from it'],
  ['supply', true, 'supply concluded, via parts not drawn'],
  ['signal', false, 'signals as recorded'],
  ['signal', true, 'signals concluded, via parts not drawn'],
  ['mated', false, 'connectors that meet'],
];

/** What legend, lists and text alternative of a diagram say: all three from the same blocks and wires. */
export function notesOf(
  specimen: OpenedSpecimen,
  shown: Blocks,
  picked: Picked,
): {
  readonly legend: readonly LegendEntry[];
  readonly sentences: readonly string[];
  readonly inWords: readonly string[];
} {
  return {
    legend: legendOf(specimen, shown, picked),
    sentences: sentencesOf(specimen, shown),
    inWords: spoken(specimen, shown, picked),
  };
}

function legendOf(
  specimen: OpenedSpecimen,
  { blocks, wires: { bars, wires } }: Blocks,
  picked: Picked,
): readonly LegendEntry[] {
  const entries: LegendEntry[] = [];
  for (const [doubt, text] of DOUBTS)
    if (blocks.some((block) => block.doubt === doubt)) entries.push({ swatch: { kind: 'box', doubt }, text });
  if (bars.some(({ kind }) => kind === 'supply'))
    entries.push({
      swatch: { kind: 'box', fill: 'body', pen: 0.45 },
      text: 'rail: one net of three or more',
    });
  if (bars.some(({ kind }) => kind === 'signal'))
    entries.push({ swatch: { kind: 'box', pen: 0.2 }, text: 'signal nets of three or more' });
  for (const [kind, isConcluded, text] of WIRES)
    if (wires.some((wire) => wire.kind === kind && wire.isConcluded === isConcluded))
      entries.push({
        swatch: { kind: 'line', stroke: strokeOf({ kind, isConcluded }), hasArrow: kind === 'supply' },
        text,
      });
  if (blocks.some(({ id }) => picked.has(id)))
    entries.push({ swatch: { kind: 'box', ink: 'picked-0', pen: 0.55 }, text: 'picked' });
  const shown = new Set(wires.flatMap(({ of }) => of));
  for (const { id, label } of specimen.nets) {
    const ink = picked.get(id);
    if (ink && shown.has(id)) entries.push({ swatch: { kind: 'net', ink }, text: `net ${label ?? id}` });
  }
  return entries;
}

function sentencesOf(
  specimen: OpenedSpecimen,
  { blocks, folded, elsewhere, wires: { without, aside } }: Blocks,
): readonly string[] {
  const sentences: string[] = [];
  if (folded.length > 0) {
    const counts = folded.map(([kind, count]) => `${count} ${count === 1 ? kind : pluralOf(kind)}`);
    sentences.push(`Not drawn: ${counts.join(', ')}.`);
  }
  if (elsewhere > 0)
    sentences.push(
      `Not on this board, and not drawn: ${elsewhere} ${elsewhere === 1 ? 'component' : 'components'}.`,
    );
  sentences.push(
    'Ground is not drawn. Lines that cross are not joined. Numbers in brackets are probabilities.',
  );
  if (without.length > 0) sentences.push(`No net and no connection recorded: ${designatorList(without)}.`);
  if (aside.length > 0)
    sentences.push(`Joined to nothing but ground or what is not drawn: ${designatorList(aside)}.`);
  const used = new Set(blocks.flatMap(({ board }) => board ?? []));
  const boards = specimen.dossier.boards.filter(({ id }) => used.has(id));
  const names = (list: typeof boards) =>
    list
      .map(({ id, name }) => name ?? id)
      .sort(compareText)
      .join(', ');
  const untraced = boards.filter(({ fullyTraced }) => fullyTraced !== true);
  if (untraced.length > 0)
    sentences.push(`Not every net was traced, so lines may be missing: ${names(untraced)}.`);
  const partly = boards.filter(({ fullyInventoried }) => fullyInventoried !== true);
  if (partly.length > 0)
    sentences.push(`Not every component was listed, so boxes may be missing: ${names(partly)}.`);
  return sentences;
}

const pluralOf = (kind: string) =>
  /(?:[sx]|ch)$/u.test(kind) ? `${kind}es` : kind.replace(/(?<![aeiou])y$/u, 'ie').concat('s');

function spoken(
  specimen: OpenedSpecimen,
  { blocks, groups, wires: { bars, wires } }: Blocks,
  picked: Picked,
): readonly string[] {
  const titles = new Map(groups.map((group) => [group.id, group]));
  const placeOf = (id: string | undefined): string => {
    const group = id === undefined ? undefined : titles.get(id);
    if (!group) return '';
    const above = placeOf(group.parent);
    return above === '' ? group.title : `${above}, ${group.title}`;
  };
  const byPlace = Map.groupBy(blocks, ({ group }) => placeOf(group));
  const barLabels = new Map(bars.map(({ id, label }) => [id, label.join(', ')]));
  const nameOf = (id: string) => barLabels.get(id) ?? designatorOf(id);
  const said = ({ from, to, label, isConcluded, arrow }: Wire) => {
    const notes = [...label, ...(isConcluded ? ['concluded'] : [])].join(', ');
    const joint = arrow === 'none' ? 'with' : arrow === 'both' ? 'to and from' : 'to';
    return `${nameOf(from)} ${joint} ${nameOf(to)}${notes === '' ? '' : ` (${notes})`}`;
  };
  const ofKind = (kind: WireKind) => wires.filter((wire) => wire.kind === kind).map(said);
  const lists: readonly (readonly [string, readonly string[]])[] = [
    ['Supplies', ofKind('supply')],
    ['Signals', ofKind('signal')],
    ['Connectors that meet', ofKind('mated')],
    ['Picked', blocks.filter(({ id }) => picked.has(id)).map(({ designator }) => designator)],
    ['Picked nets', specimen.nets.filter(({ id }) => picked.has(id)).map(({ id, label }) => label ?? id)],
  ];
  return [
    ...[...byPlace].map(([place, own]) => {
      const listed = own.map(({ designator, kind, part }) =>
        [designator, kind, part].filter(Boolean).join(' '),
      );
      return `${place === '' ? 'Components' : place}: ${listed.join('; ')}.`;
    }),
    ...lists.flatMap(([heading, items]) => (items.length > 0 ? [`${heading}: ${items.join('; ')}.`] : [])),
  ];
}
