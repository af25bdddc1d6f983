import { toCsv } from '../export/csv.ts';
import { toTable } from '../export/table.ts';
import { PatternError } from '../gql/checked.ts';
import { CasebackError } from '../model/problems.ts';
import type { FacetName, PeriodLength, TrendAnswer, TrendQuestion } from '../trends/answer.ts';
import type { DeviceFilter } from '../trends/filter.ts';
import { FEWEST_DEVICES, FEWEST_PERIODS } from '../trends/verdict.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, textOf, UsageError, type Values } from './command.ts';
import { DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';
import { measureOf } from './trend-measure.ts';
import { csvRows, tableRows } from './trend-rows.ts';

const PERIODS: readonly PeriodLength[] = ['year', 'half-year', 'quarter'];
const FACETS = ['body-site', 'maker', 'price-band', 'nothing'] as const;

export const command: Command = {
  usage:
    'trend MEASURE ... [--per year|half-year|quarter] [--by body-site|maker|price-band] [--format table|csv|json]',
  help: `A measure over time: its value in each period with n, a 95 % interval and the band that doubtful identifications leave,
what may be said of it, and what must be said beside it. Several measures are tested together and corrected for it
(Benjamini–Hochberg). Nothing is called a trend from under ${FEWEST_DEVICES} devices in ${FEWEST_PERIODS} periods.

A measure is one of
  pattern:NAME  decision:NAME  category:TERM  maker:ID  part:ID  text:'MATCH ...'   share of devices that have it
  count:TERM                    components of a category a device; count:Component counts all
  quantity:mass|price|length|width|height          median over devices
  quantity:PARAMETER:TERM       median of a part parameter, such as quantity:capacity:Battery

${DATA_HELP}
  --per year        how time is divided (default); or half-year or quarter
  --by FACET        also each group apart: body-site, maker or price-band
  --edges 100,200   edges of the price bands (default: terciles)
  --currency EUR    in which prices are read (default: the one most devices have)
  --body-site, --maker, --productLine, --from, --to, --price-from, --price-to
                    which devices; dates are ISO 8601 at any precision, a price filter needs --currency
  --format table    or csv (a row a group and period) or json (everything at full precision)
${AUDIENCE_HELP}

  caseback trend category:PressureSensor
  caseback trend count:Sensor quantity:mass quantity:capacity:Battery --from 2016 --by body-site --format csv`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    per: { type: 'string' },
    by: { type: 'string' },
    edges: { type: 'string' },
    currency: { type: 'string' },
    'body-site': { type: 'string' },
    maker: { type: 'string' },
    productLine: { type: 'string' },
    from: { type: 'string' },
    to: { type: 'string' },
    'price-from': { type: 'string' },
    'price-to': { type: 'string' },
    format: { type: 'string' },
  },

  async run(words, values) {
    if (words.length === 0) throw new UsageError('name a measure, such as category:PressureSensor');
    const format = choiceOf(values, 'format', ['table', 'csv', 'json'], 'table');
    const asked = restOf(values);
    const questions = words.map((word) => ({
      ...asked,
      ...currencyFor(word, asked, values),
      of: measureOf(word),
    }));
    const archive = await openArchive(dataFolder(values));
    try {
      // Loaded here, so that help does without.
      const { trends } = await import('../trends/trends.ts');
      const answers = await trends(archive.view(audienceOf(values)), questions);
      write(answers, format);
      return EXIT.fine;
    } catch (error) {
      if (error instanceof PatternError) throw new CasebackError('BAD_PATTERN', `\n${error.message}`);
      throw error;
    } finally {
      await archive.close();
    }
  },
};

function write(answers: readonly TrendAnswer[], format: 'table' | 'csv' | 'json'): void {
  if (format === 'json') {
    process.stdout.write(`${JSON.stringify(answers, null, 2)}\n`);
    return;
  }
  if (format === 'csv') process.stdout.write(toCsv(answers.flatMap(csvRows)));
  else {
    for (const answer of answers) {
      process.stdout.write(`${answer.of}\n${toTable(tableRows(answer))}`);
      for (const { group, label, verdict } of [answer.whole, ...answer.groups])
        process.stdout.write(`${group === null ? '' : `${label}: `}${verdict.sentence}\n`);
      process.stdout.write(`${firstOf(answer)}\n`);
    }
  }
  for (const caution of new Set(answers.flatMap(({ cautions }) => cautions)))
    process.stderr.write(`caution: ${caution}\n`);
}

/** Devices named among the first. */
const NAMED = 5;

function firstOf({ firstAdopters }: TrendAnswer): string {
  if (firstAdopters.length === 0) return '';
  const named = firstAdopters
    .slice(0, NAMED)
    .map(({ device, probability }) => `${device.name} (${device.released}, probability ${probability})`);
  const more = firstAdopters.length > NAMED ? ` and ${firstAdopters.length - NAMED} more` : '';
  return `First, or among the first: ${named.join(', ')}${more}.\n`;
}

/** What all measures are asked with. */
function restOf(values: Values): Omit<TrendQuestion, 'of'> {
  const by = choiceOf(values, 'by', FACETS, 'nothing');
  const edges = textOf(values, 'edges');
  return {
    per: choiceOf(values, 'per', PERIODS, 'year'),
    ...(by === 'nothing' ? {} : { by: by as FacetName }),
    ...(edges === undefined ? {} : { edges: edges.split(',').map((edge) => amountOf(edge, '--edges')) }),
    where: filterOf(values),
  };
}

function filterOf(values: Values): DeviceFilter {
  const priceFrom = textOf(values, 'price-from');
  const priceTo = textOf(values, 'price-to');
  const priced = priceFrom !== undefined || priceTo !== undefined;
  return {
    bodySite: textOf(values, 'body-site'),
    maker: textOf(values, 'maker'),
    productLine: textOf(values, 'productLine'),
    from: textOf(values, 'from'),
    to: textOf(values, 'to'),
    ...(priceFrom === undefined ? {} : { priceFrom: amountOf(priceFrom, '--price-from') }),
    ...(priceTo === undefined ? {} : { priceTo: amountOf(priceTo, '--price-to') }),
    ...(priced ? { currency: textOf(values, 'currency') } : {}),
  };
}

/** The currency of a measure of price or of price bands; others are asked without. */
function currencyFor(word: string, { by, where }: Omit<TrendQuestion, 'of'>, values: Values) {
  const currency = textOf(values, 'currency');
  if (currency === undefined) return {};
  if (by === 'price-band' || word === 'quantity:price') return { currency };
  if (!where?.currency)
    throw new UsageError('--currency goes with --by price-band, quantity:price or a price filter');
  return {};
}

function amountOf(text: string, option: string): number {
  const amount = Number(text);
  if (text.trim() === '' || !Number.isFinite(amount) || amount < 0)
    throw new UsageError(`${option} is "${text}"; it must be an amount, 0 or more`);
  return amount;
}
