import {
  type GraphQLInputType,
  isEnumType,
  isInputObjectType,
  isListType,
  isNonNullType,
} from 'graphql/index.js';
import { EMBARGO_END, INSTANTS, RECALL } from './archives.ts';
import { HIDDEN_IDS, PATTERN_TEXTS, type Probe, SECRET, VISIBLE_IDS, WORDS } from './hidden.ts';

// What arguments are given. Ids, instants, truth values and closed sets are known by their types; what texts and numbers may be
// stands here by the place of the argument, `Type.field.argument` or `Input.field`, or by its name alone. An argument that has
// nothing here fails the test: whoever adds one says what to ask with it.

const of = (kind: string, ...values: readonly unknown[]): readonly Probe[] =>
  values.map((value) => ({ kind, value }));

/** What an argument is given where the question is about something else; those left out are not given. */
const PLAIN: Readonly<Record<string, unknown>> = {
  'Query.device.id': 'dev-1',
  'Query.specimen.id': 'dev-1/a',
  'Query.part.id': 'quistle/QWR4T10',
  'Query.maker.id': 'tarn',
  'Query.productLine.id': 'tarn-sennit',
  'Query.publication.id': 'letter-one',
  'Pack.changes.since': 'A'.repeat(64),
  'Query.source.id': 'note-1',
  'Query.pattern.id': 'sensor-on-the-bus',
  'Query.feed.id': 'gauges-by-year',
  'Query.listMapping.id': 'places-by-shop',
  'Query.decision.id': 'dev-1:sensor-on-the-bus',
  'Query.decisions.device': 'dev-1',
  'Query.node.id': 'dev-1/a/U2',
  'Query.search.text': 'dev',
  'Query.asOf.instant': INSTANTS['after the embargo ended'],
  'Query.history.id': 'dev-1',
  'Query.difference.from': INSTANTS['after the recall, before the embargo ended'],
  'Query.compareDevices.ids': ['dev-1', 'dev-2'],
  'Query.boardsSideBySide.ids': ['dev-1', 'dev-2'],
  'Board.drawing.photoStrength': 40,
  'Query.generations.productLine': 'tarn-sennit',
  'Query.candidates.component': 'dev-1/a/U2',
  'Query.nextObservations.of': 'dev-10/a',
  'Query.readMarking.text': '4T?0',
  'Query.readPhoto.of': 'dev-1/a/U2',
  'Query.impactOf.id': 'dev-1/a/o1',
  'Query.linkedData.id': 'dev-1/a/o1',
  'Query.whatIf.change': {
    identify: {
      component: 'dev-1/a/U2',
      candidates: [{ part: 'quistle/QWR2001', probability: 0.96 }],
      state: 'SETTLED',
    },
  },
  'Query.measure.photo': 'dev-1/a/p1',
  'Query.measure.places': [{ left: 40, top: 60 }],
  'Query.measure.lengths': [
    { from: { left: 20, top: 30 }, to: { left: 60, top: 30 }, is: 15 },
    { from: { left: 20, top: 30 }, to: { left: 20, top: 70 }, is: 10, within: 0.1 },
  ],
  'Query.measure.bodies': [
    {
      corners: [
        { left: 30, top: 50 },
        { left: 45, top: 50 },
        { left: 45, top: 70 },
        { left: 30, top: 70 },
      ],
    },
  ],
  'PictureSizeInput.widthPx': 640,
  'PictureSizeInput.heightPx': 480,
  'PhotoSpotInput.left': 40,
  'PhotoSpotInput.top': 60,
  'PhotoPointInput.at': { left: 40, top: 30 },
  'PhotoPointInput.x': 12,
  'PhotoPointInput.y': 5,
  'PhotoLengthInput.from': { left: 20, top: 30 },
  'PhotoLengthInput.to': { left: 60, top: 30 },
  'PhotoBoxInput.left': 30,
  'PhotoBoxInput.top': 50,
  'PhotoBoxInput.width': 12,
  'PhotoBoxInput.height': 18,
  'Query.calculate.check': 'averaging',
  'Query.calculate.inputs': [
    { name: 'count', quantity: { value: 2, unit: '1' } },
    { name: 'noise', quantity: { value: 0.002, unit: 'm/s2' } },
    { name: 'correlation', quantity: { value: 0, unit: '1' } },
  ],
  'Query.patternCheck.pattern': 'sensor-on-the-bus',
  'Query.patternCheck.device': 'dev-1',
  'Query.deviceChecks.device': 'dev-1',
  'Query.patternRows.text': 'MATCH (x:Sensor) RETURN x, x.designator ORDER BY x.specimen LIMIT 4',
  'Query.patternSql.text': 'MATCH (x:Sensor)~[:CONNECTS]~(p:Processor) RETURN x, p',
  'Query.explainPattern.text': 'MATCH (x:Sensor)~[:CONNECTS]~(p:Processor) RETURN x, p',
  'Query.findPattern.text': 'MATCH (x:PressureSensor)~[:CONNECTS]~(p:Processor) RETURN x, p',
  'Query.similarDevices.id': 'dev-1',
  'Query.circuitDistance.from': 'dev-1',
  'Query.circuitDistance.to': 'dev-2',
  'Query.trend.of': { share: { category: 'PressureSensor' } },
  'Query.trends.questions': [{ of: { share: { category: 'PressureSensor' } } }, { of: { count: 'Sensor' } }],
  'Device.presence.of': { category: 'Sensor' },
  'Specimen.presence.of': { category: 'Sensor' },
  'Quantity.in.unit': 'kg',
  'Query.structures.minSupport': 3,
  'ReidentificationInput.component': 'dev-1/a/U2',
  'ReidentificationInput.candidates': [{ category: 'Gyroscope', probability: 0.9 }],
  'CandidateInput.probability': 0.9,
  'FurtherObservationInput.specimen': 'dev-1/a',
  'FurtherObservationInput.observation': { id: 'x1', about: ['U2'], kind: 'MARKING', marking: '4T80' },
  'ObservationInput.id': 'x1',
  'ObservationInput.about': ['U2'],
  'ObservationInput.kind': 'APPEARANCE',
  'MarkingSuggestionInput.by': 'reader 1',
  'MarkingSuggestionInput.marking': '4T10',
  'CorrectedValueInput.of': 'dev-1',
  'CorrectedValueInput.field': 'note',
  'CorrectedValueInput.text': 'plain',
  'QuantityInput.value': 12,
  'QuantityInput.unit': 'g',
  'CheckInputValue.name': 'noise',
  'CheckInputValue.quantity': { value: 0.004, unit: 'm/s2' },
  'TrendQuestion.of': { count: 'Sensor' },
  'TrendQuantity.of': 'Battery',
};

