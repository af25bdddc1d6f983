import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { auditClaims } from '../../../src/evidence/audit.ts';
import type { claimSchema } from '../../../src/model/catalogue.ts';
import type { dossierSchema } from '../../../src/model/dossier.ts';
import { catalogueChanges, DEVICE, dossierChange, liveOf, SMALL_CATALOGUE } from '../../state/archive-of.ts';

type Written = Omit<z.input<typeof claimSchema>, 'id'>;

// One band with a microphone, two accelerometers and a board 0.6 mm thick; every board inventoried, so that what is not there is known.
const WORLD: Omit<z.input<typeof dossierSchema>, 'caseback'> = {
  device: {
    ...DEVICE,
    mass: '23 g',
    dimensions: { length: '40 mm', width: '18.5 mm', height: '9 mm' },
  },
  specimen: { id: 'a' },
  teardown: { on: '2020-03', by: 'bench' },
  boards: [{ id: 'main', kind: 'rigid', fullyInventoried: true }],
  components: [
    { id: 'U1', board: 'main', side: 'top', at: { x: 5, y: 5 }, body: { length: 2, width: 2 } },
    { id: 'U2', board: 'main', side: 'top', at: { x: 15, y: 5 }, body: { length: 2, width: 2 } },
    { id: 'MK1', board: 'main', appears: 'Microphone' },
  ],
  observations: [
    { id: 'thick', about: ['main'], kind: 'measurement', text: 'Thickness of the board.', value: '0.6 mm' },
    { id: 'mic', about: ['MK1'], kind: 'appearance', text: 'A hole in the lid.' },
  ],
  identifications: [
    { component: 'U1', candidates: [{ part: 'quistle/QWR4T10', probability: 1 }] },
    { component: 'U2', candidates: [{ part: 'quistle/QWR4T10', probability: 1 }] },
  ],
};

async function audit(claim: Written, more: readonly ReturnType<typeof dossierChange>[] = []) {
  const publication = {
    id: 'publication',
    kind: 'article' as const,
    title: 'A publication',
    claims: [{ id: 'c1', ...claim }],
  };
  const live = liveOf([
    ...SMALL_CATALOGUE,
    dossierChange(WORLD as never),
    ...more,
    ...catalogueChanges({ publications: [publication] }),
  ]);
  const [audited] = await auditClaims(live.state('desk', '2026-06-01T00:00:00.000Z'));
  return audited;
}

const on = (local: string) => `${DEVICE.id}/a/${local}`;
const found = async (sentence: string, ...supportedBy: string[]) =>
  (await audit({ sentence, supportedBy })).findings.map(({ kind, about }) => `${kind}: ${about}`);

