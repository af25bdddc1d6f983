import { afterAll, beforeAll, expect, test } from 'vitest';
import { cautionsFor } from '../../src/model/cautions.ts';
import { demoArchive } from '../trends/demo.ts';
import { CATALOGUE, dossier } from './invented.ts';
import { archiveOf, type Served, serve } from './serving.ts';

const STANDING = cautionsFor(['lithium-cell', 'blade', 'heat', 'solvent']);

interface Step {
  readonly isDestructive: boolean;
  readonly cautions: readonly string[];
}

let bare: Served;
let demo: Served;
beforeAll(async () => {
  const more = {
    teardown: {
      on: '2024-01-05',
      by: 'I. Example',
      steps: [{ do: 'Cut.', destructive: true }, { do: 'Look.' }],
    },
  };
  const named = { ...CATALOGUE, publications: [] };
  bare = await serve(
    {},
    await archiveOf([named, dossier({ id: 'bare', name: 'Bare', released: '2020', more })]),
  );
  demo = await serve({}, await demoArchive());
});
afterAll(async () => {
  await bare.close();
  await demo.close();
});

test('a teardown and a destructive step that name no hazard show the standing cautions all the same', async () => {
  const { specimen } = await bare.ask(
    '{ specimen(id: "bare/a") { teardown { cautions steps { cautions } } } }',
  );
  expect(specimen.teardown.cautions).toEqual(STANDING);
  expect(specimen.teardown.steps.map(({ cautions }: Step) => cautions)).toEqual([STANDING, []]);
});

test('so do all teardowns and all destructive steps of the demo archive', async () => {
  const { devices } = await demo.ask(
    '{ devices(first: 200) { nodes { specimens { teardown { cautions steps { isDestructive cautions } } } } } }',
  );
  const teardowns: { cautions: string[]; steps: Step[] }[] = devices.nodes.flatMap(
    ({ specimens }: { specimens: { teardown: never }[] }) => specimens.map(({ teardown }) => teardown),
  );
  expect(teardowns.length).toBeGreaterThan(40);
  for (const { cautions, steps } of teardowns) {
    expect(cautions).toEqual(expect.arrayContaining([...STANDING]));
    for (const step of steps)
      if (step.isDestructive) expect(step.cautions).toEqual(expect.arrayContaining([...STANDING]));
  }
});

test('and every destructive next observation', async () => {
  const { nextObservations } = await demo.ask(
    '{ nextObservations(of: "tarn-sennit-3", first: 200) { isDestructive cautions } }',
  );
  const destructive: Step[] = nextObservations.filter((one: Step) => one.isDestructive);
  expect(destructive.length).toBeGreaterThan(0);
  for (const { cautions } of destructive) expect(cautions).toEqual(expect.arrayContaining([...STANDING]));
});
