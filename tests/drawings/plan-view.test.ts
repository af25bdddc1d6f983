import { beforeAll, expect, test } from 'vitest';
import type { Archive } from '../../src/archive.ts';
import { boardDrawing } from '../../src/drawings/boards.ts';
import { type PlanView, plainDrawing, planViews } from '../../src/drawings/plan-view.ts';
import type { Shape } from '../../src/drawings/shapes.ts';
import { createService } from '../../src/service/create-service.ts';
import type { State } from '../../src/state/state.ts';
import { referenceBoard, referenceDocuments } from '../reference-boards.ts';
import { BY } from '../service/serving.ts';
import { demoArchive } from '../trends/demo.ts';
import { cornersOf, elementsOf } from './read-svg.ts';

let archive: Archive;
let view: State;
beforeAll(async () => {
  archive = await demoArchive();
  await archive.importDocuments(referenceDocuments(), BY);
  view = archive.state('desk');
});

const SENSE = 'reference-wrist-three-boards/a/sense';

/** Corners of a body on a sheet. */
function bodyOf({ shapes }: PlanView, ...ids: readonly string[]) {
  const found = shapes.find(
    ({ kind, of }) => kind === 'area' && ids.some((id) => of === `reference-wrist-three-boards/a/${id}`),
  );
  return (found as Extract<Shape, { kind: 'area' }> | undefined)?.rings[0] ?? [];
}

// Against the file of a real board (tests/reference-boards.ts has its source): the middle of each body lies where the plan's own origin and axes
// put the place on record.
test('origin and axes of a view put places of the board where their bodies are drawn, on both sides', () => {
  const views = planViews(view, SENSE);
  expect(views.map(({ side }) => side)).toEqual(['top', 'bottom']);
  for (const plan of views) {
    const here = referenceBoard('wrist-three-boards').components.filter(
      ({ board, side }) => board === 'sense' && side === plan.side,
    );
    expect(here.length).toBeGreaterThan(20);
    for (const { designator, at } of here) {
      const corners = bodyOf(plan, designator, `sense:${designator}`);
      expect(corners, designator).toHaveLength(4);
      for (const axis of [0, 1] as const) {
        const middle = corners.reduce((sum, corner) => sum + corner[axis], 0) / 4;
        expect(middle).toBeCloseTo(plan.origin[axis] + plan.axes[axis] * at[axis], 6);
        expect(middle).toBeGreaterThan(0);
        expect(middle).toBeLessThan(axis === 0 ? plan.width : plan.height);
      }
    }
  }
  // Both at one scale; the bottom as if turned over the long edge, here along x.
  expect(views[0].axes[0]).toBe(views[1].axes[0]);
  expect(views[0].axes[1]).toBe(-views[1].axes[1]);
});

test('every hatch that a shape names is told, with its subsystem', () => {
  let hatched = 0;
  for (const { id } of view.specimenRows())
    for (const board of view.specimen(id)?.dossier.boards ?? []) {
      let plans: readonly PlanView[] = [];
      try {
        plans = planViews(view, `${id}/${board.id}`);
      } catch (error) {
        // Neither outline nor places on record.
        expect(error).toMatchObject({ code: 'BAD_INPUT' });
      }
      for (const { shapes, hatches } of plans) {
        const used = shapes.flatMap((shape) => ('fill' in shape ? (shape.fill?.hatch ?? []) : []));
        const told = hatches.map(({ number }) => number);
        expect(used.filter((one) => !told.includes(one))).toEqual([]);
        hatched += used.length;
      }
    }
  expect(hatched).toBeGreaterThan(50);
});

test('a plain drawing has the bodies of the fuller side and no letter', () => {
  const { svg, description } = plainDrawing(view, SENSE, { width: 80 });
  expect(svg).not.toMatch(/<text/u);
  expect(svg).toContain('width="80mm"');
  const fuller = planViews(view, SENSE).reduce((a, b) =>
    new Set(a.shapes.map(({ of }) => of)).size >= new Set(b.shapes.map(({ of }) => of)).size ? a : b,
  );
  const { svg: whole } = boardDrawing(view, SENSE, { side: fuller.side });
  const bodies = (text: string) => [
    ...new Set(elementsOf(text).flatMap(({ attributes }) => attributes['data-of'] ?? [])),
  ];
  const drawn = bodies(svg);
  expect(drawn.length).toBeGreaterThan(20);
  for (const one of drawn) expect(cornersOf(whole, one).length, one).toBeGreaterThan(0);
  expect(description).toContain(`${fuller.side} side`);
});

test('GraphQL, the address and the command line give the same', async () => {
  const app = createService({ archive, audience: 'desk' });
  const query = `{ node(id: "tarn-sennit-3/a/main") { ... on Board {
    planViews(side: TOP, lit: ["tarn-sennit-3/a/U1"]) { side width height origin { x y } axes { x y } shapes hatches { number } }
    drawing(plain: true, width: 80) { svg }
  } } }`;
  const { data, errors } = (await app.inject({ method: 'POST', url: '/graphql', payload: { query } })).json();
  expect(errors).toBeUndefined();
  const [plan] = planViews(view, 'tarn-sennit-3/a/main', { side: 'top', lit: ['tarn-sennit-3/a/U1'] });
  expect(data.node.planViews).toEqual([
    {
      side: 'TOP',
      width: plan.width,
      height: plan.height,
      origin: { x: plan.origin[0], y: plan.origin[1] },
      axes: { x: plan.axes[0], y: plan.axes[1] },
      shapes: JSON.parse(JSON.stringify(plan.shapes)),
      hatches: plan.hatches.map(({ number }) => ({ number })),
    },
  ]);
  expect(JSON.stringify(plan.shapes)).toContain('picked-0');
  const file = await app.inject('/drawings/board/tarn-sennit-3/a/main.svg?plain=true&width=80');
  expect(file.body).toBe(data.node.drawing.svg);
  await app.close();
});
