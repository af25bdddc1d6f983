import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { NOTHING_HELD } from '../../../src/dossier/check/context.ts';
import { latestDay } from '../../../src/dossier/check/future-dates.ts';
import { changed, documentOf, GOOD_CATALOGUE, GOOD_DOSSIER } from '../files.ts';
import { findingsIn, withCatalogue, withDossier } from './findings.ts';

// What nobody can mean. Limits are chosen (see the rules); what is held to here are the slips that the editor makes: a wrong
// unit, a date mistyped by ten years, a digit too many.

const HELD = { ...NOTHING_HELD, today: '2026-03-01' };
const today = (from: string, to: string) =>
  findingsIn([changed(GOOD_DOSSIER, from, to), GOOD_CATALOGUE], HELD);
const SIZE = 'package: LGA-14';
const sized = (body: string) => withDossier(SIZE, `package: LGA-14\n    body: ${body}`);
const counted = (pins: number, more = '') => withDossier(SIZE, `${SIZE}\n    pins: ${pins}${more}`);

function dossierIn(text: string) {
  const document = documentOf(text);
  if (document.kind !== 'dossier') throw new Error('no dossier');
  return document.dossier;
}

describe('sizes', () => {
  test('a body of 900 mm on a board of 30 mm', () => {
    expect(sized('{ length: 900, width: 2 }')).toEqual([
      'a.yaml:32 components[0].body.length: U1 is 900 mm long, and its board "main" 30 × 20 mm — check the number and its unit, mm',
    ]);
  });

  test('a body longer than its board is worth a second look, unless it may lie off the board', () => {
    expect(sized('{ length: 4, width: 38 }')).toEqual([]); // identified as a part, of which the catalogue knows more
    const unknown = changed(GOOD_DOSSIER, 'part: quistle/QWR4T10', 'category: Accelerometer');
    const display = changed(GOOD_DOSSIER, 'part: quistle/QWR4T10', 'category: OledDisplay');
    const [chip, screen] = [unknown, display].map((text) =>
      findingsIn([changed(text, SIZE, `${SIZE}\n    body: { length: 4, width: 38 }`), GOOD_CATALOGUE]),
    );
    expect(chip).toEqual([
      expect.stringMatching(
        /^caution a\.yaml:32 .*U1 is 38 mm long, longer than its board "main" \(30 × 20 mm\) from corner/u,
      ),
    ]);
    expect(screen).toEqual([]);
  });

  test('larger than the device: a component and a board', () => {
    expect(sized('{ length: 60, width: 2 }')).toEqual([
      expect.stringMatching(
        /^caution .*body\.length: U1 is 60 mm long, and the device 55\.2 mm from corner to corner/u,
      ),
    ]);
    expect(withDossier('{ length: 30, width: 20 }', '{ length: 30, width: 200 }')).toEqual([
      expect.stringMatching(
        /^caution .*boards\[0\]\.outline: board "main" is 200 mm long, and the device 55\.2 mm/u,
      ),
    ]);
  });

  test('boards without an area, and metres long', () => {
    expect(withDossier('{ length: 30, width: 20 }', '{ length: 0, width: 20 }')).toContainEqual(
      expect.stringMatching(/^a\.yaml:20 boards\[0\]\.outline: board "main" has no area \(0 × 20 mm\)/u),
    );
    expect(withDossier('{ length: 30, width: 20 }', '{ length: 3000, width: 20 }')).toEqual([
      expect.stringMatching(/^a\.yaml:20 boards\[0\]\.outline: board "main" is 3000 × 20 mm large/u),
    ]);
  });

  test('mass and dimensions of the device', () => {
    expect(withDossier('mass: 43 g', 'mass: -43 g')).toEqual([
      'a.yaml:9 device.mass: tarn-sennit-3 has a mass of -43 g — write the mass as weighed, more than 0',
    ]);
    expect(withDossier('mass: 43 g', 'mass: 43 kg')).toEqual([
      expect.stringMatching(
        /^caution a\.yaml:9 device\.mass: tarn-sennit-3 weighs 43 kg, much for something worn/u,
      ),
    ]);
    // 40 × 38 × 11 mm are 16.7 cm³; 1.5 kg in it are 90 g/cm³, gold has 19.3.
    const dense = changed(GOOD_DOSSIER, 'mass: 43 g', 'mass: 1.5 kg').replace(
      'width: 38 mm }',
      'width: 38 mm, height: 11 mm }',
    );
    expect(findingsIn([dense, GOOD_CATALOGUE])).toEqual([
      expect.stringMatching(
        /^caution a\.yaml:9 device\.mass: tarn-sennit-3 is denser than lead: 1\.5 kg in 16\.7 cm³/u,
      ),
    ]);
    expect(withDossier('length: 40 mm', 'length: 0 mm')).toEqual([
      expect.stringMatching(/^a\.yaml:10 device\.dimensions\.length: tarn-sennit-3 is 0 mm in length/u),
    ]);
    expect(withDossier('length: 40 mm', 'length: 40 m')).toEqual([
      expect.stringMatching(
        /^caution a\.yaml:10 device\.dimensions\.length: tarn-sennit-3 is 40000 mm in length/u,
      ),
    ]);
  });
});

