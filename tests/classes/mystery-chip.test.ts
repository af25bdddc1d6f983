import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { catalogueSchema } from '../../src/model/catalogue.ts';
import { type Dossier, dossierSchema } from '../../src/model/dossier.ts';
import { Names } from '../../src/state/names.ts';
import { openSpecimen } from '../../src/state/specimen.ts';
import { UnnamedKinds } from '../../src/state/unnamed/unnamed-kinds.ts';
import { archiveOf, type Served, serve } from '../service/serving.ts';

// The case that an editor meets in every device: no marking, no package, traces to a pressure sensor, the side button and the
// charger. An engineer says: a processor or sensor hub, or power management with a button input, and it has to do with reading
// that sensor (common practice, no source). Invented devices.

const CATALOGUE = {
  caseback: 'catalogue/1',
  makers: [{ id: 'tarn', name: 'Tarn', makes: ['devices'], invented: true }],
} as const;

function dossier(more: object = {}): Dossier {
  return dossierSchema.parse({
    caseback: 'dossier/1',
    device: {
      id: 'tarn-riddle',
      name: 'Tarn Riddle',
      maker: 'tarn',
      released: '2021',
      bodySite: 'wrist',
      invented: true,
    },
    specimen: { id: 'a' },
    teardown: { on: '2026-01', by: 'bench' },
    boards: [{ id: 'main', kind: 'rigid', outline: { length: 30, width: 20 } }],
    components: [
      { id: 'U7', board: 'main', appears: 'IntegratedCircuit' },
      { id: 'U4', board: 'main', appears: 'PressureSensor' },
      { id: 'S1', board: 'main', appears: 'Button' },
      { id: 'U2', board: 'main', appears: 'IntegratedCircuit' },
    ],
    connections: [
      { between: ['U7', 'U4'], medium: 'trace', bus: 'I2C' },
      { between: ['U7', 'S1'], medium: 'trace' },
      { between: ['U7', 'U2'], medium: 'trace', bus: 'I2C' },
    ],
    identifications: [{ component: 'U2', candidates: [{ category: 'Charger', probability: 0.9 }] }],
    ...more,
  });
}

let desk: Served;
beforeAll(async () => {
  desk = await serve({ audience: 'desk' }, await archiveOf([catalogueSchema.parse(CATALOGUE), dossier()]));
});
afterAll(() => desk.close());

const QUESTION = `{
  candidates(component: "tarn-riddle/a/U7") {
    kinds { term probability prior evidence { kind description decibans } }
    classes { name probability kinds { term probability } }
    roles { does to component { id } probability classes }
    sentence
    whatWouldSettleIt { action tells bits minutes bitsPerMinute isDestructive cautions }
  }
}`;

describe('the mystery chip', () => {
  test('is a processor first, power management among three, and reads the sensor', async () => {
    const { classes, roles, sentence } = (await desk.ask(QUESTION)).candidates;
    const names = classes.map(({ name }: { name: string }) => name);
    expect(names[0]).toBe('processor');
    expect(names.slice(0, 3)).toContain('power management');
    expect(classes[0].probability).toBeGreaterThan(0.5);
    expect(classes[0].kinds.map(({ term }: { term: string }) => term)).toContain('SensorHub');
    const reads = roles.find(({ does }: { does: string }) => does === 'reads');
    expect([reads.to, reads.component.id, reads.classes[0]]).toEqual([
      'the pressure sensor U4',
      'tarn-riddle/a/U4',
      'processor',
    ]);
    expect(sentence).toMatch(
      /^probably reads the pressure sensor U4, .*watches the button S1: .*microcontroller.*, 0\.\d\d/u,
    );
  });

  test('classes are sums of kinds, and roles of the classes that do them, each times its neighbour', async () => {
    const { classes, roles, kinds } = (await desk.ask(QUESTION)).candidates;
    for (const one of classes) {
      const sum = one.kinds.reduce((all: number, kind: { probability: number }) => all + kind.probability, 0);
      expect(one.probability).toBeCloseTo(sum, 9);
    }
    const total = kinds.reduce((sum: number, one: { probability: number }) => sum + one.probability, 0);
    expect(total).toBeLessThanOrEqual(0.9405);
    for (const role of roles) {
      const of = classes
        .filter(({ name }: { name: string }) => role.classes.includes(name))
        .reduce((sum: number, one: { probability: number }) => sum + one.probability, 0);
      expect(role.probability).toBeLessThanOrEqual(of + 1e-9);
      if (role.component?.id === 'tarn-riddle/a/U4') expect(role.probability).toBeCloseTo(of, 2);
    }
  });

  test('steps at the bench say what they would tell, with cautions', async () => {
    const { whatWouldSettleIt: steps } = (await desk.ask(QUESTION)).candidates;
    expect(steps.length).toBeGreaterThan(2);
    for (const { bits, minutes, bitsPerMinute, cautions } of steps) {
      expect(bits).toBeGreaterThan(0);
      expect(bitsPerMinute).toBeCloseTo(bits / minutes, 9);
      expect(cautions.length).toBeGreaterThan(0);
    }
    const trace = steps.find(({ action }: { action: string }) => /trace/u.test(action));
    // A crystal speaks for a processor or radio of its own, common practice.
    expect(trace.tells).toMatch(/: radio|: processor/u);
  });

  test('presence says the same number', async () => {
    const { candidates } = await desk.ask(QUESTION);
    const { device } = await desk.ask(
      '{ device(id: "tarn-riddle") { presence(of: { category: "Processor" }) { probability } } }',
    );
    const processor = candidates.classes.find(({ name }: { name: string }) => name === 'processor');
    expect(device.presence.probability).toBeCloseTo(processor.probability, 6);
  });
});

