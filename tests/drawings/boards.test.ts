import { beforeAll, describe, expect, test } from 'vitest';
import { validateXML } from 'xmllint-wasm';
import type { Archive } from '../../src/archive.ts';
import { pngOf } from '../../src/charts/render.ts';
import { boardDrawing } from '../../src/drawings/boards.ts';
import { matchDrawings } from '../../src/drawings/match.ts';
import { sideBySide } from '../../src/drawings/side-by-side.ts';
import { escaped } from '../../src/drawings/svg.ts';
import type { State } from '../../src/state/state.ts';
import { generateBoardCatalogue, generateBoards } from '../bench/generate-boards.ts';
import { referenceBoard, referenceDocuments } from '../reference-boards.ts';
import { archiveOf, BY } from '../service/serving.ts';
import { demoArchive } from '../trends/demo.ts';
import { cornersOf, elementsOf, lettersOf, middleOf, overlapOf, pointsOf, type Xy } from './read-svg.ts';

let archive: Archive;
let view: State;
beforeAll(async () => {
  archive = await demoArchive();
  await archive.importDocuments(referenceDocuments(), BY);
  view = archive.state('desk');
});

const SENSE = 'reference-wrist-three-boards/a/sense';

/** Scale as the drawing says it, from its scale bar: mm of the sheet for one of the board. */
function scaleOf(svg: string): number {
  const [[left], [right]] = cornersOf(svg, 'scale-bar');
  const mm = elementsOf(svg).find(({ name, text }) => name === 'text' && /^[\d.]+ mm$/u.test(text));
  return (right - left) / Number(mm?.text.replace(' mm', ''));
}

describe('geometry of a real board, against its file', () => {
  const parts = () =>
    referenceBoard('wrist-three-boards').components.filter(({ board }) => board === 'sense');
  test.each(['top', 'bottom'] as const)('%s: middles, turned corners, mirrored side', (side) => {
    const { svg } = boardDrawing(view, SENSE, { side });
    const scale = scaleOf(svg);
    const here = parts().filter((one) => one.side === side);
    expect(here.length).toBeGreaterThan(20);
    const drawn = here.map((one) => {
      const ids = [one.designator, `sense:${one.designator}`];
      return { one, corners: ids.map((id) => cornersOf(svg, id)).find((all) => all.length > 0) ?? [] };
    });
    const [first] = drawn;
    const origin = middleOf(first.corners);
    for (const { one, corners } of drawn) {
      expect(corners, one.designator).toHaveLength(4);
      // The sheet has y downwards; the other side is turned over its longer edge (here along x), which turns y again.
      const up = side === 'top' ? -1 : 1;
      const [x, y] = middleOf(corners);
      expect(x - origin[0]).toBeCloseTo(scale * (one.at[0] - first.one.at[0]), 2);
      expect(y - origin[1]).toBeCloseTo(up * scale * (one.at[1] - first.one.at[1]), 2);
      // Corners as complex numbers, turned as the file counts: counter-clockwise as seen from the top.
      const turn = (one.rotation * Math.PI) / 180;
      const expected = [1, -1].flatMap((sx) =>
        [1, -1].map((sy): Xy => {
          const [a, b] = [(sx * one.body[0]) / 2, (sy * one.body[1]) / 2];
          return [
            x + scale * (a * Math.cos(turn) - b * Math.sin(turn)),
            y + up * scale * (a * Math.sin(turn) + b * Math.cos(turn)),
          ];
        }),
      );
      for (const [ex, ey] of expected)
        expect(Math.min(...corners.map(([cx, cy]) => Math.hypot(cx - ex, cy - ey)))).toBeLessThan(0.01);
    }
  });

  test('the sheet is as large as it says, and everything lies on it', () => {
    const { svg } = boardDrawing(view, SENSE);
    const [{ attributes }] = elementsOf(svg);
    expect(attributes.viewBox).toBe(
      `0 0 ${attributes.width.replace('mm', '')} ${attributes.height.replace('mm', '')}`,
    );
    expect(attributes.width).toBe('170mm');
    const spots = elementsOf(svg).flatMap((one) => pointsOf(one.attributes.d ?? ''));
    for (const [x, y] of spots) {
      expect(x >= 0 && x <= 170).toBe(true);
      expect(y >= 0 && y <= Number(attributes.height.replace('mm', ''))).toBe(true);
    }
  });
});

