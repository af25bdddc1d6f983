import { describe, expect, test } from 'vitest';
import { withDossier } from './findings.ts';

test('a valid dossier with its catalogue has no findings', () => {
  expect(withDossier('name: Tarn Sennit 3', 'name: Tarn Sennit 3')).toEqual([]);
});

const COMPONENT = '  - id: U2\n';
const MORE = '  - { id: U3, board: main, side: top, at: { x: 20, y: 10 }, body: { length: 4, width: 3 } }\n';

describe('inside one dossier', () => {
  test.each([
    // Local ids.
    [
      'two components with one designator',
      '  - id: U2\n',
      '  - { id: U1, note: again }\n  - id: U2\n',
      [
        'a.yaml:32 components[1].id: two components are called "U1"; the first is on line 26 — give each its own reference designator',
      ],
    ],
    [
      'one id for things of two kinds',
      '- id: seen-1\n',
      '- { id: main, about: [U2], kind: marking, text: read }\n  - id: seen-1\n',
      ['a.yaml:42 observations[0].id: "main" is already the id of the board on line 18 — choose another id'],
    ],
    [
      'the id of the specimen',
      '- id: sensor\n',
      '- { id: a, kind: flex }\n  - id: sensor\n',
      ['a.yaml:21 boards[1].id: "a" is already the id of the specimen on line 12 — choose another id'],
    ],
    // References.
    [
      'a board that is not there',
      'board: sensor',
      'board: sensr',
      ['a.yaml:33 components[1].board: no board is called "sensr" in this dossier — did you mean "sensor"?'],
    ],
    [
      'an end of a connection that is not there',
      '[U1, U2]',
      '[U1, U7]',
      [
        'a.yaml:37 connections[0].between[1]: no component or board is called "U7" in this dossier — did you mean "U1" or "U2"?',
      ],
    ],
    [
      'evidence that is not there',
      'basis: [seen-1]\nobs',
      'basis: [seen-9]\nobs',
      [
        'a.yaml:40 connections[0].basis[0]: no observation is called "seen-9" in this dossier — did you mean "seen-1"?',
      ],
    ],
    [
      'evidence that is not an observation',
      'basis: [seen-1]\nobs',
      'basis: [main]\nobs',
      [
        'a.yaml:40 connections[0].basis[0]: "main" is the id of a board, and this asks for an observation — there are seen-1',
      ],
    ],
    [
      'an observation about nothing known',
      'about: [U1]',
      'about: [Q9]',
      [
        'a.yaml:43 observations[0].about[0]: no component, board, subsystem, net or photo is called "Q9" in this dossier — there are main, sensor, U1, U2',
      ],
    ],
    [
      'a photo that is not there',
      'kind: marking\n',
      'kind: marking\n    photo: p1\n',
      ['a.yaml:45 observations[0].photo: no photo is called "p1" in this dossier — declare one'],
    ],
    [
      'an identification of nothing',
      'component: U1',
      'component: U9',
      [
        'a.yaml:47 identifications[0].component: no component is called "U9" in this dossier — did you mean "U1" or "U2"?',
      ],
    ],
    // Structure.
    [
      'a connection from a thing to itself',
      '[U1, U2]',
      '[U1, U1]',
      ['a.yaml:37 connections[0].between: joins "U1" to itself — name the other end'],
    ],
    [
      'a thing inside itself',
      COMPONENT,
      '  - id: U2\n    inside: U2\n',
      ['a.yaml:33 components[1].inside: goes in a circle: U2 > U2 — leave one of the steps out'],
    ],
    [
      'boards stacked in a circle',
      'kind: rigid\n',
      'kind: rigid\n    stackedOn: main\n',
      ['a.yaml:20 boards[0].stackedOn: goes in a circle: main > main — leave one of the steps out'],
    ],
    // Places.
    [
      'a component absurdly far from its board: more than its longer side',
      'x: 5, y: 5',
      'x: 61, y: 5',
      [
        'a.yaml:29 components[0].at: U1 at (61, 5) mm lies off board "main" (30 × 20 mm) — check the place, the unit (mm) and where the board has its origin',
      ],
    ],
    [
      'a component off its rectangular board',
      'x: 5, y: 5',
      'x: 35, y: 5',
      [
        'caution a.yaml:29 components[0].at: U1 at (35, 5) mm lies 5.0 mm beyond the edge of board "main" (30 × 20 mm) — check the place, the outline and where the board has its origin',
      ],
    ],
    [
      'a component off its triangular board',
      'x: 2, y: 2',
      'x: 6, y: 6',
      [
        'caution a.yaml:35 components[1].at: U2 at (6, 6) mm lies 1.4 mm beyond the edge of board "sensor" (x 0.0 to 10.0, y 0.0 to 10.0 mm) — check the place, the outline and where the board has its origin',
      ],
    ],
    [
      'a connector that overhangs the edge',
      'x: 5, y: 5 }',
      'x: 33, y: 5 }\n    body: { length: 4, width: 2 }',
      [
        'caution a.yaml:29 components[0].at: the centre of U1 at (33, 5) mm lies 3.0 mm beyond the edge of board "main" (30 × 20 mm) — check the place, unless it stands out from the board',
      ],
    ],
    [
      'a body that overhangs the edge with its centre on the board',
      'x: 5, y: 5 }',
      'x: 29, y: 5 }\n    body: { length: 9, width: 2 }',
      [],
    ],
    [
      'a centre in a cut-out',
      'outline: { length: 30, width: 20 }',
      'outline: { points: [[0, 0], [30, 0], [30, 20], [0, 20]], holes: [{ centre: [5, 6], diameter: 3 }] }',
      [
        'caution a.yaml:29 components[0].at: the centre of U1 at (5, 5) mm lies 0.5 mm in a cut-out of board "main" (x 0.0 to 30.0, y 0.0 to 20.0 mm) — check the place, unless it stands out from the board',
      ],
    ],
    ['a component on the very edge', 'x: 2, y: 2', 'x: 5, y: 5.03', []],
    [
      'a side that the board does not have',
      'board: sensor\n    side: top',
      'board: sensor\n    side: bottom',
      [
        'a.yaml:34 components[1].side: board "sensor" has no bottom side with components — write top, or add the side to the board',
      ],
    ],
    [
      'a place without a side',
      '    side: top\n    at: { x: 5',
      '    at: { x: 5',
      ['a.yaml:26 components[0]: U1 has a place on "main" but no side — add side: top or bottom'],
    ],
    [
      'a place without a board',
      '    board: main\n    side: top\n',
      '',
      ['a.yaml:27 components[0].at: U1 has a place but no board — add board and side, or leave "at" out'],
    ],
    ['a board without a place', COMPONENT, '  - { id: U4, board: main }\n  - id: U2\n', []],
    // Modules.
    [
      'a die on another board than its module',
      COMPONENT,
      `${MORE}  - { id: U4, inside: U3, board: sensor }\n${COMPONENT}`,
      [
        'a.yaml:33 components[2].board: U4 is inside U3 but on board "sensor", and U3 is on "main" — leave "board" out of U4, or correct one of the two',
      ],
    ],
    [
      'a die far off its module',
      COMPONENT,
      `${MORE}  - { id: U4, inside: U3, board: main, side: top, at: { x: 8, y: 10 } }\n${COMPONENT}`,
      [
        'a.yaml:33 components[2].at: U4 is inside U3 but 12.0 mm from its centre, further than its body reaches — check the places of U4 and U3, and the body of U3',
      ],
    ],
    [
      'a die within its module',
      COMPONENT,
      `${MORE}  - { id: U4, inside: U3, board: main, side: top, at: { x: 21, y: 11 } }\n${COMPONENT}`,
      [],
    ],
    // Probabilities.
    [
      'rivals over 1',
      'probability: 0.2',
      'probability: 0.4',
      [
        'a.yaml:49 identifications[0].candidates: the candidates for U1 sum to 1.1 — at most 1: what is left to 1 stays for "none of these"',
      ],
    ],
    [
      'rivals of exactly 1 in decimals',
      'probability: 0.2 }',
      'probability: 0.2 }\n      - { category: Magnetometer, probability: 0.1 }',
      [],
    ],
    [
      'one rival twice',
      'category: Gyroscope',
      'part: quistle/QWR4T10',
      [
        'a.yaml:50 identifications[0].candidates[1]: quistle/QWR4T10 is a candidate for U1 twice — add the two up',
      ],
    ],
    [
      'a part of another maker',
      'part: quistle/QWR4T10,',
      'part: quistle/QWR4T10, maker: ostrel,',
      [
        'a.yaml:49 identifications[0].candidates[0].maker: names part quistle/QWR4T10 and maker ostrel, which is not its maker — leave "maker" out; the part says it',
      ],
    ],
    // Dates at the bench.
    [
      'opened before it was bought',
      'on: 2019-06',
      'on: 2019-05-01',
      [
        'a.yaml:14 teardown.on: opened before it was bought: 2019-05-01 lies before 2019-05-02 — check both dates',
      ],
    ],
    ['opened in the month it was bought', 'on: 2019-06', 'on: 2019-05', []],
    [
      'a marking read before the opening',
      'kind: marking\n',
      'kind: marking\n    on: 2019-05-30\n',
      [
        'a.yaml:45 observations[0].on: seen before the specimen was opened: 2019-05-30 lies before 2019-06 — check both dates',
      ],
    ],
    [
      'an X-ray before the opening',
      'kind: marking\n    marking: 1E30',
      'kind: x-ray\n    text: two dies\n    on: 2019-05-30',
      [],
    ],
    [
      'a correction dated before what it corrects',
      'kind: marking\n',
      'kind: marking\n    on: 2019-08\n    text: read\n  - { id: seen-2, about: [U1], kind: marking, marking: 1E38, on: 2019-07, corrects: seen-1 }\n  - id: seen-3\n    about: [U2]\n    kind: marking\n',
      [
        'a.yaml:47 observations[1].on: seen before what it corrects: 2019-07 lies before 2019-08 — check both dates',
        'caution a.yaml:57 identifications[0].basis: the identification of U1 counts for nothing: all that it names is seen-1, which seen-2 corrects — identify it anew, with observations that count',
      ],
    ],
    // Identifiers (47 CFR 2.926; GS1 General Specifications).
    [
      'a malformed FCC identifier',
      'mass: 43 g',
      'regulatoryIds: [{ scheme: fcc, id: 1AB3CDEV }]',
      [
        'a.yaml:9 device.regulatoryIds[0].id: "1AB3CDEV" is not a valid FCC identifier — a grantee code of 3 or 5 characters, then up to 14 more, capitals',
      ],
    ],
    ['a sound FCC identifier', 'mass: 43 g', 'regulatoryIds: [{ scheme: fcc, id: 2AB3CDEV-100 }]', []],
    [
      'a GTIN with a wrong check digit',
      'mass: 43 g',
      'regulatoryIds: [{ scheme: gtin, id: 6291041500214 }]',
      [
        'a.yaml:9 device.regulatoryIds[0].id: "6291041500214" is not a valid GTIN — 8, 12, 13 or 14 digits; the last is a check digit',
      ],
    ],
    ['a sound GTIN', 'mass: 43 g', 'regulatoryIds: [{ scheme: gtin, id: 6291041500213 }]', []],
    // Embargoes.
    [
      'an embargo without end',
      'caseback: dossier/1\n',
      'caseback: dossier/1\nvisibility: embargoed\n',
      [
        'a.yaml:2 visibility: is embargoed without an end — add its end, such as embargoUntil: 2026-12-15T09:00:00Z',
      ],
    ],
    [
      'an end without embargo',
      'caseback: dossier/1\n',
      'caseback: dossier/1\nembargoUntil: 2026-12-15T09:00:00Z\n',
      [
        'caution a.yaml:2 embargoUntil: has no effect while visibility is published — write visibility: embargoed, or leave the end out',
      ],
    ],
  ])('%s', (_, from, to, said) => {
    expect(withDossier(from, to)).toEqual(said);
  });
});
