import type { DeviceQuantity } from '../../trends/quantity.ts';
import { MOST_QUESTIONS } from '../../trends/trends.ts';
import { FEWEST_DEVICES, FEWEST_PERIODS } from '../../trends/verdict.ts';
import { enumType } from '../base/enums.ts';

const QUESTION = `"Also each group of this facet apart; groups add up to the whole."
  by: TrendFacet
  "For PRICE_BAND: edges between bands, rising, in units of \`currency\`; an edge belongs to the band above it. Left out: terciles of the devices asked about."
  edges: [Float!]
  "Currency of price bands and of the quantity PRICE (ISO 4217). Left out: the one most devices have. Nothing is converted."
  currency: String
  "Which devices."
  where: TrendFilter`;

/** Field names of a cell, which periods have as well. */
const CELL = `"Number of devices in all: \`n\` and those not observed, and for a quantity those where it is not present."
  devices: Int!
  "Number of devices that \`value\` is taken over."
  n: Int!
  "Number of devices nobody looked into, or whose value is not on record. None is taken for a no or for 0."
  notObserved: Int!
  "Number of devices that were looked into and have none. They count as a no in a share and as 0 in a count."
  notPresent: Int!
  "Expected share (0 to 1), expected components a device, or median in \`unit\` of the answer; null without a device."
  value: Float
  "Interval of 95 % for \`value\` from the sample alone: Wilson's for a share, exact Poisson for a count, order statistics for a median (null where too few devices have a value)."
  interval: TrendInterval
  "\`value\` if only what is certain counted, and if all that is possible did. Null for quantities."
  band: TrendInterval
  "For a share, both doubts at once: Wilson's lower limit of the certain and upper limit of the possible share."
  outer: TrendInterval
  "Number of devices (share) or components (count) with probability 0.95 or more; for a quantity, of devices whose value rests on such identifications."
  certain: Int!
  "Number of devices or components at least as likely as not; null for quantities."
  likely: Int
  "Sum of the probabilities; null for quantities."
  expected: Float
  "Number of devices or components that may be one; null for quantities."
  possible: Int
  "How components a device, or values of the quantity, spread; null for shares."
  distribution: TrendDistribution
  "Median of components a device, or of the quantity, with its order-statistic interval; null for shares."
  median: TrendMedian
  "Median of a quantity over certain devices alone, in \`unit\` of the answer."
  certainMedian: Float`;

