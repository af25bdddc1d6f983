import { SIDES } from '../../model/board.ts';
import { BODY_SIDES, IDENTIFICATION_STATES } from '../../model/dossier.ts';
import type { BillLine } from './bill-of-materials.ts';
import type { Column, ExportTable } from './columns.ts';
import type { ComponentRow } from './component-rows.ts';

// The flat list of components, the bill of materials and the placement list. What was seen comes first, then what was concluded.

const PLACE = [
  { name: 'id', kind: 'id', isRequired: true, says: 'Id in the archive.', of: ({ id }) => id },
  { name: 'device', kind: 'id', isRequired: true, says: 'Its device.', of: ({ device }) => device },
  { name: 'specimen', kind: 'id', isRequired: true, says: 'Its specimen.', of: ({ specimen }) => specimen },
  {
    name: 'designator',
    kind: 'id',
    isRequired: true,
    says: 'Reference designator (IEEE 315 or common use), unique on its board.',
    of: ({ designator }) => designator,
  },
  {
    name: 'board',
    kind: 'id',
    says: 'Its board; empty for parts of the enclosure.',
    of: ({ board }) => board,
  },
] as const satisfies readonly Column<ComponentRow>[];

const POSITION = [
  {
    name: 'side',
    kind: 'word',
    words: SIDES,
    says: 'Side of the board.',
    of: ({ component }) => component.side,
  },
  {
    name: 'centre_x_mm',
    kind: 'number',
    unit: 'mm',
    says: 'Centre on its board, x to the right, seen from the top side.',
    of: ({ component }) => component.at?.x,
  },
  {
    name: 'centre_y_mm',
    kind: 'number',
    unit: 'mm',
    says: 'Centre on its board, y up, seen from the top side.',
    of: ({ component }) => component.at?.y,
  },
  {
    name: 'rotation',
    kind: 'number',
    unit: 'deg',
    says: 'Counter-clockwise, seen from its side.',
    of: ({ component }) => component.rotation,
  },
] as const satisfies readonly Column<ComponentRow>[];

const LOOKS = [
  {
    name: 'value',
    kind: 'text',
    says: 'Seen: value as printed or listed.',
    of: ({ component }) => component.value,
  },
  {
    name: 'package',
    kind: 'text',
    says: 'Seen: package as it looks.',
    of: ({ component }) => component.package,
  },
] as const satisfies readonly Column<ComponentRow>[];

export const COMPONENTS: ExportTable<ComponentRow> = {
  file: 'components.csv',
  title: 'Components',
  says: 'Everything with a place in a specimen, one line each: what was seen of it, then what it is concluded to be. Places where nothing is fitted and features of the boards are in it.',
  primaryKey: ['id'],
  namesNodes: ['id', 'device', 'specimen', 'board', 'subsystem', 'inside', 'part', 'category', 'appears'],
  columns: [
    ...PLACE,
    ...POSITION,
    {
      name: 'printed',
      kind: 'boolean',
      says: 'Whether the designator is printed on the board.',
      of: ({ component }) => component.printed,
    },
    {
      name: 'fitted',
      kind: 'boolean',
      isRequired: true,
      says: 'Whether something is soldered there.',
      of: (row) => row.isFitted,
    },
    {
      name: 'counts',
      kind: 'boolean',
      isRequired: true,
      says: 'Whether it counts as a component: fitted, and no feature of the board itself.',
      of: (row) => row.isCounted,
    },
    ...BODY_SIDES.map(
      (side): Column<ComponentRow> => ({
        name: `body_${side}_mm`,
        kind: 'number',
        unit: 'mm',
        says: `Seen: ${side} of its body, before it is turned.`,
        of: ({ component }) => component.body?.[side],
      }),
    ),
    { name: 'pins', kind: 'count', says: 'Seen: pins counted.', of: ({ component }) => component.pins },
    ...LOOKS,
    {
      name: 'marking',
      kind: 'text',
      says: 'Seen: its marking as read; ? stands for a character that was not.',
      of: ({ component }) => component.marking,
    },
    {
      name: 'reading',
      kind: 'number',
      says: 'How sure that reading is, 0 to 1.',
      of: ({ component }) => component.reading,
    },
    {
      name: 'appears',
      kind: 'id',
      says: 'Seen: what it plainly is, a term of the taxonomy.',
      of: ({ component }) => component.appears,
    },
    { name: 'subsystem', kind: 'id', says: 'Its subsystem.', of: ({ subsystem }) => subsystem },
    { name: 'inside', kind: 'id', says: 'The module or package that holds it.', of: ({ inside }) => inside },
    { name: 'note', kind: 'text', says: 'A remark.', of: ({ component }) => component.note },
    {
      name: 'part',
      kind: 'id',
      says: 'Concluded: the likeliest part; empty where none is named.',
      of: ({ part }) => part?.part,
    },
    {
      name: 'part_probability',
      kind: 'number',
      says: 'Probability of that part, 0 to 1.',
      of: ({ part }) => part?.probability,
    },
    {
      name: 'category',
      kind: 'id',
      says: 'The most specific kind that is at least as likely as not, from what was seen and concluded.',
      of: ({ category }) => category?.term,
    },
    {
      name: 'category_probability',
      kind: 'number',
      says: 'Probability of that kind, 0 to 1; 1 where it is plain to the eye.',
      of: ({ category }) => category?.probability,
    },
    {
      name: 'state',
      kind: 'word',
      words: IDENTIFICATION_STATES,
      says: 'How far the identification has come; empty where nobody has identified it.',
      of: ({ identification }) => identification?.state,
    },
    {
      name: 'identified_by',
      kind: 'text',
      says: 'Who identified it.',
      of: ({ identification }) => identification?.by,
    },
    {
      name: 'identified_on',
      kind: 'date',
      says: 'When: a day, a month or a year.',
      of: ({ identification }) => identification?.on,
    },
    {
      name: 'candidates',
      kind: 'json',
      says: 'All rival candidates with their probabilities, as JSON; what these leave to 1 is unknown.',
      of: ({ identification }) => identification?.candidates,
    },
  ],
};

