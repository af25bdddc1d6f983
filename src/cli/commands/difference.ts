import { conclusionsBetween, type RecordChange, recordChanges } from '../../questions/between.ts';
import { differenceText } from '../answers/difference-text.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { pastInstant } from '../frame/instant.ts';
import { flag, text } from '../frame/options.ts';

/** Changed fields that a text shows of one record. */
const MOST_FIELDS = 12;
/** Characters of a value that a text shows. */
const LONGEST_VALUE = 60;

export const command = defineCommand({
  name: 'difference',
  about:
    'What was different at one instant from what was at another: records, specimens, judged decisions and corrections that are new, gone or changed, field by field. An instant is written as 2026-03-01T09:00:00Z, or as a date, which means the end of that day in UTC; without the second one it is now. With --conclusions also what follows otherwise: decisions, cells of comparisons, points of trends, sentences.',
  arguments: [
    { name: 'FROM', help: 'the earlier instant' },
    { name: 'TO', help: 'the later instant (default: now)', optional: true },
  ],
  options: {
    of: text('ID', 'only of this record, device or specimen'),
    conclusions: flag('also what follows otherwise; at most 40 devices at once'),
  },
  uses: 'view',
  formats: ['text', 'table', 'csv', 'json'],
  examples: ['difference 2026-03-01', 'difference 2026-03-01 2026-06-01 --of tarn-sennit-3 --conclusions'],

  async run(call) {
    const [from, to] = call.arguments;
    const { of, conclusions } = call.options;
    const archive = await call.archive();
    const before = await archive.asOf(pastInstant(from, 'FROM', new Date()), call.audience);
    const after =
      to === undefined
        ? await call.view()
        : await archive.asOf(pastInstant(to, 'TO', new Date()), call.audience);
    const changes = recordChanges(before, after, of);
    const follows = conclusions ? await conclusionsBetween(before, after, of) : undefined;
    return {
      text: () =>
        `${changes.map(changeText).join('')}${follows ? `\n${differenceText(follows)}` : ''}${changes.length === 0 ? 'Nothing on record differs.\n' : ''}`,
      table: () => changes.flatMap(rowsOf),
      json: () => ({ records: changes, ...(follows ? { conclusions: follows } : {}) }),
      messages: [counted(changes.length, 'record differs', 'records differ')],
    };
  },
});

function changeText({ id, kind, change, fields }: RecordChange): string {
  const shown = fields.slice(0, MOST_FIELDS).map(({ path, before, after }) => {
    return `  ${path}: ${short(before)} > ${short(after)}\n`;
  });
  const rest = fields.length - shown.length;
  const more =
    rest > 0 ? `  and ${counted(rest, 'more field', 'more fields')}; --format json has them all\n` : '';
  return `${WORDS[kind]} ${id} ${change}\n${shown.join('')}${more}`;
}

const WORDS: Readonly<Record<RecordChange['kind'], string>> = {
  Maker: 'maker',
  ProductLine: 'product line',
  Device: 'device',
  Part: 'part',
  Source: 'source',
  Publication: 'publication',
  Pattern: 'pattern',
  Feed: 'feed',
  ListMapping: 'list mapping',
  Specimen: 'specimen',
  Decision: 'decision',
  Correction: 'correction',
};

function rowsOf({ id, kind, change, fields }: RecordChange) {
  const row = { kind: WORDS[kind], id, change };
  return fields.length === 0
    ? [{ ...row, field: '', before: '', after: '' }]
    : fields.map(({ path, before, after }) => ({
        ...row,
        field: path,
        before: before ?? '',
        after: after ?? '',
      }));
}

function short(json: string | null): string {
  if (json === null) return '-';
  return json.length > LONGEST_VALUE ? `${json.slice(0, LONGEST_VALUE - 1)}…` : json;
}
