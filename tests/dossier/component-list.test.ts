import { describe, expect, test } from 'vitest';
import { checkDocuments } from '../../src/dossier/check/rules.ts';
import {
  type ComponentList,
  readComponentList,
  withComponentList,
} from '../../src/dossier/component-list.ts';
import { formatProblem } from '../../src/model/problems.ts';
import { documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from './files.ts';
import { Holding } from './holding.ts';

function listOf(text: string): ComponentList {
  const { list, problems } = readComponentList(Buffer.from(text), 'list.csv');
  expect(problems).toEqual([]);
  if (!list) throw new Error('nothing was read');
  return list;
}

function problems(text: string): readonly string[] {
  return readComponentList(Buffer.from(text), 'list.csv').problems.map(formatProblem);
}

describe('a component list from a spreadsheet', () => {
  test('gives components and candidates, in the order of its rows', () => {
    const { components, identifications } = listOf(
      [
        'designator,board,side,x_mm,y_mm,rotation_deg,package,pins,marking,category,part,probability,note',
        'U3,main,top,12.5,3,90,LGA-14,14,"QWR44\n1E30",,quillon/QWR4410,0.7,"near the edge, under the can"',
        'U3,,,,,,,,,,ostrel/OS7,0.2,',
        'U3,,,,,,,,,Gyroscope,,0.05,',
        'J1,main,bottom,1,2,,,,,FlexConnector,,,',
        'BT1,,,,,,,,,,,,',
      ].join('\r\n'),
    );
    expect(components).toEqual([
      {
        id: 'U3',
        board: 'main',
        side: 'top',
        at: { x: 12.5, y: 3 },
        rotation: 90,
        package: 'LGA-14',
        pins: 14,
        marking: 'QWR44\n1E30',
        note: 'near the edge, under the can',
        printed: false,
      },
      {
        id: 'J1',
        board: 'main',
        side: 'bottom',
        at: { x: 1, y: 2 },
        appears: 'FlexConnector',
        printed: false,
      },
      { id: 'BT1', printed: false },
    ]);
    expect(identifications).toEqual([
      {
        component: 'U3',
        candidates: [
          { part: 'quillon/QWR4410', probability: 0.7 },
          { part: 'ostrel/OS7', probability: 0.2 },
          { category: 'Gyroscope', probability: 0.05 },
        ],
        state: 'proposed',
        basis: [],
      },
    ]);
  });

  test('may come with semicolons and decimal commas, with tabs, or with a byte-order mark', () => {
    const { components } = listOf('\ufeffDesignator;x_mm;y_mm;marking\nU1;1,25;-0,5;4410\n');
    expect(components).toEqual([{ id: 'U1', at: { x: 1.25, y: -0.5 }, marking: '4410', printed: false }]);
    expect(listOf('designator\tpins\nU1\t8\n').components).toEqual([{ id: 'U1', pins: 8, printed: false }]);
  });

  test('goes into a dossier, which is then checked', () => {
    const document = documentOf(GOOD_DOSSIER);
    if (document.kind !== 'dossier') throw new Error('no dossier');
    const dossier = withComponentList(
      document.dossier,
      listOf('designator,board,side,x_mm,y_mm\nU7,main,top,3,3\nU8,mian,,,\n'),
    );
    expect(dossier.components).toHaveLength(4);
    const found = checkDocuments(
      [{ ...document, dossier }, documentOf(GOOD_CATALOGUE, 'b.yaml')],
      new Holding(),
    );
    expect(found.map(({ what, fix }) => `${what} — ${fix}`)).toEqual([
      'no board is called "mian" in this dossier — did you mean "main"?',
    ]);
  });
});

describe('mistakes in a list are named by line and column', () => {
  test.each([
    [
      'an unknown column',
      'designator,x\nU1,1\n',
      [
        'list.csv:1 x: "x" is not a column here — the columns are designator, board, side, x_mm, y_mm, rotation_deg, package, pins, marking, category, part, probability, note',
      ],
    ],
    [
      'a mistyped column',
      'desginator,pins\nU1,1\n',
      ['list.csv:1 desginator: "desginator" is not a column here — did you mean "designator"?'],
    ],
    [
      'a column twice',
      'designator,pins,pins\nU1,1,2\n',
      ['list.csv:1 pins: "pins" is a column twice — keep one'],
    ],
    [
      'no designators',
      'board,pins\nmain,1\n',
      ['list.csv:1: has no column "designator" — add it; every component needs one'],
    ],
    [
      'nothing below the head',
      'designator\n',
      [
        'list.csv: holds no components — start with a row of column names: designator, board, side, x_mm, y_mm, rotation_deg, package, pins, marking, category, part, probability, note',
      ],
    ],
    [
      'a designator left empty',
      'designator,pins\n,8\n',
      [
        'list.csv:2 designator: "designator" is empty — fill it in: Reference designator: class letters, after IEEE 315 or common use, and a number',
      ],
    ],
    [
      'no reference designator',
      'designator,pins\n3C,8\n',
      [
        'list.csv:2 designator: "3C" is not a valid reference designator — write capital class letters and a number, such as "U3", "MK1", "SW2"',
      ],
    ],
    [
      'half a place',
      'designator,x_mm,y_mm\nU1,8,\n',
      ['list.csv:2 y_mm: "y_mm" is empty — fill it in: a number'],
    ],
    [
      'a unit in a cell',
      'designator,x_mm,y_mm\nU1,8 mm,3\n',
      ['list.csv:2 x_mm: "8 mm" is text, not a number — write 8, without quotation marks or unit'],
    ],
    [
      'an unknown side',
      'designator,side\nU1,front\n',
      ['list.csv:2 side: "front" is not allowed here — write one of "top", "bottom"'],
    ],
    [
      'an unknown category',
      'designator,category\nU1,Giroscope\n',
      ['list.csv:2 category: "Giroscope" is not allowed here — did you mean "Gyroscope"?'],
    ],
    [
      'a part without probability',
      'designator,part\nU1,quillon/QWR4410\n',
      ['list.csv:2 part: U1 has a part but no probability — add how sure it is, between 0 and 1'],
    ],
    [
      'a probability of nothing',
      'designator,probability\nU1,0.5\n',
      ['list.csv:2: names neither part, category nor maker — give at least one'],
    ],
    [
      'a probability over 1',
      'designator,part,probability\nU1,quillon/QWR4410,70\n',
      ['list.csv:2 probability: 70 does not fit here — a probability lies between 0 and 1'],
    ],
    [
      'one component in two rows',
      'designator,pins\nU1,8\nU1,8\n',
      ['list.csv:3 designator: U1 is in two rows — keep one, or add a probability for a rival'],
    ],
    [
      'a rival that says something else',
      'designator,pins,part,probability\nU1,8,quillon/QWR4410,0.5\nU1,9,ostrel/OS7,0.2\n',
      [
        'list.csv:3 designator: U1 is described differently in a row above — leave all but part, category and probability empty in rows for rivals',
      ],
    ],
    [
      'a comma too many',
      'designator,note\nU1,near, far\n',
      ['list.csv:2: has 3 cells under 2 columns — put cells that hold commas into quotation marks'],
    ],
    [
      'a quotation mark left open',
      'designator,note\nU1,"near\n',
      [expect.stringMatching(/^list\.csv:\d: is not a valid CSV: Quote Not Closed/u)],
    ],
  ])('%s', (_, text, said) => {
    expect(problems(text)).toEqual(said);
  });

  test('all at once', () => {
    expect(
      problems('designator,side,pins\nU1,front,8\nU2,top,x\n3C,top,3\n').map((one) => one.split(':')[1]),
    ).toEqual(['2 side', '3 pins', '4 designator']);
  });
});