describe('pins', () => {
  test('as many as the name of the package says, or one more', () => {
    expect(counted(14)).toEqual([]);
    expect(counted(15)).toEqual([]);
    expect(counted(16)).toEqual([
      expect.stringMatching(/^caution a\.yaml:32 .*U1 has 16 pins, but its package LGA-14 has 14/u),
    ]);
    expect(counted(140)).toEqual([
      expect.stringMatching(/^a\.yaml:32 .*U1 has 140 pins, but its package LGA-14 has 14/u),
    ]);
    expect(counted(999_999)).toEqual([
      expect.stringMatching(/^a\.yaml:32 .*U1 has 999,999 pins, more than any package/u),
    ]);
  });

  test.each([
    ['SOT-23-5', 5, 8],
    ['SC-70-6', 6, 3],
    ['WLCSP-36', 36, 25],
    ['TSSOP-20', 20, 16],
    ['VQFN-32', 33, 40],
    ['SOIC8', 8, 14],
  ])('%s', (body, right, wrong) => {
    const say = (pins: number) => withDossier(SIZE, `package: ${body}\n    pins: ${pins}`);
    expect(say(right)).toEqual([]);
    expect(say(wrong)).toHaveLength(1);
  });

  test.each(['SOT-23', 'SOT-89', 'SC-70', 'SOD-123', '"0402"', 'pouch', 'BTB-20 connector'])(
    '%s says nothing of pins',
    (body) => {
      expect(withDossier(SIZE, `package: ${body}\n    pins: 4`)).toEqual([]);
    },
  );

  test('the body has room for them', () => {
    const [said] = withDossier(SIZE, 'package: BGA\n    pins: 900\n    body: { length: 3, width: 3 }');
    expect(said).toMatch(
      /^a\.yaml:32 .*U1 has 900 pins under 3 × 3 mm: they would stand closer than 0\.15 mm/u,
    );
    // 0.35 mm is the finest pitch in volume, from memory: 8 × 8 balls under 3 mm.
    expect(withDossier(SIZE, 'package: BGA\n    pins: 64\n    body: { length: 3, width: 3 }')).toEqual([]);
    expect(withDossier(SIZE, 'package: BGA\n    pins: 144\n    body: { length: 3, width: 3 }')).toEqual([
      expect.stringMatching(/^caution .*closer than 0\.3 mm/u),
    ]);
  });

  test('parts of the catalogue too', () => {
    expect(withCatalogue('introduced: 2018 }', 'introduced: 2018, package: QFN-12, pins: 999 }')).toEqual([
      expect.stringMatching(
        /^b\.yaml:10 parts\[1\]\.pins: ostrel\/OS7 has 999 pins, but its package QFN-12 has 12/u,
      ),
    ]);
  });
});