describe('labels', () => {
  const cases = [
    ['dunmarrow-leadline-1/a/main', []],
    ['tarn-sennit-3/a/main', ['tarn-sennit-3/a/U1']],
    [SENSE, ['n125', 'n130'].map((net) => `reference-wrist-three-boards/a/${net}`)],
    ['reference-optical-pulse-unit/a/main', ['reference-optical-pulse-unit/a/n31']],
  ] as const;
  test.each(cases)(
    'of %s: no two overlap, none is under 6 points, none lies on a line of another net',
    (id, lit) => {
      const { svg } = boardDrawing(view, id, { lit });
      const letters = lettersOf(svg);
      expect(letters.length).toBeGreaterThan(10);
      letters.forEach((one, i) => {
        for (const other of letters.slice(i + 1))
          expect(overlapOf(one, other), `${one.text} and ${other.text}`).toBeLessThan(0.01);
      });
      for (const { name, attributes } of elementsOf(svg))
        if (name === 'text') expect((Number(attributes['font-size']) / 25.4) * 72).toBeGreaterThanOrEqual(6);
      const nets = new Set(lit.map((one) => one.slice(one.lastIndexOf('/') + 1)));
      const lines = elementsOf(svg).filter(
        ({ attributes }) => nets.has(attributes['data-of']) && attributes.d,
      );
      for (const { attributes } of lines) {
        const [[x1, y1], [x2, y2]] = pointsOf(attributes.d);
        for (let i = 0; i <= 200; i++) {
          const [x, y] = [x1 + ((x2 - x1) * i) / 200, y1 + ((y2 - y1) * i) / 200];
          const under = letters.find(
            (one) =>
              one.of !== attributes['data-of'] &&
              x > one.left &&
              x < one.right &&
              y > one.top &&
              y < one.bottom,
          );
          expect(under?.text, `on a line of ${attributes['data-of']}`).toBeUndefined();
        }
      }
    },
  );

  test('every component of a board has its designator on the drawing or in the list of those without room', () => {
    const { svg, description } = boardDrawing(view, SENSE, { side: 'top' });
    const written = lettersOf(svg).map(({ text }) => text);
    const missing = referenceBoard('wrist-three-boards').components.filter(
      ({ board, side, designator }) => board === 'sense' && side === 'top' && !written.includes(designator),
    );
    const listed = /No room for the designators of ([^.]+)\./u.exec(description)?.[1].split(', ') ?? [];
    const named = listed.flatMap((item) => {
      const [, letters, from, to] = /^(\D+)(\d+) to \D+(\d+)$/u.exec(item) ?? [];
      if (letters === undefined) return [item];
      return Array.from({ length: Number(to) - Number(from) + 1 }, (_, i) => `${letters}${Number(from) + i}`);
    });
    expect(named.toSorted()).toEqual(missing.map(({ designator }) => designator).toSorted());
  });
});

test('a lit net is a minimum spanning tree of the middles of its components (Kruskal by hand)', () => {
  const specimen = view.specimen('reference-wrist-three-boards/a');
  const onBoard = (pin: string) => specimen?.components.get(pin.split('.')[0])?.board === 'sense';
  const net = specimen?.nets.find(({ kind, pins }) => kind === 'power' && pins.filter(onBoard).length > 20);
  const { svg } = boardDrawing(view, SENSE, {
    side: 'top',
    lit: [`reference-wrist-three-boards/a/${net?.id}`],
  });
  const own = elementsOf(svg).filter(({ attributes }) => attributes['data-of'] === net?.id);
  const lines = own.flatMap(({ attributes }) => (attributes.d ? [pointsOf(attributes.d)] : []));
  const discs = own.flatMap(({ name, attributes }) =>
    name === 'circle' && attributes.r === '0.5' ? [[Number(attributes.cx), Number(attributes.cy)] as Xy] : [],
  );
  expect(discs.length).toBeGreaterThan(10);
  const pairs = discs
    .flatMap((a, i) => discs.slice(0, i).map((b, j) => ({ i, j, way: Math.hypot(a[0] - b[0], a[1] - b[1]) })))
    .sort((a, b) => a.way - b.way);
  const group = discs.map((_, i) => i);
  let least = 0;
  for (const { i, j, way } of pairs) {
    const [from, to] = [group[i], group[j]];
    if (from === to) continue;
    least += way;
    for (const [k, one] of group.entries()) if (one === from) group[k] = to;
  }
  const drawn = lines.filter((points) => discs.some(([x]) => x === points[0][0]));
  const total = drawn.reduce((sum, [[x1, y1], [x2, y2]]) => sum + Math.hypot(x1 - x2, y1 - y2), 0);
  expect(drawn).toHaveLength(discs.length - 1);
  expect(total).toBeCloseTo(least, 1);
});