export const PLACEMENT: ExportTable<ComponentRow> = {
  file: 'placement.csv',
  title: 'Placement',
  says: 'Where components that are fitted sit on their boards (centroid list), in mm and degrees.',
  primaryKey: ['id'],
  namesNodes: ['id', 'device', 'specimen', 'board'],
  columns: [...PLACE, ...POSITION, ...LOOKS],
};

export const BILL: ExportTable<BillLine> = {
  file: 'bill-of-materials.csv',
  title: 'Bill of materials',
  says: 'Components of each specimen, grouped by the part that they are concluded to be; where no part is named, by what was seen and the kind concluded.',
  primaryKey: ['line'],
  namesNodes: ['device', 'specimen', 'part', 'maker', 'category', 'components'],
  columns: [
    {
      name: 'line',
      kind: 'count',
      isRequired: true,
      says: 'Number of the line.',
      of: ({ number }) => number,
    },
    { name: 'device', kind: 'id', isRequired: true, says: 'Its device.', of: ({ device }) => device },
    { name: 'specimen', kind: 'id', isRequired: true, says: 'Its specimen.', of: ({ specimen }) => specimen },
    {
      name: 'quantity',
      kind: 'count',
      isRequired: true,
      says: 'Number of components.',
      of: ({ components }) => components.length,
    },
    {
      name: 'designators',
      kind: 'id',
      separator: ',',
      isRequired: true,
      says: 'Their reference designators; two boards may each have one of the same.',
      of: ({ designators }) => designators,
    },
    {
      name: 'components',
      kind: 'id',
      separator: ' ',
      isRequired: true,
      says: 'Their ids.',
      of: ({ components }) => components,
    },
    {
      name: 'knowledge',
      kind: 'word',
      words: ['concluded', 'seen', 'unknown'],
      isRequired: true,
      says: 'concluded: an identification says what it is, with a probability. seen: it is plain to the eye what kind it is. unknown: neither.',
      of: ({ knowledge }) => knowledge,
    },
    {
      name: 'state',
      kind: 'word',
      words: IDENTIFICATION_STATES,
      says: 'How far the least settled of their identifications has come.',
      of: ({ state }) => state,
    },
    { name: 'part', kind: 'id', says: 'Concluded: id of the likeliest part.', of: ({ part }) => part },
    {
      name: 'part_number',
      kind: 'id',
      says: 'Concluded: its number in the catalogue.',
      of: ({ partNumber }) => partNumber,
    },
    { name: 'maker', kind: 'id', says: 'Concluded: id of its maker.', of: ({ maker }) => maker },
    {
      name: 'category',
      kind: 'id',
      says: 'The kind, a term of the taxonomy: concluded or, where knowledge is seen, as seen.',
      of: ({ category }) => category,
    },
    {
      name: 'probability_minimum',
      kind: 'number',
      says: 'Probability of that part, else of that kind, where it is lowest among them, 0 to 1; empty where knowledge is not concluded.',
      of: ({ minimum }) => minimum,
    },
    {
      name: 'probability_maximum',
      kind: 'number',
      says: 'The same where it is highest.',
      of: ({ maximum }) => maximum,
    },
    {
      name: 'values',
      kind: 'text',
      separator: ' | ',
      says: 'Seen: their values as printed or listed.',
      of: ({ values }) => values,
    },
    {
      name: 'packages',
      kind: 'text',
      separator: ' | ',
      says: 'Seen: their packages as they look.',
      of: ({ packages }) => packages,
    },
  ],
};
