import fc, { type Arbitrary } from 'fast-check';
import { partIdOf } from '../../src/model/catalogue.ts';
import { type Amendment, amendmentSchema } from '../../src/model/correction.ts';
import type { State } from '../../src/state/state.ts';

// Amendments of all four kinds over what an archive holds, some of which must be refused.

const CATEGORIES = [
  'Accelerometer',
  'Gyroscope',
  'AnalogueFrontEnd',
  'Photodiode',
  'Microcontroller',
] as const;

/**
 * @param specimens ids
 * @param others ids of parts that nothing holds yet
 * @param favoured ids of components and observations that are taken more often than the rest
 */
export function anyAmendment(
  view: State,
  specimens: readonly string[],
  others: readonly string[],
  favoured: readonly string[],
) {
  const opened = specimens.flatMap((id) => view.specimen(id) ?? []);
  const held = new Set(
    opened.flatMap(({ identified }) =>
      [...identified.values()].flatMap(({ candidates }) => candidates.flatMap(({ part }) => part ?? [])),
    ),
  );
  const parts = [...held, ...others].sort();
  const known = new Set(view.parts().map(partIdOf));
  const stray = parts.find((id) => !known.has(id));
  if (stray) throw new Error(`no part ${stray}`);
  const kinds = opened.flatMap(({ id, dossier }) => {
    const often = (ids: readonly string[]) => {
      const liked = ids.filter((local) => favoured.includes(`${id}/${local}`));
      const all = fc.constantFrom(...ids);
      return liked.length === 0 ? all : fc.oneof(all, fc.constantFrom(...liked), fc.constantFrom(...liked));
    };
    const component = often(dossier.components.map((one) => one.id));
    const observations = dossier.observations.map((one) => one.id);
    return [
      identify(id, component, observations, parts),
      withdraw(id, fc.oneof({ weight: 9, arbitrary: often(observations) }, fc.constant('nowhere'))),
      observe(id, component, observations),
      correctedComponent(id, component),
    ];
  });
  const devices = [...new Set(specimens.map((id) => id.split('/')[0]))];
  return fc
    .oneof(...kinds, ...kinds, correctedDevice(devices), correctedPart(parts))
    .map((written): Amendment => amendmentSchema.parse(written));
}

function identify(
  specimen: string,
  component: Arbitrary<string>,
  observations: readonly string[],
  parts: readonly string[],
) {
  const thing = fc.oneof(
    fc.constantFrom(...parts).map((part) => ({ part })),
    fc.constantFrom(...CATEGORIES).map((category) => ({ category })),
  );
  // Hundredths, so that two of them may add up to more than 1 and be refused.
  const candidate = fc
    .tuple(thing, fc.integer({ min: 0, max: 100 }))
    .map(([one, hundredths]) => ({ ...one, probability: hundredths / 100 }));
  return fc
    .record({
      component,
      candidates: fc.array(candidate, { minLength: 1, maxLength: 2 }),
      state: fc.constantFrom('proposed', 'favoured', 'settled', 'withdrawn'),
      basis: fc.subarray([...observations], { maxLength: 2 }),
    })
    .map((identification) => ({ identify: { specimen, ...identification } }));
}

function withdraw(specimen: string, observation: Arbitrary<string>) {
  return observation.map((id) => ({ withdraw: { observation: `${specimen}/${id}` } }));
}

function observe(specimen: string, component: Arbitrary<string>, observations: readonly string[]) {
  return fc
    .record({
      id: fc.constantFrom('later-1', 'later-2', observations[0]),
      about: component.map((one) => [one]),
      kind: fc.constantFrom('marking', 'appearance', 'probe'),
      text: fc.constant('seen again'),
      corrects: fc.option(fc.constantFrom(...observations), { nil: undefined }),
    })
    .map((observation) => ({ observe: { specimen, ...observation } }));
}

function correctedComponent(specimen: string, component: Arbitrary<string>) {
  const right = fc.oneof(
    value('pins', 8, 14, 0, null),
    value('appears', 'Connector', 'Resistor', 'Nothing', null),
    value('board', 'main', 'nowhere', null),
    value('at', { x: 3, y: 4 }, { x: 900, y: 900 }),
    value('body.length', 2.5, -1),
    value('marking', '4T10', null),
    value('id', 'U99'),
  );
  return fc.tuple(component, right).map(([id, one]) => ({ value: { of: `${specimen}/${id}`, ...one } }));
}

function correctedDevice(devices: readonly string[]) {
  const right = fc.oneof(
    value('released', '2015-02', '2021', '2031', 'soon'),
    value('bodySite', 'finger', 'wrist', 'nose'),
    value('mass', '21 g', '3 V', null),
    value('maker', 'nolvey', 'nobody'),
    value('productLine', null),
  );
  return fc.tuple(fc.constantFrom(...devices), right).map(([of, one]) => ({ value: { of, ...one } }));
}

function correctedPart(parts: readonly string[]) {
  const right = fc.oneof(
    value('categories', ['Accelerometer'], ['Microcontroller', 'BluetoothRadio'], ['PressureSensor'], []),
    value('parameters.activeCurrent', '12 uA', '12 V', null),
    value('pins', 14, 1.5),
    value('relabels', null, parts[0], parts.at(-1)),
    value('number', 'OTHER'),
  );
  return fc.tuple(fc.constantFrom(...parts), right).map(([of, one]) => ({ value: { of, ...one } }));
}

function value(field: string, ...values: readonly unknown[]) {
  return fc.constantFrom(...values).map((is) => ({ field, is }));
}