describe('dates', () => {
  test.each([
    [
      'on: 2019-06',
      'on: 2031-06',
      'a.yaml:14 teardown.on: opened on 2031-06, which is still to come — check the date',
    ],
    [
      'kind: marking\n',
      'kind: marking\n    on: 2029\n',
      'a.yaml:45 observations[0].on: "seen-1" was seen on 2029, which is still to come — check the date',
    ],
    [
      'component: U1\n',
      'component: U1\n    on: 2027-01-01\n',
      'a.yaml:48 identifications[0].on: U1 was identified on 2027-01-01, which is still to come — check the date',
    ],
    [
      'on: 2019-06',
      'on: "0000"',
      'a.yaml:14 teardown.on: opened on 0000, before there were any electronics — check the date: the year with its four digits, of the calendar of ISO 8601',
    ],
    [
      'on: 2019-06',
      'on: 1200-06-01',
      'a.yaml:14 teardown.on: opened on 1200-06-01, before there were any electronics — check the date: the year with its four digits, of the calendar of ISO 8601',
    ],
    [
      'released: 2019-04',
      'released: "0019"',
      'a.yaml:7 device.released: tarn-sennit-3 is released 0019, before there were any electronics — check the date: the year with its four digits, of the calendar of ISO 8601',
    ],
  ])('%s becomes %s', (from, to, said) => {
    expect(today(from, to)).toContain(said);
  });

  test('what a museum has is worth a second look and may stand', () => {
    expect(today('released: 2019-04', 'released: 1938')).toContainEqual(
      expect.stringMatching(
        /^caution a\.yaml:7 device\.released: .*1938, before anything electronic was worn/u,
      ),
    );
  });

  test('this month is not yet over, and the day may be ahead elsewhere', () => {
    expect(today('on: 2019-06', 'on: 2026-03')).toEqual([]);
    expect(latestDay(new Date('2027-05-01T11:00:00Z'))).toBe('2027-05-02');
    // A clock that was never set.
    expect(latestDay(new Date(0)) > '2026').toBe(true);
  });

  test('a release far ahead is worth a second look, a year ahead is announced', () => {
    const ahead = today('released: 2019-04', 'released: 2091-04');
    expect(ahead).toContainEqual(
      expect.stringMatching(
        /^caution a\.yaml:7 device\.released: tarn-sennit-3 is released 2091-04, years from now/u,
      ),
    );
    expect(findingsIn([changed(GOOD_CATALOGUE, 'introduced: 2018', 'introduced: 2810')], HELD)).toEqual([
      expect.stringMatching(
        /^caution a\.yaml:10 parts\[1\]\.introduced: OS7 is first delivered 2810, years from now/u,
      ),
    ]);
  });

  test('identified before it was seen', () => {
    const text = changed(GOOD_DOSSIER, 'kind: marking\n', 'kind: marking\n    on: 2019-08\n');
    expect(findingsIn([`${text}    on: 2019-07\n`, GOOD_CATALOGUE])).toEqual([
      expect.stringMatching(
        /U1 is identified before "seen-1", which shows it, was seen: 2019-07 lies before 2019-08/u,
      ),
    ]);
  });
});

describe('observations', () => {
  const SEEN = 'kind: marking\n    marking: 1E30';
  test('say something', () => {
    expect(withDossier(SEEN, 'kind: marking')).toEqual([
      expect.stringMatching(
        /^a\.yaml:42 observations\[0\]: "seen-1" is an observation of a marking, but gives no marking — add marking/u,
      ),
    ]);
    expect(withDossier(SEEN, 'kind: trace')).toEqual([
      expect.stringContaining('does not say what was seen — add leadsTo'),
    ]);
    expect(withDossier(SEEN, 'kind: measurement\n    method: caliper')).toEqual([
      expect.stringContaining('does not say what was seen — add value'),
    ]);
    expect(withDossier(SEEN, 'kind: body-size\n    value: -3 mm')).toEqual([
      expect.stringMatching(/observations\[0\]\.value: "seen-1" gives -3 mm as a size/u),
    ]);
    expect(withDossier(SEEN, 'kind: measurement\n    value: -3 V')).toEqual([]);
  });

  test('are recorded once', () => {
    const again = '  - { id: seen-2, about: [U1], kind: marking, marking: 1E30 }\n';
    const text = GOOD_DOSSIER.replace('identifications:', `${again}identifications:`);
    expect(findingsIn([text, GOOD_CATALOGUE])).toEqual([
      expect.stringMatching(
        /^caution a\.yaml:46 observations\[1\]: observation "seen-2" says the same as "seen-1"/u,
      ),
    ]);
    const corrected = text.replace('marking: 1E30 }', 'marking: 1E30, corrects: seen-1 }');
    expect(findingsIn([corrected, GOOD_CATALOGUE])).toEqual([
      expect.stringMatching(
        /^caution .*the identification of U1 counts for nothing: all that it names is seen-1, which seen-2 corrects/u,
      ),
    ]);
    const anew = corrected.replaceAll('basis: [seen-1]', 'basis: [seen-2]');
    expect(findingsIn([anew, GOOD_CATALOGUE])).toEqual([]);
  });

  test('what the archive holds since before a rule is cautioned, and what comes new is refused', () => {
    const silent = changed(GOOD_DOSSIER, SEEN, 'kind: marking');
    const before = dossierIn(silent);
    const held = { ...HELD, dossierNow: () => before };
    expect(findingsIn([silent, GOOD_CATALOGUE], held)).toEqual([
      expect.stringMatching(/^caution a\.yaml:42 .*gives no marking/u),
    ]);
    const more = silent.replace(
      'identifications:',
      '  - { id: seen-2, about: [U2], kind: marking }\nidentifications:',
    );
    expect(findingsIn([more, GOOD_CATALOGUE], held)).toEqual([
      expect.stringMatching(/^caution .*"seen-1"/u),
      expect.stringMatching(/^a\.yaml:45 .*"seen-2" is an observation of a marking/u),
    ]);
  });
});