/** Inputs of which a field alone makes no sense: what is given with it. */
const TOGETHER: Readonly<Record<string, object>> = {
  'CandidateInput.probability': { category: 'Gyroscope' },
  'TrendQuantity.of': { parameter: 'capacity' },
  'TrendQuantity.parameter': { of: 'Battery' },
  'ObservationInput.value': { kind: 'MEASUREMENT' },
  'ObservationInput.leadsTo': { kind: 'TRACE' },
  'ObservationInput.suggestion': { kind: 'MARKING', marking: '4T10', photo: 'p1' },
  'CorrectedValueInput.quantity': { field: 'mass' },
  'CorrectedValueInput.list': { of: 'dev-1/a/sda', field: 'pins' },
  'CorrectedValueInput.flag': { of: 'dev-1/a/U2', field: 'fitted' },
  'CorrectedValueInput.number': { of: 'quistle/QWR4T10', field: 'pins' },
  'Query.findPattern.id': { text: null },
  'Query.decisions.pattern': { device: null },
  'Query.trend.edges': { by: 'PRICE_BAND' },
  'TrendQuestion.edges': { by: 'PRICE_BAND' },
  'AmendmentInput.value': {},
  'PhotoBodyInput.rotation': { box: { left: 30, top: 50, width: 12, height: 18 } },
};

