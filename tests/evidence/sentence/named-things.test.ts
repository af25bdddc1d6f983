import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { auditClaims } from '../../../src/evidence/audit.ts';
import type { candidateSchema, observationSchema } from '../../../src/model/dossier.ts';
import { catalogueChanges, DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../../state/archive-of.ts';

// What the catalogue can answer of a sentence: makers, whether two parts are one, numbers of boards, dates, values in the units of
// the trade. Worked by hand; common practice, no source.

type Candidates = z.input<typeof candidateSchema>[];

const DELIVERED = '2011';
const OTHER = { ...DEVICE, id: 'other-band', name: 'Other Band', released: '2024-05' };

function state(sentence: string, supportedBy: readonly string[], more: Partial<Made> = {}) {
  const made = { ...MADE, ...more };
  const unit = (id: string, chips: readonly Candidates[], device: unknown) =>
    dossierChange({
      device: device as typeof DEVICE,
      specimen: { id },
      boards: made.boards.map((board) => ({ id: board, kind: 'rigid' as const })),
      components: chips.map((_, at) => ({ id: `U${at + 1}` })),
      observations: made.observations,
      identifications: chips.map((candidates, at) => ({ component: `U${at + 1}`, candidates })),
    });
  return liveOf([
    ...SMALL_CATALOGUE,
    ...catalogueChanges({
      parts: [
        { number: 'QWR4T71', maker: 'quistle', categories: ['Accelerometer'], introduced: `${DELIVERED}-03` },
      ],
    }),
    unit('a', made.chips, DEVICE),
    unit('a', made.others, OTHER),
    ...catalogueChanges({
      publications: [
        {
          id: 'p',
          kind: 'article',
          title: 'P',
          claims: [{ id: 'c', sentence, supportedBy: [...supportedBy] }],
        },
      ],
    }),
  ]).state('desk', '2026-06-01T00:00:00.000Z');
}

interface Made {
  readonly chips: readonly Candidates[];
  readonly others: readonly Candidates[];
  readonly boards: readonly string[];
  readonly observations: z.input<typeof observationSchema>[];
}
const ACCELEROMETER: Candidates = [{ part: 'quistle/QWR4T10', probability: 0.99 }];
const PROCESSOR: Candidates = [{ part: 'ostrel/OS7', probability: 0.99 }];
const MADE: Made = {
  chips: [ACCELEROMETER, PROCESSOR],
  others: [ACCELEROMETER, PROCESSOR],
  boards: [],
  observations: [],
};

const on = (local: string) => `${DEVICE.id}/a/${local}`;
const BESIDE = `${OTHER.id}/a/U1`;

async function said(sentence: string, supportedBy: readonly string[], more: Partial<Made> = {}) {
  const [claim] = await auditClaims(state(sentence, supportedBy, more));
  return claim;
}

describe('who makes it', () => {
  test.each([
    'The accelerometer is by Ostrel.',
    'The accelerometer comes from Ostrel.',
    'Its accelerometer was made by Ostrel.',
    'It has an accelerometer by Ostrel.',
    'Ostrel makes the accelerometer.',
    "It is moved through Ostrel's accelerometer.",
    'It has an Ostrel accelerometer.',
  ])('is found against: %s', async (sentence) => {
    const { findings } = await said(sentence, [on('U1')]);
    expect(findings.map(({ kind, about }) => [kind, about])).toContainEqual(['contradicted', 'maker Ostrel']);
  });

  test.each([
    ['The accelerometer is by Quistle.', ['U1']],
    ['Quistle makes the accelerometer, and Ostrel the microcontroller.', ['U1', 'U2']],
    ['The QWR4T10 by Quistle is an accelerometer.', ['U1']],
  ])('fits: %s', async (sentence, locals) => {
    expect((await said(sentence, locals.map(on))).findings).toEqual([]);
  });

  test('of two kinds each has its own', async () => {
    const { findings } = await said('The accelerometer is by Ostrel and the microcontroller is by Quistle.', [
      on('U1'),
      on('U2'),
    ]);
    expect(findings.map(({ about }) => about)).toEqual(['maker Ostrel', 'maker Quistle']);
  });

  test('a maker named by the way is said not to be checked', async () => {
    const { findings, notChecked } = await said('Unlike those of Ostrel, the accelerometer is small.', [
      on('U1'),
    ]);
    expect(findings).toEqual([]);
    expect(notChecked.join(' ')).toContain('“Ostrel”');
  });
});

describe('the same part', () => {
  const unlike = { others: [[{ part: 'quistle/QWR4T60', probability: 0.98 }], PROCESSOR] };
  const two = { chips: [ACCELEROMETER, [{ part: 'quistle/QWR4T60', probability: 0.98 }]] };
  test.each([
    'Both bands hold the same accelerometer.',
    'The other has the very same accelerometer.',
    'They share the same part.',
  ])('in two units: %s', async (sentence) => {
    expect((await said(sentence, [on('U1'), BESIDE], unlike)).findings.map(({ kind }) => kind)).toContain(
      'contradicted',
    );
    const good = await said(sentence, [on('U1'), BESIDE]);
    expect(good.findings.filter(({ kind }) => kind === 'contradicted')).toEqual([]);
    expect(good.statements.map(({ kind, result }) => `${kind} ${result}`)).toContain('part carried');
  });
  test.each(['The two accelerometers are the same part.', 'It has two identical accelerometers.'])(
    'within one: %s',
    async (sentence) => {
      const sure = await said(sentence, [on('U1'), on('U2')], two);
      expect(sure.findings.map(({ about }) => about).join()).toMatch(/part .*(?:same|identical)/u);
      const alike = await said(sentence, [on('U1'), on('U2')], { chips: [ACCELEROMETER, ACCELEROMETER] });
      expect(alike.findings.filter(({ kind }) => kind === 'contradicted')).toEqual([]);
    },
  );
  test('of one thing alone it is said not to be checked', async () => {
    const { notChecked } = await said('It uses the same accelerometer as before.', [on('U1')]);
    expect(notChecked.join(' ')).toContain('“the same accelerometer”');
  });
  test('the same side or supply is no part', async () => {
    const { statements } = await said('They sit on the same side, at the same supply as the accelerometer.', [
      on('U1'),
    ]);
    expect(statements.filter(({ kind }) => kind === 'part')).toEqual([]);
  });
  test('that they are not the same is compared as well', async () => {
    const sentence = 'They are not the same part.';
    expect(
      (await said(sentence, [on('U1'), BESIDE], unlike)).findings.filter(({ about }) =>
        about.startsWith('part'),
      ),
    ).toEqual([]);
    expect((await said(sentence, [on('U1'), BESIDE])).findings.map(({ kind }) => kind)).toContain(
      'contradicted',
    );
  });
});

describe('the number of boards', () => {
  const boards = { boards: ['main', 'sense'] };
  test.each([
    ['It has three boards.', true],
    ['It consists of four circuit boards.', true],
    ['It holds only one board.', true],
    ['It has more than two boards.', true],
    ['It has two boards.', false],
    ['Both boards are rigid.', false],
    ['All sits on one board.', false],
  ])('%s', async (sentence, isWrong) => {
    const { findings } = await said(sentence, [on('main'), on('sense')], boards);
    expect(findings.filter(({ about }) => about.startsWith('count')).length > 0).toBe(isWrong);
  });
});

describe('dates that the archive has', () => {
  const { released } = DEVICE;
  const year = Number(released.slice(0, 4));
  test.each([
    [`It was released in ${year - 1}.`, true],
    [`It was launched in early ${year + 1}.`, true],
    [`It was released in ${year}.`, false],
    [`It came out in ${year}.`, false],
    // The accelerometer in it was delivered then, which is no word about the band.
    [`The ${DEVICE.name} was released in ${DELIVERED}.`, true],
    [`The accelerometer was released in ${DELIVERED}.`, false],
    [`The QWR4T71 was launched in ${DELIVERED}.`, false],
    ['We opened it in 2003.', true],
  ])('%s', async (sentence, isWrong) => {
    const chips = [[{ part: 'quistle/QWR4T71', probability: 0.99 }]];
    const { findings } = await said(sentence, [DEVICE.id, on('U1')], { chips });
    expect(findings.filter(({ about }) => about.startsWith('date')).length > 0).toBe(isWrong);
  });
});

describe('values as the trade writes them', () => {
  const cell = (marking: string) => ({
    observations: [{ id: 'o1', about: ['U1'], kind: 'marking' as const, marking }],
  });
  test.each(['17 mAh', '17mAh', '17 mA·h', '17 mA h', '17 milliampere-hours', '0.017 Ah'])(
    'a cell marked 17 mAh holds %s',
    async (written) => {
      const { statements } = await said(`It holds ${written}.`, [on('o1')], cell('CP417\n17 mAh 3.85V'));
      expect(statements.map(({ kind, result }) => [kind, result])).toEqual([['quantity', 'carried']]);
    },
  );
  test.each(['71 mAh', '170 mAh', '7 mAh'])('and not %s', async (written) => {
    const { findings } = await said(`It holds ${written}.`, [on('o1')], cell('CP417\n17 mAh 3.85V'));
    expect(findings[0]).toMatchObject({ kind: 'contradicted' });
    expect(findings[0].message).toContain('17 mAh');
  });
  test.each([
    ['17 mAh', 'mAh'],
    ['170 kΩ', 'kΩ'],
    ['12.5 µm', 'µm'],
    ['100 °C', '°C'],
    ['33 mA·h', 'mAh'],
  ])(
    'where nothing gives %s, the message names the unit and no digit of the number',
    async (written, unit) => {
      const { findings } = await said(`It has ${written}.`, [on('U2')]);
      expect(findings.find(({ about }) => about.startsWith('quantity'))?.message).toContain(
        `a value in ${unit}:`,
      );
    },
  );
  test('a number that nothing reads is said not to be checked', async () => {
    const { notChecked } = await said('The accelerometer has 14 bumps and five scratches.', [on('U1')]);
    expect(notChecked.join(' ')).toMatch(/“14 bumps”.*“five scratches”/u);
  });
  test('a date code of digits and a letter is no value', async () => {
    const { findings } = await said('It draws 11 A.', [on('o1')], cell('K2\n11A'));
    expect(findings.map(({ kind }) => kind)).toContain('unsupported');
  });
});