describe('what is worth a second look', () => {
  const AT_U2 = 'board: sensor\n    side: top\n    at: { x: 2, y: 2 }';
  test.each([
    [
      'two bodies in one place',
      AT_U2,
      'board: main\n    side: top\n    at: { x: 5, y: 5 }',
      /components\[1\]\.at: U2 is in the place of U1, at 5, 5 mm on main, top/u,
    ],
    [
      'the same place on the other side',
      AT_U2,
      'board: main\n    side: bottom\n    at: { x: 5, y: 5 }',
      undefined,
    ],
    [
      'what one holds',
      AT_U2,
      'board: main\n    side: top\n    inside: U1\n    at: { x: 5, y: 5 }',
      undefined,
    ],
    [
      'a shield over it',
      AT_U2,
      'board: main\n    side: top\n    appears: Shield\n    at: { x: 5, y: 5 }',
      undefined,
    ],
    [
      'an embargo that is over',
      'caseback: dossier/1\n',
      'caseback: dossier/1\nvisibility: embargoed\nembargoUntil: "2020-02-01T07:00:00Z"\n',
      /embargoUntil: the embargo ended on 2020-02-01T07:00:00Z/u,
    ],
    [
      'an embargo that is not',
      'caseback: dossier/1\n',
      'caseback: dossier/1\nvisibility: embargoed\nembargoUntil: "2026-04-01T07:00:00Z"\n',
      undefined,
    ],
  ])('%s', (_, from, to, told) => {
    const found = findingsIn([changed(GOOD_DOSSIER, from, to), GOOD_CATALOGUE], HELD).filter((line) =>
      /is in the place of|embargo ended/u.test(line),
    );
    expect(found).toEqual(told === undefined ? [] : [expect.stringMatching(told)]);
    expect(found.every((line) => line.startsWith('caution '))).toBe(true);
  });
});

test('digests are of files', () => {
  const photos = (...digests: string[]) =>
    findingsIn([
      `${GOOD_DOSSIER}photos:\n${digests.map((digest, i) => `  - { id: p${i}, sha256: ${JSON.stringify(digest)}, credit: I. Example, licence: CC0-1.0 }\n`).join('')}`,
      GOOD_CATALOGUE,
    ]);
  const of = (text: string) => createHash('sha256').update(text).digest('hex');
  expect(photos(of('a'), of('b'))).toEqual([]);
  expect(photos('0'.repeat(64))).toEqual([
    expect.stringMatching(/photos\[0\]\.sha256: photo "p0" has a digest of "0" throughout/u),
  ]);
  expect(photos(of(''))).toEqual([expect.stringMatching(/photo "p0" has the digest of an empty file/u)]);
  expect(photos(of('a'), of('a'))).toEqual([
    expect.stringMatching(/^caution .*photo "p1" has the same digest as "p0"/u),
  ]);
});

test('certainty has a basis', () => {
  const sure = (more: string) =>
    withDossier(
      'probability: 0.7 }\n      - { category: Gyroscope, probability: 0.2 }\n    basis: [seen-1]',
      `probability: 1 }\n${more}`,
    );
  expect(sure('')).toEqual([
    expect.stringMatching(
      /^caution a\.yaml:49 .*U1 is quistle\/QWR4T10 with probability 1, and nothing is named that shows it — name observations in "basis"/u,
    ),
  ]);
  expect(sure('    basis: [seen-1]')).toEqual([]);
  expect(sure('    reason: read in full')).toEqual([]);
});

test('a net that is complete joins something', () => {
  const nets = (net: string) => withDossier('observations:', `nets:\n  - ${net}\nobservations:`);
  expect(nets('{ id: sda, kind: signal, pins: [U1.4], complete: true }')).toEqual([
    expect.stringMatching(
      /^caution a\.yaml:42 nets\[0\]\.complete: net "sda" is called complete, but joins nothing but U1\.4/u,
    ),
  ]);
  expect(nets('{ id: sda, kind: signal, pins: [U1.4] }')).toEqual([]);
  expect(nets('{ id: x, kind: signal, pins: [U1.NC], complete: true }')).toEqual([]);
});