const TERMS = [
  ...of('term', 'Sensor', 'Accelerometer', 'Regulator', 'Component'),
  ...of('misspelt term', 'Sensr', SECRET),
];
const UNITS = of('unit', 'g', 'kg', 'V');
const LOCAL = [
  ...of('local id', 'U2', 'o1', 'p1'),
  ...of('local id of hidden things alone', 'n1', 'U99', 'zz1'),
];
const FREE = of('text', SECRET, 'plain');

/** Texts and numbers by place. */
const BY_PLACE: Readonly<Record<string, readonly Probe[]>> = {
  'Query.linkedData.base': of('base', 'https://desk.example.org/', 'no address'),
  'Photo.annotations.base': of('base', 'https://desk.example.org/', 'no address'),
  'Query.boardsSideBySide.width': of('width', 120, 20),
  'Board.planViews.width': of('width', 120, 20),
  'Board.drawing.width': of('width', 120, 20),
  'Board.drawing.photoStrength': of('strength', 40, 200),
  'Specimen.blockDiagram.width': of('width', 120, 20),
  'Board.blockDiagram.width': of('width', 120, 20),
  'PatternMatch.drawings.width': of('width', 120, 20),
  'Query.search.text': WORDS,
  'Pack.changes.since': of('no name of a state', '', SECRET, 'A'.repeat(64)),
  'Query.patternRows.text': PATTERN_TEXTS,
  'Query.explainPattern.text': PATTERN_TEXTS,
  'Query.patternSql.text': PATTERN_TEXTS,
  'Query.findPattern.text': PATTERN_TEXTS,
  'TrendSubject.text': PATTERN_TEXTS,
  'Query.readMarking.text': [
    ...of('marking of hidden things', 'Z7K', 'Z9Z9', SECRET, 'Z?K'),
    ...of('marking of both', '4T10', '4T?0', 'P2001'),
    ...of('marking with a logo', '(wave) 472'),
    ...of('number of a part', 'OS7'),
  ],
  'CorrectedValueInput.field': [
    ...of(
      'field that names a record',
      'succeeds',
      'succeeds.0',
      'maker',
      'productLine',
      'relabels',
      'subsystem',
    ),
    ...of(
      'field',
      'mass',
      'released',
      'name',
      'body.length',
      'parameters.activeCurrent',
      'visibility',
      'embargoUntil',
    ),
  ],
  'CorrectedValueInput.text': [
    ...of('text that names a hidden record', 'aa-hidden', 'veil', 'veil-ring', 'dev-recalled'),
    ...FREE,
  ],
  'CorrectedValueInput.number': of('number', 12, 0.5),
  'CorrectedValueInput.list': of(
    'list that names hidden things',
    ['aa-hidden'],
    ['dev-0', 'dev-recalled'],
    ['U1.4', 'R1.2'],
  ),
  'ObservationInput.id': LOCAL,
  'ObservationInput.about': [...LOCAL, ...of('id of a hidden thing', 'aa-hidden/a/U2')],
  'ObservationInput.marking': of('marking', '4T10', SECRET),
  'MarkingSuggestionInput.marking': of('marking', '4T10', SECRET),
  'MarkingSuggestionInput.region': of('part of a photo', 'xywh=percent:1,2,3,4', SECRET),
  'Query.readPhoto.region': of('percent', 10),
  'ReidentificationInput.basis': LOCAL,
  'QuantityInput.unit': UNITS,
  'Quantity.in.unit': UNITS,
};

