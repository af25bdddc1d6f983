import { beforeAll, describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import { Archive } from '../../src/archive.ts';
import { blockDiagram } from '../../src/drawings/diagram/diagram.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { State } from '../../src/state/state.ts';
import { generateBoardCatalogue, generateBoards } from '../bench/generate-boards.ts';
import { referenceDocuments } from '../reference-boards.ts';
import { documents } from '../seed/seed.ts';
import { archiveOf, BY, documentOf } from '../service/serving.ts';
import { demoArchive } from '../trends/demo.ts';
import { faultsIn } from './diagram-geometry.ts';
import { elementsOf, lettersOf } from './read-svg.ts';

const GENERATED = [
  { components: 30, seed: 1 },
  { components: 60, seed: 2 },
  { components: 120, seed: 3 },
  { components: 260, seed: 4 },
];

let archive: Archive;
let view: State;
beforeAll(async () => {
  archive = await demoArchive();
  await archive.importDocuments(referenceDocuments(), BY);
  await archive.importDocuments(
    [generateBoardCatalogue(), ...GENERATED.map((one) => generateBoards(one))].map(documentOf),
    BY,
  );
  view = archive.state('desk');
});

describe('geometry of the finished SVG, and nets against what exports say', () => {
  test.each([
    'tarn-sennit-3/a',
    'mirrelk-coif-2/a',
    'dunmarrow-leadline-5/a',
    'sallowby-escutcheon/a',
    'pellforth-conch-4/a',
    'reference-optical-pulse-unit/a',
    'reference-wrist-band/a',
    'reference-wrist-three-boards/a',
    ...GENERATED.map(({ components, seed }) => `bench-${components}-${seed}/a`),
  ])('%s', async (id) => {
    const { svg } = await blockDiagram(view, id);
    expect(faultsIn(view, id, svg)).toEqual([]);
    expect((await validateXML({ xml: svg, normalization: 'c14n' })).errors).toEqual([]);
    const small = elementsOf(svg).filter(
      ({ name, attributes }) => name === 'text' && (Number(attributes['font-size']) / 25.4) * 72 < 6,
    );
    expect(small).toEqual([]);
  });

  test('with passives as boxes', async () => {
    const { svg, description } = await blockDiagram(view, 'reference-wrist-band/a', { passives: true });
    expect(faultsIn(view, 'reference-wrist-band/a', svg)).toEqual([]);
    expect(description).toContain('Not drawn: 2 mounting holes.');
  });
});

test('of one board alone, what lies elsewhere is counted', async () => {
  const specimen = view.specimen('tarn-sennit-3/a');
  const { svg, description, title } = await blockDiagram(view, 'tarn-sennit-3/a/sense');
  expect(faultsIn(view, 'tarn-sennit-3/a', svg)).toEqual([]);
  const other = specimen?.fitted.filter(({ board }) => board !== 'sense').length;
  expect(title).toContain('Sensor flex');
  expect(description).toContain(`Not on this board, and not drawn: ${other} components.`);
  const shown = elementsOf(svg).flatMap(
    ({ attributes }) => specimen?.components.get(attributes['data-of']) ?? [],
  );
  expect(new Set(shown.map(({ board }) => board))).toEqual(new Set(['sense']));
  // The sheet is that of an A4 page: one board fits where the whole specimen does not.
  expect(svg).toContain('width="170mm"');
});

test('what is not drawn is counted by kind, as the specimen has it', async () => {
  const { description, svg } = await blockDiagram(view, 'mirrelk-coif-2/a');
  const specimen = view.specimen('mirrelk-coif-2/a');
  const of = (term: string) =>
    specimen?.fitted.filter(({ id }) => (specimen.named.get(id)?.get(term) ?? 0) >= 0.5).length;
  expect(description).toContain(`${of('Capacitor')} capacitors, ${of('Resistor')} resistors`);
  const drawn = elementsOf(svg).filter(({ attributes }) => specimen?.components.has(attributes['data-of']));
  const ids = new Set(drawn.map(({ attributes }) => attributes['data-of']));
  const left = [.../(\d+) [a-z]/gu[Symbol.matchAll](/Not drawn: ([^.]+)\./u.exec(description)?.[1] ?? '')];
  expect(ids.size + left.reduce((sum, [, count]) => sum + Number(count), 0)).toBe(specimen?.fitted.length);
});

test('the same records in another order give the same bytes', async () => {
  const shuffled = await Archive.open(new MemoryJournal());
  const turned = documents.map((one) => {
    if (one.kind !== 'dossier') return one;
    const { dossier } = one;
    const { components, connections, nets, subsystems, boards, identifications, observations } = dossier;
    return {
      ...one,
      dossier: {
        ...dossier,
        components: components.toReversed(),
        connections: connections.toReversed(),
        subsystems: subsystems.toReversed(),
        boards: boards.toReversed(),
        identifications: identifications.toReversed(),
        observations: observations.toReversed(),
        ...(nets ? { nets: nets.toReversed() } : {}),
      },
    };
  });
  await shuffled.importDocuments(turned, BY);
  for (const id of ['mirrelk-coif-2/a', 'tarn-sennit-3/a']) {
    const [one, other] = [await blockDiagram(view, id), await blockDiagram(shuffled.state('desk'), id)];
    expect(other.description).toBe(one.description);
    expect(other.svg).toBe(one.svg);
  }
});

test('recorded lines are solid, concluded ones dashed and named by what they pass', async () => {
  const { svg } = await blockDiagram(view, 'mirrelk-coif-2/a');
  const lines = elementsOf(svg).filter(
    ({ name, attributes }) => name === 'path' && attributes['data-of'] && !attributes.d.endsWith('Z'),
  );
  const dashed = lines.filter(({ attributes }) => attributes['stroke-dasharray']);
  // The dossier has no net with both U1 and E1; it has one from U1 to the balun FL1, and one from L2 to the antenna.
  expect(dashed.map(({ attributes }) => attributes['data-of'])).toEqual(['U1~E1']);
  expect(lettersOf(svg).map(({ text }) => text)).toContain('via FL1, L2');
  const nets = new Set(view.specimen('mirrelk-coif-2/a')?.nets.map(({ id }) => id));
  for (const { attributes } of lines)
    if (!attributes['stroke-dasharray'])
      expect(attributes['data-of'].split(' ').every((id) => nets.has(id))).toBe(true);
});

test('what is picked is lit, a passive of it drawn', async () => {
  const { svg, description } = await blockDiagram(view, 'mirrelk-coif-2/a', {
    lit: ['mirrelk-coif-2/a/FL1', 'mirrelk-coif-2/a/v18'],
  });
  expect(faultsIn(view, 'mirrelk-coif-2/a', svg)).toEqual([]);
  expect(description).toContain('Picked: FL1. Picked nets: V18.');
  const colours = new Set(
    elementsOf(svg).flatMap(({ attributes }) =>
      attributes['data-of'] === 'v18' && attributes.stroke ? [attributes.stroke] : [],
    ),
  );
  expect([...colours]).toEqual(['#D55E00']);
});

test('refusals name what is wrong', async () => {
  const refused = (code: string, message: RegExp) => ({ code, message: expect.stringMatching(message) });
  await expect(blockDiagram(view, 'tarn-sennit-3/z')).rejects.toMatchObject(
    refused('NOT_FOUND', /tarn-sennit-3/u),
  );
  await expect(blockDiagram(view, 'tarn-sennit-3/a', { lit: ['mirrelk-coif-2/a/U1'] })).rejects.toMatchObject(
    refused('BAD_INPUT', /not in tarn-sennit-3\/a/u),
  );
  await expect(blockDiagram(view, 'tarn-sennit-3/a', { width: 20 })).rejects.toMatchObject(
    refused('BAD_INPUT', /80 to 420/u),
  );
  const large = await archiveOf([
    generateBoardCatalogue(),
    generateBoards({ components: 1_000, seed: 1, id: 'large' }),
  ]);
  await expect(blockDiagram(large.state('desk'), 'large/a', { passives: true })).rejects.toMatchObject(
    refused('OUT_OF_BUDGET', /at most 300 and 900.*Leave passives out/u),
  );
});

describe('labels that read as they are meant', () => {
  // Circuits as common practice has them, no source; all invented.
  const drawn = async (components: readonly object[], nets: readonly object[]) => {
    const small = await archiveOf([
      {
        caseback: 'catalogue/1',
        makers: [
          { id: 'band-maker', name: 'Band Maker', makes: ['devices'] },
          { id: 'part-maker', name: 'Part Maker', makes: ['parts'] },
        ],
        devices: [{ id: 'clip', name: 'Clip', maker: 'band-maker', released: '2024', bodySite: 'wrist' }],
        parts: [
          {
            maker: 'part-maker',
            number: 'QX1',
            categories: ['Microcontroller', 'BluetoothRadio', 'PowerManagement'],
          },
        ],
      },
      {
        caseback: 'dossier/1',
        device: 'clip',
        specimen: { id: 'a' },
        teardown: { on: '2024', by: 'A' },
        components,
        nets: nets.map((net, at) => ({ id: `n${at}`, kind: 'signal', complete: true, ...net })),
        identifications: [{ component: 'U1', candidates: [{ part: 'part-maker/QX1', probability: 0.98 }] }],
      },
    ]);
    return (await blockDiagram(small.state('desk'), 'clip/a')).description;
  };
  const U2 = { id: 'U2', appears: 'Accelerometer' };

  test('a chip of several functions has them all in its box', async () => {
    expect(await drawn([{ id: 'U1' }, U2], [{ pins: ['U1.1', 'U2.1'] }])).toMatch(
      /U1 microcontroller, bluetooth radio, power management/iu,
    );
  });

  test('a bus beside other lines says how many are its own', async () => {
    const others = [2, 3, 4, 5].map((pin) => ({ label: `N${pin}`, pins: [`U1.${pin}`, `U2.${pin}`] }));
    const bus = { bus: 'GPIO', pins: ['U1.1', 'U2.1'] };
    expect(await drawn([{ id: 'U1' }, U2], [bus, ...others])).toContain(
      'U1 with U2 (GPIO, 1 line, 4 other lines)',
    );
    expect(await drawn([{ id: 'U1' }, U2], [bus])).toContain('U1 with U2 (GPIO)');
    expect(await drawn([{ id: 'U1' }, U2], [bus, others[0]])).toContain('U1 with U2 (GPIO, 1 line, N2)');
    expect(await drawn([{ id: 'U1' }, U2], others)).toContain('U1 with U2 (4 lines)');
  });

  test('a surge protector hangs on a supply and draws nothing from it', async () => {
    const words = await drawn(
      [{ id: 'U1' }, { id: 'J1', appears: 'CableConnector' }, { id: 'D4', appears: 'SurgeProtector' }],
      [
        { kind: 'power', label: 'VBUS', voltage: '5 V', pins: ['J1.1', 'D4.1'] },
        { kind: 'ground', pins: ['J1.2', 'D4.2', 'U1.1'] },
      ],
    );
    expect(words).toContain('J1 with D4 (VBUS, 5 V)');
    expect(words).not.toContain('J1 to D4');
    const rail = await drawn(
      [{ id: 'U1' }, { id: 'J1', appears: 'CableConnector' }, { id: 'D4', appears: 'SurgeProtector' }],
      [
        { kind: 'power', label: 'VBUS', voltage: '5 V', pins: ['J1.1', 'D4.1', 'U1.2'] },
        { kind: 'ground', pins: ['J1.2', 'D4.2', 'U1.1'] },
      ],
    );
    expect(rail).toContain('J1 to VBUS, 5 V');
    expect(rail).toContain('VBUS, 5 V with D4');
  });
});