describe('a sentence is compared with what is under it', () => {
  test.each<[string, string[], string[]]>([
    [
      'It holds a satellite receiver and a diesel engine.',
      [on('thick')],
      ['unsupported: component satellite receiver'],
    ],
    ['The board is 6 mm thick.', [on('thick')], ['contradicted: quantity 6 mm']],
    ['The band contains no microphone.', [on('MK1')], ['contradicted: component no microphone']],
    ['Most bands have a thin board.', [on('thick')], ['overstated: quantifier Most']],
    ['It is the first board so thin.', [on('thick')], ['overstated: quantifier the first']],
    ['The band weighs 3 kg.', [DEVICE.id], ['unsupported: support', 'contradicted: quantity 3 kg']],
    ['The band weighs 3 kg.', [`${DEVICE.id}/a`], ['unsupported: support', 'contradicted: quantity 3 kg']],
    [
      'It has an accelerometer.',
      [DEVICE.id],
      ['unsupported: support', 'unsupported: component accelerometer'],
    ],
    // Right ones.
    ['The board is 0.6 mm thick.', [on('thick')], []],
    ['The board is 600 µm thick.', [on('thick')], []],
    ['The board is less than a millimetre thick.', [on('thick')], []],
    ['The band weighs 23 g.', [DEVICE.id], []],
    ['The band weighs 23 g.', [`${DEVICE.id}/a`], []],
    ['It has a microphone.', [on('MK1')], []],
    ['It has two accelerometers.', [on('U1'), on('U2')], []],
    ['They sit 10 mm apart.', [on('U1'), on('U2')], []],
    ['Between them are 8 mm.', [on('U1'), on('U2')], []],
    ['There is no gyroscope in the band.', [`${DEVICE.id}/a`], []],
    ['Its accelerometer is a QWR4T10.', [on('U1')], []],
    // Wrong ones near them.
    ['They sit 12 mm apart.', [on('U1'), on('U2')], ['contradicted: quantity 12 mm']],
    ['It has three accelerometers.', [on('U1'), on('U2')], ['contradicted: count three accelerometers']],
    [
      'There is no accelerometer in the band.',
      [`${DEVICE.id}/a`],
      ['unsupported: support', 'contradicted: component no accelerometer'],
    ],
    ['Its accelerometer is a QWR4T60.', [on('U1')], ['unsupported: part QWR4T60']],
    [
      'The accelerometer runs at 3 V.',
      [on('MK1')],
      ['unsupported: quantity 3 V', 'unsupported: component accelerometer'],
    ],
    ['Every band has a microphone.', [on('MK1')], ['overstated: quantifier Every']],
    ['It never has more.', [on('MK1')], ['overstated: quantifier never']],
    ['It is the only microphone.', [on('MK1')], ['overstated: quantifier only']],
    ['The microphone is twice as large.', [on('MK1')], ['overstated: quantifier twice']],
    ['Diesel drives the propeller.', [on('mic')], ['unsupported: support']],
  ])('%s on %j', async (sentence, supportedBy, findings) => {
    const kinds = await found(sentence, ...supportedBy);
    // How sure the sentence sounds is another question.
    expect(kinds.filter((one) => !one.endsWith(': wording'))).toEqual(findings);
  });

  test('a denial of what nobody looked for says what was not seen', async () => {
    const blind = dossierChange({
      device: DEVICE.id,
      specimen: { id: 'b' },
      boards: [{ id: 'main', kind: 'rigid' }],
      components: [{ id: 'U1', appears: 'Speaker' }],
    });
    const { findings } = await audit(
      { sentence: 'There is no gyroscope.', supportedBy: [`${DEVICE.id}/b`] },
      [blind],
    );
    expect(findings.at(-1)?.message).toContain('not every board is recorded as fully inventoried');
  });

  test('figures carry quantifiers when they state what these claim', async () => {
    const share = { share: { category: 'Microphone' } } as const;
    const about = async (sentence: string, figure: object) =>
      (await audit({ sentence, supportedBy: [on('MK1')], figures: [figure as never] })).findings.filter(
        ({ about }) => about.startsWith('quantifier'),
      ).length;
    expect(await about('Most bands have a microphone.', { ...share, atLeast: 0.6 })).toBe(0);
    expect(await about('Most bands have a microphone.', { ...share, atLeast: 0.4 })).toBe(1);
    expect(await about('Every band has a microphone.', { ...share, atLeast: 1 })).toBe(0);
    expect(await about('Every band has a microphone.', { ...share, atLeast: 0.9 })).toBe(1);
    const count = { count: { category: 'Microphone' }, atMost: 0 };
    expect(await about('The first band with a microphone.', { ...count, where: { to: '2016-04' } })).toBe(0);
    expect(await about('The first band with a microphone.', count)).toBe(1);
  });

  test('what was compared with nothing is said', async () => {
    const { notChecked } = await audit({
      sentence: 'It holds a microphone and a diesel engine since 1999.',
      supportedBy: [on('MK1')],
    });
    expect(notChecked).toEqual([
      '“holds”, “diesel engine”: not in what supports it',
      'the year 1999: no device under it was released or opened then',
    ]);
  });
});