export const schema = `
${enumType('TrendPeriodLength', 'How time is divided.', {
  year: 'Calendar years.',
  'half-year': 'January to June, July to December.',
  quarter: 'Quarters of the calendar year.',
})}
${enumType('TrendFacet', 'What devices are grouped by.', {
  'body-site': 'Where the device is worn.',
  maker: 'Maker of the device.',
  'price-band': 'Price at release.',
})}
${enumType('TrendDirection', 'Which way a series goes.', {
  rising: 'Upwards.',
  falling: 'Downwards.',
  'no-clear-direction': 'Chance or doubt could have made it.',
})}
${enumType<DeviceQuantity>('TrendDeviceQuantity', 'A quantity of a device itself.', {
  mass: 'Mass, g.',
  price: 'Price at release.',
  length: 'Longest side, mm.',
  width: 'Second side, mm.',
  height: 'Thickness, mm.',
})}

"What a device may have; give exactly one field."
input TrendSubject {
  "Id of a named pattern."
  pattern: ID
  "A pattern in the read-only subset of ISO/IEC 39075 (GQL)."
  text: String
  "A component of this category (term of the taxonomy)."
  category: String
  "A part of this maker (id)."
  maker: ID
  "This part (id)."
  part: ID
  "The design decision that this named pattern (id) suggests: the pattern's probability times its strength; what editors rejected counts for nothing."
  decision: ID
}

"A quantity of the device, or a parameter of its parts of a category."
input TrendQuantity {
  "A quantity of the device itself; or give \`parameter\` and \`of\`."
  device: TrendDeviceQuantity
  "Name of a part parameter of the taxonomy, such as \`capacity\`."
  parameter: String
  "The category whose parts have the parameter, such as \`Battery\`. Of several such components of a device the median stands."
  of: String
}

"What is followed over time; give exactly one field."
input TrendMeasure {
  "Share of devices that have this."
  share: TrendSubject
  "Components of this category (term of the taxonomy) a device; \`Component\` counts all."
  count: String
  "Median of this quantity over devices."
  quantity: TrendQuantity
}

"Which devices a trend is about; what is left out does not narrow."
input TrendFilter {
  "Worn here."
  bodySite: BodySite
  "Of this maker (id)."
  maker: ID
  "In this product line (id)."
  productLine: ID
  "Released on or after this date; a device dated by its year may have come any day of it."
  from: PartialDate
  "Released on or before this date; a year or month includes all of it."
  to: PartialDate
  "Least price at release, in units of \`currency\`."
  priceFrom: Float
  "Greatest price at release, in units of \`currency\`."
  priceTo: Float
  "Priced in this currency (ISO 4217); nothing is converted."
  currency: String
}

"One of several questions asked together."
input TrendQuestion {
  "What is followed."
  of: TrendMeasure!
  "How time is divided."
  per: TrendPeriodLength! = YEAR
  ${QUESTION}
}

"A lower and an upper limit, both included."
type TrendInterval {
  "Lower limit, in \`unit\` of the answer, for a slope a year."
  low: Float!
  "Upper limit, in \`unit\` of the answer, for a slope a year."
  high: Float!
}

"A median and its 95 % interval."
type TrendMedian {
  "The median, in \`unit\` of the answer."
  value: Float!
  "Order-statistic interval of at least 95 %; null where too few devices have a value."
  interval: TrendInterval
}

"Five numbers that sketch how values spread."
type TrendDistribution {
  "Least value, in \`unit\` of the answer."
  least: Float!
  "A quarter lies below; in \`unit\` of the answer."
  lowerQuartile: Float!
  "Half lies below; in \`unit\` of the answer."
  median: Float!
  "Three quarters lie below; in \`unit\` of the answer."
  upperQuartile: Float!
  "Greatest value, in \`unit\` of the answer."
  greatest: Float!
}

"What is known of one group of devices."
type TrendCell {
  ${CELL}
}

"What is known of the devices of one period."
type TrendPeriod {
  "Name of the period: \`2019\`, \`2019-H1\` or \`2019-Q3\`."
  period: String!
  "Start of the period in years: 2019.5 for the second half of 2019."
  start: Float!
  ${CELL}
}

"Test of a series for a change over time."
type TrendTest {
  "Cochran–Armitage for shares, Mann–Kendall for counts and quantities."
  name: String!
  "Number of devices it rests on."
  n: Int!
  "Number of periods with devices."
  periods: Int!
  "Normal deviate, a number without unit."
  z: Float!
  "Two-sided p-value, 0 to 1."
  p: Float!
  "The p-value, 0 to 1, adjusted for all series tested in the same answer (Benjamini–Hochberg)."
  q: Float!
  "Change in a year, in \`unit\` of the answer: of the share by weighted least squares, of the value by Theil–Sen."
  slope: Float
  "The slope's 95 % interval: by the standard error of the test for shares, Sen's for values; null where it has none."
  slopeInterval: TrendInterval
  "Whether the direction stays in spite of doubtful identifications: with probability 0.95 or more for shares and counts, over the certain alone for quantities."
  holdsUnderDoubt: Boolean!
}

"What may be said of a series."
type TrendVerdict {
  "Whether there are enough devices and periods to speak of a direction: ${FEWEST_DEVICES} devices in ${FEWEST_PERIODS} periods."
  enough: Boolean!
  "The direction that may be spoken of; null where there is not enough."
  direction: TrendDirection
  "In plain words, with n and q."
  sentence: String!
}

"Everything asked about, or one group of a facet."
type TrendSeries {
  "Value of the facet: a body site, a maker's id or a price band; null for the whole."
  group: String
  "The same in words."
  label: String!
  "All periods together."
  whole: TrendCell!
  "Number of devices dated too roughly to be put into a period; they stand in \`whole\` alone."
  undated: Int!
  "Period by period, those without a device included."
  periods: [TrendPeriod!]!
  "The test; null where there is not enough, or nothing varies."
  test: TrendTest
  "What may be said."
  verdict: TrendVerdict!
}

"A device among the first that have something."
type TrendAdopter {
  "The device."
  device: Device!
  "Probability, 0 to 1, that it has it."
  probability: Float!
  "Whether that is 0.95 or more."
  certain: Boolean!
  "Probability, 0 to 1, that it has it and no device certainly released before it has."
  probabilityFirst: Float!
}

"A measure over time, and what may be said of it."
type Trend {
  "What was measured, in words."
  of: String!
  "Unit of values: a UCUM code, a currency, \`1\` for shares, or \`components a device\`."
  unit: String!
  "How time is divided."
  per: TrendPeriodLength!
  "What devices are grouped by."
  by: TrendFacet
  "All devices asked about."
  whole: TrendSeries!
  "Each group of the facet."
  groups: [TrendSeries!]!
  "For a share: the first certain device and all that may have come before or with it, by release."
  firstAdopters: [TrendAdopter!]!
  "What must be said beside the figures."
  cautions: [String!]!
}

extend type Query {
  "A measure over time with intervals, a test and what may be said. Null, with error NOT_FOUND, when nothing visible has an id that it names."
  trend(
    "What is followed."
    of: TrendMeasure!
    "How time is divided."
    per: TrendPeriodLength! = YEAR
    ${QUESTION}
  ): Trend
  "Several measures at once; their tests are corrected together."
  trends(
    "The questions, 1 to ${MOST_QUESTIONS}."
    questions: [TrendQuestion!]!
  ): [Trend!]
}
`;