/** Texts and numbers by the name of the argument. */
const BY_NAME: Readonly<Record<string, readonly Probe[]>> = {
  under: TERMS,
  category: TERMS,
  above: TERMS,
  hasCategory: TERMS,
  count: TERMS,
  without: TERMS,
  of: TERMS,
  parameter: of('parameter', 'capacity', 'activeCurrent', 'capacitty'),
  package: of('package', 'LGA-12', 'QFN-16'),
  currency: of('currency', 'EUR', 'USD'),
  check: of('design check', 'averaging', 'run-time', 'averagin'),
  name: of('name', 'noise', 'count', SECRET),
  text: FREE,
  note: FREE,
  by: FREE,
  method: FREE,
  leadsTo: LOCAL,
  photo: LOCAL,
  corrects: LOCAL,
  first: of('page', 1, 3, 100),
  last: of('page', 1, 3),
  sample: of('sample', 5),
  seed: of('seed', 2),
  iterations: of('iterations', 0, 1),
  resolution: of('resolution', 2),
  level: of('level', 2),
  minSupport: of('least support', 2, 24, 25),
  minSize: of('size', 2),
  maxSize: of('size', 3),
  turned: of('degrees', 90, 45),
  coverage: [...of('coverage', 0.5), ...of('coverage that so few devices cannot give', 0.99)],
  probability: of('probability', 0.1, 1),
  minimumProbability: of('probability', 0.5),
  categoryProbabilityAtLeast: of('probability', 0.5),
  priceFrom: of('price', 150),
  priceTo: of('price', 250),
  edges: of('price', 150, 250),
  value: of('number', 0.001, 40),
  widthPx: of('pixels', 640),
  heightPx: of('pixels', 480),
  picked: of('pixels', 0.01, 2),
  cameraDistance: of('distance', 150),
  left: of('percent', 45, 200),
  top: of('percent', 45),
  width: of('percent', 14),
  height: of('percent', 16),
  x: of('mm', 4),
  y: of('mm', 6),
  is: of('mm', 12),
  within: of('mm', 0.1),
  rotation: of('degrees', 0, 90),
  plusMinus: of('number', 1),
};

/** What a list may be given beside single things in turn. */
const LISTS: Readonly<Record<string, readonly Probe[]>> = {
  'Query.measure.points': of(
    'points of known position',
    [
      { at: { left: 10, top: 90 }, x: 0, y: 0 },
      { at: { left: 90, top: 10 }, x: 30, y: 20 },
    ],
    [
      { at: { left: 10, top: 90 }, x: 0, y: 0, within: 0.05 },
      { at: { left: 90, top: 90 }, x: 30, y: 0 },
      { at: { left: 10, top: 10 }, x: 0, y: 20 },
    ],
  ),
  'Query.calculate.inputs': [
    ...of('nothing', []),
    ...of('uncertain beyond an end', [
      { name: 'count', quantity: { value: 2, unit: '1' } },
      { name: 'noise', quantity: { value: 0.002, unit: 'm/s2', plusMinus: 0.01 } },
      { name: 'correlation', quantity: { value: 0, unit: '1' } },
    ]),
  ],
};

const DATES = [
  ...of('date', '2019', '2014-02'),
  ...of('date of hidden things alone', '2013', '2025-05', '2027-01'),
];
const BY_TYPE: Readonly<Record<string, readonly Probe[]>> = {
  ID: [...HIDDEN_IDS, ...VISIBLE_IDS],
  Boolean: [...of('true', true), ...of('false', false)],
  DateTime: [
    ...Object.entries(INSTANTS).map(([kind, value]) => ({ kind, value })),
    ...of('instant of a hidden entry', RECALL, EMBARGO_END, '2026-01-14T09:00:00.000Z'),
    ...of('instant to come', '3000-01-01T00:00:00Z'),
  ],
  PartialDate: DATES,
};

/** Weights and limits of an alignment are numbers that touch no record: a few stand for all. */
const WEIGHTS = of('weight', 0, 0.5);

/** What several fields of an input say only together. */
const BESIDE: Readonly<Record<string, readonly Probe[]>> = {
  CorrectedValueInput: ['aa-hidden', 'dev-recalled', 'veil', 'veil-ring', 'dev-0', 'nolvey'].flatMap((text) =>
    ['succeeds.0', 'succeeds', 'maker', 'productLine', 'released'].flatMap((field) =>
      ['dev-4', 'dev-0', 'dev-ended'].map((device) => ({
        kind: `${field} of a visible device`,
        value: {
          of: device,
          field,
          ...(field === 'succeeds' ? { list: [text] } : { text: field === 'released' ? '2031' : text }),
        },
      })),
    ),
  ),
  ObservationInput: [
    ...['hidden-film/c2', 'recalled-letter/c1', 'letter-one/c1', 'note-1', 'aa-hidden'].map((id) => ({
      kind: 'cites',
      value: { id: 'x1', about: ['U2'], kind: 'APPEARANCE', text: 'seen', cites: [id] },
    })),
    // The sentence that rests on this device cannot support it: a circle, which the refusal shows.
    ...['dev-1/a', 'dev-0/a'].map(() => ({
      kind: 'circle',
      value: {
        id: 'x1',
        about: ['U2'],
        kind: 'APPEARANCE',
        text: 'seen',
        cites: ['letter-one/c1', 'hidden-film/c1'],
      },
    })),
  ],
  ReidentificationInput: ['dev-0/a/U2', 'dev-1/a/U2', 'dev-3/a/U2'].map((component) => ({
    kind: 'visible component that hidden sentences are about',
    value: { component, candidates: [{ category: 'Microphone', probability: 0.96 }], state: 'SETTLED' },
  })),
};