test('no label lies on the edge of a body that holds others, such as a can or a tray', () => {
  const { svg } = boardDrawing(view, 'dunmarrow-leadline-3/a/main', { side: 'top' });
  const edges = cornersOf(svg, 'MP1');
  expect(edges).toHaveLength(4);
  for (const { text, left, top, right, bottom } of lettersOf(svg))
    edges.forEach(([x1, y1], i) => {
      const [x2, y2] = edges[(i + 1) % 4];
      const isOn =
        Math.max(x1, x2) > left &&
        Math.min(x1, x2) < right &&
        Math.max(y1, y2) > top &&
        Math.min(y1, y2) < bottom;
      expect(isOn, `${text} on an edge of MP1`).toBe(false);
    });
});

test('of two lit nets on nearly the same line neither covers the other', () => {
  const specimen = view.specimen('reference-wrist-three-boards/a');
  const on = (pins: readonly string[]) =>
    new Set(
      pins.map((pin) => pin.split('.')[0]).filter((id) => specimen?.components.get(id)?.board === 'sense'),
    );
  const nets = (specimen?.nets ?? []).map(({ id, kind, pins }) => ({ id, kind, ends: on(pins) }));
  // Nets between the same two components: their shortest trees are one line.
  const pairs = nets.filter(({ kind, ends }) => kind === 'signal' && ends.size === 2);
  const groups = [...Map.groupBy(pairs, ({ ends }) => [...ends].sort().join()).values()].filter(
    (all) => all.length > 1,
  );
  expect(groups.length).toBeGreaterThan(0);
  for (const group of groups) {
    const ids = group.slice(0, 5).map(({ id }) => id);
    const { svg } = boardDrawing(view, SENSE, {
      lit: ids.map((id) => `reference-wrist-three-boards/a/${id}`),
    });
    const lines = elementsOf(svg).flatMap(({ name, attributes }) =>
      name === 'path' && ids.includes(attributes['data-of']) && attributes['stroke-width'] === '0.35'
        ? [{ of: attributes['data-of'], points: pointsOf(attributes.d) }]
        : [],
    );
    // A pen is 0.35 mm wide: nearer than that, one line covers the other.
    const samples = ({ points }: { readonly points: readonly Xy[] }) =>
      points
        .slice(1)
        .flatMap(([x2, y2], i) =>
          Array.from(
            { length: 21 },
            (_, k): Xy => [
              points[i][0] + ((x2 - points[i][0]) * k) / 20,
              points[i][1] + ((y2 - points[i][1]) * k) / 20,
            ],
          ),
        );
    for (const one of lines)
      for (const other of lines) {
        if (one.of >= other.of) continue;
        const near = samples(one).filter(([x, y]) =>
          samples(other).some(([px, py]) => Math.hypot(x - px, y - py) < 0.35),
        );
        expect(near.length / samples(one).length, `${one.of} and ${other.of}`).toBeLessThan(0.35);
      }
  }
});