const unnamed = UnnamedKinds.learn([], new Names());
function nameOf(one: Dossier, name: string): number {
  const odds = openSpecimen(one, () => undefined, unnamed).oddsOf('U7', unnamed);
  return (odds?.classes ?? []).reduce(
    (sum, { row, probability }) => (row?.is === name ? sum + probability : sum),
    0,
  );
}

describe('neighbours count by their own odds', () => {
  const motor = (probability: number) =>
    dossier({
      components: [...dossier().components, { id: 'Z1', board: 'main' }],
      connections: [{ between: ['U7', 'Z1'], medium: 'trace' }],
      identifications: [
        {
          component: 'Z1',
          candidates: [
            { category: 'HapticActuator', probability },
            ...(probability < 1 ? [{ category: 'Resistor', probability: 1 - probability }] : []),
          ],
        },
      ],
    });

  test('a haptic motor at 0.3, 0.6 and 1 says more each time, long before it is certain', () => {
    const [little, more, all] = [0.3, 0.6, 1].map((p) => nameOf(motor(p), 'haptic driver'));
    expect(little).toBeLessThan(more);
    expect(more).toBeLessThan(all);
  });

  test('a button counts by its looks, and by its letters where nobody has said what it is', () => {
    const looks = nameOf(dossier({ connections: [{ between: ['U7', 'S1'], medium: 'trace' }] }), 'processor');
    const { components } = dossier();
    const lettered = nameOf(
      dossier({
        components: components.map((one) => (one.id === 'S1' ? { id: 'SW1', board: 'main' } : one)),
        connections: [{ between: ['U7', 'SW1'], medium: 'trace' }],
      }),
      'processor',
    );
    const alone = nameOf(dossier({ connections: [] }), 'processor');
    expect(looks).toBeGreaterThan(2 * alone);
    expect(lettered).toBeGreaterThan(1.5 * alone);
    expect(lettered).toBeLessThan(looks);
  });

  test('whoever leads the sensor already takes the news away', () => {
    const led = dossier({
      components: [...dossier().components, { id: 'U9', board: 'main', appears: 'Microcontroller' }],
      connections: [
        { between: ['U7', 'U4'], medium: 'trace', bus: 'I2C' },
        { between: ['U9', 'U4'], medium: 'trace', bus: 'I2C' },
      ],
    });
    const alone = dossier({ connections: [{ between: ['U7', 'U4'], medium: 'trace', bus: 'I2C' }] });
    expect(nameOf(led, 'processor')).toBeLessThan(0.6 * nameOf(alone, 'processor'));
  });

  test('neither the order of components nor that of connections changes anything', () => {
    const one = dossier();
    const turned = {
      ...one,
      components: one.components.toReversed(),
      connections: one.connections.toReversed(),
    };
    expect(nameOf(turned, 'processor')).toBe(nameOf(one, 'processor'));
  });
});
