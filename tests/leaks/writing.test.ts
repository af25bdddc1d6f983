import { expect, test } from 'vitest';
import { weightsOf } from '../../src/api-schema/cost.ts';
import { serviceSchema } from '../../src/service/graphql/schema.ts';
import { seededRandom } from '../bench/generate.ts';
import { testSeed } from '../random.ts';
import { archiveOf, HIDDEN_LATER, runStep } from './archives.ts';
import { Asked, difference, type Told } from './asking.ts';
import { type Case, casesOf, drawn } from './cases.ts';

// A reader who asks again and again while the desk writes: as long as what it writes is hidden, no byte of any answer changes.

const ALL = process.env.CASEBACK_LEAKS === 'all';
const ASKED = 30;

test('answers stay as they are while the desk writes what is hidden', async () => {
  const archive = await archiveOf('whole');
  const reader = new Asked(archive, 'reader');
  const desk = new Asked(archive, 'desk');
  const schema = serviceSchema();
  const random = seededRandom(testSeed());
  const cases = drawn(casesOf(schema, weightsOf(schema)), random).filter(({ cursor }) => !cursor);
  const share = ALL ? 1 : ASKED / cases.length;
  const isAsked = ({ place, kind }: Case) =>
    (kind === 'plain' && place.startsWith('Query.')) || random() < share;
  const questions = cases.filter(isAsked);
  expect(questions.length).toBeGreaterThan(ASKED);
  const answers = async (): Promise<readonly Told[]> => {
    const told: Told[] = [];
    for (const { query, variables } of questions) told.push(await reader.graphql(query, variables));
    told.push(await reader.request({ method: 'GET', url: '/' }));
    return told;
  };
  const before = await answers();
  for (const step of HIDDEN_LATER) {
    const version = archive.version;
    await runStep(step, archive);
    expect(archive.version).toBeGreaterThan(version);
    // The desk looks at what it has done, which brings what both audiences share in step.
    await desk.graphql(
      '{ decisions(device: "aa-later") { totalCount } candidates(component: "dev-1/a/U2") { none } }',
      {},
    );
    await desk.graphql(
      '{ findPattern(text: "MATCH (x:Sensor) RETURN x") { totalCount } structures { found } }',
      {},
    );
  }
  const after = await answers();
  const changed = questions.flatMap(({ place, argument, variables }, at) => {
    const differs = difference(before[at] as Told, after[at] as Told);
    return differs ? [`${place} ${argument ?? ''} ${JSON.stringify(variables)}: ${differs}`] : [];
  });
  expect(changed).toEqual([]);
  expect(difference(before.at(-1) as Told, after.at(-1) as Told)).toBeUndefined();
  await reader.close();
  await desk.close();
});