/** Everything to give an argument in turn. @throws Error for an argument that nothing here says */
export function probesOf(type: GraphQLInputType, place: string): readonly Probe[] {
  if (isNonNullType(type)) return probesOf(type.ofType, place);
  if (isListType(type)) {
    const [plain] = ((place in PLAIN ? PLAIN[place] : []) as unknown[] | undefined) ?? [];
    const single = probesOf(type.ofType, place).flatMap((probe) => {
      const { value } = probe;
      if (Array.isArray(value)) return [probe];
      const alone = { ...probe, value: [value] };
      return plain === undefined || typeof plain !== typeof value
        ? [alone]
        : [alone, { ...probe, value: [plain, value] }];
    });
    return [...single, ...(LISTS[place] ?? [])];
  }
  if (isInputObjectType(type)) return inputProbes(type);
  if (isEnumType(type)) return type.getValues().map(({ name }) => ({ kind: 'closed set', value: name }));
  const named = BY_PLACE[place] ?? BY_TYPE[type.name] ?? BY_NAME[place.slice(place.lastIndexOf('.') + 1)];
  if (named) return named;
  if (place.startsWith('AlignmentWeightsInput.')) return WEIGHTS;
  throw new Error(
    `${place} is a ${type.name}, and nothing says what to ask with it; give it values in tests/leaks/values.ts`,
  );
}

/** An input with each of its fields in turn, those that must be there beside it. */
function inputProbes(type: Extract<GraphQLInputType, { getFields(): object }>): readonly Probe[] {
  const single = Object.values(type.getFields()).flatMap((field) => {
    const place = `${type.name}.${field.name}`;
    const base = { ...plainInput(type), ...TOGETHER[place] };
    return probesOf(field.type, place).map(({ kind, value, origin = place }) => ({
      kind,
      origin,
      value: { ...base, [field.name]: value },
    }));
  });
  const beside = (BESIDE[type.name] ?? []).map((probe) => ({ ...probe, origin: type.name }));
  return [...single, ...beside];
}

/** The fields that an input must have. */
function plainInput(type: Extract<GraphQLInputType, { getFields(): object }>): Record<string, unknown> {
  const must = Object.values(type.getFields()).filter(
    (field) =>
      (isNonNullType(field.type) && field.defaultValue === undefined) ||
      `${type.name}.${field.name}` in PLAIN,
  );
  return Object.fromEntries(
    must
      .filter(({ type: one }) => isNonNullType(one))
      .map((field) => [field.name, plainOf(field.type, `${type.name}.${field.name}`)]),
  );
}

/**
 * What an argument is given where the question is about something else; undefined where it need not be given.
 * @throws Error for an argument that must be given and of which nothing here says how
 */
export function plainOf(type: GraphQLInputType, place: string, hasDefault = false): unknown {
  if (place in PLAIN) return PLAIN[place];
  if (!isNonNullType(type) || hasDefault) return undefined;
  throw new Error(
    `${place} must be given, and nothing says what usually; give it a value in tests/leaks/values.ts`,
  );
}

/** What goes with an argument that is given alone, such as leaving out another that excludes it. */
export function togetherWith(place: string): Readonly<Record<string, unknown>> {
  return (TOGETHER[place] ?? {}) as Record<string, unknown>;
}