describe('what it is made of', () => {
  test('the text alternative says the numbers of the drawing', () => {
    const { svg, description, title } = boardDrawing(view, 'tarn-sennit-3/a/main', { side: 'top' });
    expect(svg).toContain(`<title`);
    expect(elementsOf(svg).find(({ name }) => name === 'title')?.text).toBe(title);
    expect(elementsOf(svg).find(({ name }) => name === 'desc')?.text).toBe(description);
    const [{ attributes }] = elementsOf(svg);
    expect(attributes.role).toBe('img');
    const ids = elementsOf(svg).flatMap((one) => one.attributes.id ?? []);
    for (const id of attributes['aria-labelledby'].split(' ')) expect(ids).toContain(id);
    const components = view.specimen('tarn-sennit-3/a')?.components;
    const shown = new Set(
      elementsOf(svg).flatMap((one) =>
        one.name === 'path' && components?.has(one.attributes['data-of']) ? [one.attributes['data-of']] : [],
      ),
    );
    expect(description).toContain(`${shown.size} components drawn`);
    expect(description).toContain('30 mm by 15.5 mm');
    expect(svg).toContain('Demo data: invented, no such device exists.');
    expect(svg).toContain('Shimmark Quarterly (CC-BY-4.0)');
  });

  test('certain outlines are solid, unknown ones dotted', () => {
    const { svg } = boardDrawing(view, 'dunmarrow-leadline-1/a/main');
    const all = elementsOf(svg);
    // The hatched twin that follows the path of a body has its outline.
    const dashesOf = (id: string) =>
      all[all.findIndex(({ attributes }) => attributes['data-of'] === id && attributes.d?.includes('Z')) + 1]
        .attributes['stroke-dasharray'];
    // U10 has no identification, U1 a settled one.
    expect(dashesOf('U1')).toBeUndefined();
    expect(dashesOf('U10')).toBe('0.01 0.55');
  });

  test.each(['dunmarrow-leadline-1/a/main', SENSE])(
    '%s is well-formed XML that runs and loads nothing',
    async (id) => {
      const { svg } = boardDrawing(view, id);
      const read = await validateXML({ xml: svg, normalization: 'c14n' });
      expect(read.errors).toEqual([]);
      expect(svg).not.toMatch(/<script|<style|<foreignObject|<image|<use|\son\w+=|href|@import|url\((?!#)/iu);
      expect(svg.match(/\bhttps?:[^"]*/gu)).toEqual(['http://www.w3.org/2000/svg']);
    },
  );

  test('equal records give equal bytes', async () => {
    const again = await demoArchive();
    const id = 'dunmarrow-leadline-1/a/main';
    expect(boardDrawing(again.state('reader'), id).svg).toBe(boardDrawing(view, id).svg);
  });

  test('as PNG it has the size that it says, in dots', async () => {
    const png = Buffer.from(await pngOf(boardDrawing(view, SENSE).svg, 150));
    // PNG (third edition) 11.2.1: width and height follow the name of the first chunk.
    expect(png.readUInt32BE(16)).toBe(Math.ceil((170 / 25.4) * 150));
    await expect(pngOf(boardDrawing(view, SENSE, { width: 420 }).svg, 600)).rejects.toMatchObject({
      code: 'OUT_OF_BUDGET',
    });
  });
});

const HOSTILE = `a]]>&amp;<script>alert(1)</script>"'${'W'.repeat(120)}`;

test('hostile names are text, and do not leave the sheet', async () => {
  const board = { id: 'main', kind: 'rigid', name: HOSTILE, outline: { length: 20, width: 10 } };
  const made = await archiveOf([
    { caseback: 'catalogue/1', makers: [{ id: 'tarn', name: 'Tarn', makes: ['devices'] }] },
    {
      caseback: 'dossier/1',
      device: {
        id: 'odd',
        name: HOSTILE,
        maker: 'tarn',
        released: '2020',
        bodySite: 'wrist',
        invented: true,
      },
      specimen: { id: 'a' },
      teardown: { on: '2021', by: HOSTILE },
      boards: [board],
      subsystems: [{ id: 'power', kind: 'power', name: HOSTILE }],
      components: [
        {
          id: 'U1',
          board: 'main',
          side: 'top',
          at: { x: 5, y: 5 },
          body: { length: 3, width: 2 },
          subsystem: 'power',
        },
        { id: 'C1', board: 'main', side: 'top', at: { x: 9, y: 5 } },
        { id: 'C2', board: 'main', side: 'top' },
      ],
      nets: [{ id: 'n1', label: HOSTILE, kind: 'signal', pins: ['U1', 'C1'] }],
    },
  ]);
  const state = made.state('desk');
  const { svg, description } = boardDrawing(state, 'odd/a/main', { lit: ['odd/a/n1'] });
  expect((await validateXML({ xml: svg, normalization: 'c14n' })).errors).toEqual([]);
  expect(svg).not.toContain('<script');
  // XML 1.0 section 2.2 has neither U+0001 nor U+FFFE, nor lone surrogates.
  expect(escaped('\u0001\ufffe\ud800<&')).toBe('\ufffd\ufffd\ufffd&lt;&amp;');
  for (const { text, right } of lettersOf(svg)) expect(right, text).toBeLessThanOrEqual(170);
  expect(description).toContain('Not drawn, no place recorded: C2.');
  expect(description).toContain('Size not recorded: C1.');
});

test('a board of 1,000 components is read in bounded size, with what has no label listed', async () => {
  const made = await archiveOf([
    generateBoardCatalogue(),
    generateBoards({ components: 1_000, seed: 1, id: 'large' }),
  ]);
  const state = made.state('desk');
  const boards = state.specimen('large/a')?.dossier.boards ?? [];
  for (const { id } of boards) {
    const { svg } = boardDrawing(state, `large/a/${id}`);
    expect(svg.length).toBeLessThan(1_000_000);
  }
});

test('refusals name what is wrong', () => {
  const refused = (code: string, message: RegExp) =>
    expect.objectContaining({ code, message: expect.stringMatching(message) });
  const catching = (work: () => unknown) => {
    try {
      return work();
    } catch (error) {
      return error;
    }
  };
  const id = 'tarn-sennit-3/a/main';
  expect(catching(() => boardDrawing(view, 'tarn-sennit-3/a/mian'))).toEqual(refused('NOT_FOUND', /main/u));
  expect(catching(() => boardDrawing(view, id, { width: 20 }))).toEqual(refused('BAD_INPUT', /80 to 420/u));
  expect(catching(() => boardDrawing(view, id, { lit: ['dunmarrow-leadline-1/a/U1'] }))).toEqual(
    refused('BAD_INPUT', /nothing of dunmarrow-leadline-1\/a\/U1 is on tarn-sennit-3\/a\/main/u),
  );
});

describe('several boards at one scale', () => {
  test('two devices: every board outline has the size that the scale bar gives it', () => {
    const boards = ['tarn-sennit-3/a', 'dunmarrow-leadline-1/a'].flatMap(
      (id) => view.specimen(id)?.dossier.boards ?? [],
    );
    const { svg } = sideBySide(view, ['tarn-sennit-3/a', 'dunmarrow-leadline-1']);
    const scale = scaleOf(svg);
    const sizes = elementsOf(svg)
      .filter(
        ({ name, attributes }) => name === 'path' && boards.some(({ id }) => id === attributes['data-of']),
      )
      .map(({ attributes }) => {
        const points = pointsOf(attributes.d);
        const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
        return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)].map(
          (one) => one / scale,
        );
      });
    const measured = boards.flatMap(({ outline }) =>
      outline && 'length' in outline ? [[outline.length, outline.width]] : [],
    );
    expect(measured.length).toBeGreaterThan(2);
    for (const [length, width] of measured)
      expect(sizes.some(([a, b]) => Math.abs(a - length) < 0.01 && Math.abs(b - width) < 0.01)).toBe(true);
  });

  test('a product line: a column a device, by release, and labels apart', () => {
    const { svg, title } = sideBySide(view, ['tarn-sennit']);
    const letters = lettersOf(svg);
    const devices = view.devices().filter(({ productLine }) => productLine === 'tarn-sennit');
    const years = letters.flatMap(({ text }) => /, (20\d\d)$/u.exec(text)?.[1] ?? []);
    expect(years.length).toBe(devices.length);
    expect(years).toEqual(years.toSorted());
    expect(title).toContain('Tarn Sennit');
    letters.forEach((one, i) => {
      for (const other of letters.slice(i + 1))
        expect(overlapOf(one, other), `${one.text} and ${other.text}`).toBeLessThan(0.01);
    });
  });
});

test('a match lights what it binds, on each board that it touches', () => {
  const [drawing, ...others] = matchDrawings(view, [
    { ids: ['tarn-sennit-3/a/U1'] },
    { ids: ['tarn-sennit-3/a/U2', 'tarn-sennit-3'] },
  ]);
  expect(others).toEqual([]);
  expect(drawing.description).toContain('Picked: U1, U2.');
  const bold = elementsOf(drawing.svg).filter(
    ({ name, attributes }) =>
      name === 'text' && attributes['font-weight'] === 'bold' && attributes['data-of'],
  );
  expect(bold.map(({ text }) => text).toSorted()).toEqual(['U1', 'U2']);
});
