import { trendRows } from '../../export/answer-rows.ts';
import { toTable } from '../../export/table.ts';
import { chartOfAdopters, chartOfTotals, chartOfTrend } from '../../questions/charts.ts';
import { trendsOf } from '../../questions/trends.ts';
import type { DeviceFilter } from '../../state/lists/device-list.ts';
import { significant } from '../../text/rounding.ts';
import type { TrendAnswer } from '../../trends/answer.ts';
import { FACETS, PERIOD_LENGTHS } from '../../trends/asked.ts';
import { MIN_DEVICES, MIN_PERIODS } from '../../trends/verdict.ts';
import { isPicture, PICTURE_FORMATS, PICTURE_OPTIONS, writePicture } from '../answers/picture.ts';
import { tableRows } from '../answers/trend-rows.ts';
import { measureOf } from '../arguments/measure.ts';
import { defineCommand } from '../frame/command.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { checkRange } from '../frame/instant.ts';
import { choice, decimal, flag, readBy, text, type ValuesOf } from '../frame/options.ts';

const OPTIONS = {
  per: choice('PERIOD', PERIOD_LENGTHS, {
    help: 'how time is divided: year, half-year or quarter',
    default: 'year',
  }),
  by: choice('FACET', FACETS, { help: 'each group as well: body-site, maker or price-band' }),
  edges: readBy('N,...', 'edges of the price bands, such as 100,200 (default: terciles)', edgesIn),
  currency: text('CODE', 'in which prices are read, such as EUR (default: the one most devices have)'),
  bodySite: text('SITE', 'only devices of this body site'),
  maker: text('ID', 'only devices of this maker'),
  productLine: text('ID', 'only devices of this product line'),
  from: text('DATE', 'only devices released then or later (ISO 8601 at any precision)'),
  to: text('DATE', 'only devices released then or earlier'),
  priceFrom: decimal('N', { help: 'only devices of this price or more; needs --currency', min: 0 }),
  priceTo: decimal('N', { help: 'only devices of this price or less; needs --currency', min: 0 }),
  totals: flag('in a chart all periods together, a row a group, in place of one period after the other'),
  firstAdopters: flag('in a chart of a share the first devices that have it, in place of the periods'),
  ...PICTURE_OPTIONS,
};
type Settings = ValuesOf<typeof OPTIONS>;

export const command = defineCommand({
  name: 'trend',
  about: [
    `A measure over time: its value in each period with n, a 95 % interval and the band that doubtful identifications leave, what may be concluded, and the cautions that go with it. Several measures are tested together and corrected for it (Benjamini–Hochberg). Nothing is called a trend from under ${MIN_DEVICES} devices in ${MIN_PERIODS} periods.`,
    '',
    'A measure is one of',
    "  pattern:NAME  decision:NAME  category:TERM  maker:ID  part:ID  text:'MATCH ...'   share of devices that have it",
    '  count:TERM                                   components of a category a device; count:Component counts all',
    '  quantity:mass|price|length|width|height      median over devices',
    '  quantity:PARAMETER:TERM                      median of a part parameter, such as quantity:capacity:Battery',
  ].join('\n'),
  arguments: [{ name: 'MEASURE', help: 'what to follow, as above', many: true }],
  options: OPTIONS,
  uses: 'view',
  givesFigures: true,
  formats: ['text', 'table', 'csv', 'json', ...PICTURE_FORMATS],
  examples: [
    'trend category:PressureSensor',
    'trend count:Sensor quantity:mass quantity:capacity:Battery --from 2016 --by body-site --format csv',
    'trend category:PressureSensor --format png --out pressure.png --size column',
  ],

  async run(call) {
    const settings = call.options;
    const shared = { per: settings.per, by: settings.by, edges: settings.edges, where: filterOf(settings) };
    const questions = call.arguments.map((measure) => ({
      ...shared,
      ...currencyFor(measure, settings),
      of: measureOf(measure),
    }));
    const wantsPicture = isPicture(call);
    if (wantsPicture && questions.length > 1)
      throw new UsageError('a chart is of one measure; name one, or leave --format out');
    const drawn = settings.totals ? '--totals' : settings.firstAdopters ? '--first-adopters' : undefined;
    if (drawn && !wantsPicture) throw new UsageError(`${drawn} goes with --format svg, png or vega-lite`);
    if (settings.totals && settings.firstAdopters)
      throw new UsageError('--totals does not go with --first-adopters; a chart shows one of them');
    const view = await call.view();
    const answers = await trendsOf(view, questions);
    if (wantsPicture)
      return writePicture(call, view, async (source, size) => {
        if (!settings.firstAdopters)
          return (settings.totals ? chartOfTotals : chartOfTrend)(answers[0], source, size);
        const chart = await chartOfAdopters(answers[0], source, size);
        if (chart) return chart;
        throw new UsageError('--first-adopters goes with a share, such as category:PressureSensor');
      });
    return {
      text: () => answers.map(trendText).join(''),
      table: () => answers.flatMap(tableRows),
      csv: () => answers.flatMap(trendRows),
      json: () => answers,
      messages: [...new Set(answers.flatMap(({ cautions }) => cautions))].map(
        (caution) => `caution: ${caution}`,
      ),
    };
  },
});

function trendText(answer: TrendAnswer): string {
  const verdicts = [answer.total, ...answer.groups].map(
    ({ group, label, verdict }) => `${group === null ? '' : `${label}: `}${verdict.sentence}\n`,
  );
  return `${answer.of}\n${toTable(tableRows(answer))}${verdicts.join('')}${firstOf(answer)}\n`;
}

/** Devices named among the first. */
const MAX_NAMED = 5;

function firstOf({ firstAdopters }: TrendAnswer): string {
  if (firstAdopters.length === 0) return '';
  const named = firstAdopters
    .slice(0, MAX_NAMED)
    .map(
      ({ device, probability }) =>
        `${device.name} (${device.released}, probability ${significant(probability, 3)})`,
    );
  const more = firstAdopters.length > MAX_NAMED ? ` and ${firstAdopters.length - MAX_NAMED} more` : '';
  return `First, or among the first: ${named.join(', ')}${more}.\n`;
}

const listOf = (one: string | undefined) => (one === undefined ? undefined : [one]);

function filterOf({
  bodySite,
  maker,
  productLine,
  from,
  to,
  priceFrom,
  priceTo,
  currency,
}: Settings): DeviceFilter {
  checkRange(from, to);
  const isPriced = priceFrom !== undefined || priceTo !== undefined;
  return {
    bodySites: listOf(bodySite),
    makers: listOf(maker),
    productLines: listOf(productLine),
    releasedFrom: from,
    releasedTo: to,
    ...(priceFrom === undefined ? {} : { priceFrom }),
    ...(priceTo === undefined ? {} : { priceTo }),
    ...(isPriced ? { currency } : {}),
  };
}

/** The currency of a measure of price or of price bands; others are asked without. */
function currencyFor(measure: string, { by, currency, priceFrom, priceTo }: Settings) {
  if (currency === undefined) return {};
  if (by === 'price-band' || measure === 'quantity:price') return { currency };
  if (priceFrom === undefined && priceTo === undefined)
    throw new UsageError('--currency goes with --by price-band, quantity:price or a price filter');
  return {};
}

function edgesIn(written: string, option: string): readonly number[] {
  return written.split(',').map((edge) => {
    const amount = Number(edge);
    if (edge.trim() !== '' && Number.isFinite(amount) && amount >= 0) return amount;
    throw new UsageError(`${option} is ${quoted(written)}; write amounts joined by commas, such as 100,200`);
  });
}
