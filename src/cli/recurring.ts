import type { Archive } from '../archive.ts';
import { toCsv } from '../export/csv.ts';
import type { Row } from '../export/rows.ts';
import { toTable } from '../export/table.ts';
import { CasebackError } from '../model/problems.ts';
import type { View } from '../state/view.ts';
import {
  LINK_LABELS,
  ORDERS,
  type RecurringAnswer,
  type RecurringQuestion,
  type RecurringStructure,
} from '../structures/answer.ts';
import type { Doing } from '../structures/recurring.ts';
import { AUDIENCE_HELP, AUDIENCE_OPTION, audienceOf } from './audience.ts';
import { type Command, choiceOf, EXIT, numberOf, textOf, UsageError, type Values } from './command.ts';
import { AUTHOR_OPTIONS, authorship, DATA_HELP, DATA_OPTION, dataFolder } from './data-folder.ts';
import { openArchive } from './open-archive.ts';
import { Progress } from './progress.ts';
import { counted, rounded } from './words.ts';

export const command: Command = {
  usage: 'recurring [--at-least N] [--components N..N] [--order ORDER] [--show N | --save ID --number N]',
  help: `Structures that recur over the devices: components of given kinds, joined in a given way, found in at least so many
devices. Only closed ones, which no larger one has the same devices as. Beside each: the devices, their share with
its 95 % interval, how much oftener than by chance (lift), change of the share in percentage points a year with the
p-value corrected for all that was found (q), and the named patterns that already speak of the same components; a
structure without one is what nobody has written of. Ctrl-C ends the search and shows what was found until then.

${DATA_HELP}
  --at-least N      devices that a structure must have (default: a tenth of those looked into, at least 3)
  --components A..B components of a structure, 2 to 8 (default: 3..4)
  --level N         tell kinds apart down to N steps under Component, 1 to 5 (default: as far as is certain)
  --without KINDS   kinds left out, joined by commas (default: Passive; "none" leaves nothing out)
  --links bus       tell connections apart by bus where known; or medium, or none
  --boards          tell connections within a board from those between boards
  --order surprise  devices times logarithm of lift; or lift, support, year
  --variants        list variants of a structure, too: those at the same components but for one
  --unwritten       only structures that no named pattern speaks of
  --first N         how many, 1 to 200 (default: 20)
  --show N          the Nth of the list in full, with its pattern text and its devices
  --format table    or csv or json
  --save ID         put structure --number N of the list into the library as named pattern ID; with --name TEXT,
                    --idea TEXT and --because TEXT (a reason a designer may have had); --actor and --reason are journaled
${AUDIENCE_HELP}

  caseback recurring
  caseback recurring --at-least 8 --components 4..5 --order year
  caseback recurring --unwritten
  caseback recurring --show 3
  caseback recurring --save cell-and-gauge --number 3 --because "The gauge needs the cell's own node."`,
  options: {
    ...DATA_OPTION,
    ...AUDIENCE_OPTION,
    ...AUTHOR_OPTIONS,
    'at-least': { type: 'string' },
    components: { type: 'string' },
    level: { type: 'string' },
    without: { type: 'string' },
    links: { type: 'string' },
    boards: { type: 'boolean' },
    order: { type: 'string' },
    variants: { type: 'boolean' },
    unwritten: { type: 'boolean' },
    first: { type: 'string' },
    show: { type: 'string' },
    format: { type: 'string' },
    save: { type: 'string' },
    number: { type: 'string' },
    name: { type: 'string' },
    idea: { type: 'string' },
    because: { type: 'string' },
  },
  words: 0,

  async run(_, values) {
    const format = choiceOf(values, 'format', ['table', 'csv', 'json'], 'table');
    const question = questionOf(values);
    const show = placeOf(values, 'show');
    const number = placeOf(values, 'number');
    const save = textOf(values, 'save');
    if ((save === undefined) !== (number === undefined))
      throw new UsageError('--save ID goes with --number N, the place of the structure in the list');
    const archive = await openArchive(dataFolder(values));
    try {
      const view = archive.view(audienceOf(values));
      if (save !== undefined) {
        const { requireFreeId } = await import('../structures/named-pattern.ts');
        requireFreeId(view, save);
      }
      const answer = await searched(view, question);
      if (save !== undefined && number !== undefined) {
        await saved(archive, view, save, picked(answer, number), answer.devices, values);
      } else if (show !== undefined) process.stdout.write(inFull(picked(answer, show), answer.devices));
      else write(answer, format);
      for (const caution of answer.cautions) process.stderr.write(`caution: ${caution}\n`);
      return EXIT.fine;
    } finally {
      await archive.close();
    }
  },
};

function questionOf(values: Values): RecurringQuestion {
  const whole = (name: string, least: number, most: number) => {
    const text = textOf(values, name);
    return text === undefined ? undefined : numberOf(text, `--${name}`, { least, most });
  };
  const minSupport = whole('at-least', 2, 1e9);
  const level = whole('level', 1, 5);
  const first = whole('first', 1, 200);
  const without = textOf(values, 'without');
  return {
    ...sizesOf(textOf(values, 'components')),
    links: choiceOf(values, 'links', LINK_LABELS, 'bus'),
    order: choiceOf(values, 'order', ORDERS, 'surprise'),
    boards: values.boards === true,
    variants: values.variants === true,
    unwritten: values.unwritten === true,
    ...(minSupport === undefined ? {} : { minSupport }),
    ...(level === undefined ? {} : { level }),
    ...(first === undefined ? {} : { first }),
    ...(without === undefined
      ? {}
      : { without: without === 'none' ? [] : without.split(',').map((kind) => kind.trim()) }),
  };
}

function sizesOf(text: string | undefined): Pick<RecurringQuestion, 'minSize' | 'maxSize'> {
  if (text === undefined) return {};
  const match = /^(\d)(?:\.\.(\d))?$/u.exec(text);
  const [least, most] = [Number(match?.[1]), Number(match?.[2] ?? match?.[1])];
  if (!match || least < 2 || most > 8 || least > most)
    throw new UsageError(`--components is "${text}"; write for example 3..5, from 2 to 8`);
  return { minSize: least, maxSize: most };
}

function placeOf(values: Values, name: string): number | undefined {
  const text = textOf(values, name);
  return text === undefined ? undefined : numberOf(text, `--${name}`, { least: 1, most: 200 });
}

/** Searches with a bar on a terminal; Ctrl-C ends the search and keeps what was found. */
async function searched(view: View, question: RecurringQuestion): Promise<RecurringAnswer> {
  // Loaded here, so that help does without.
  const { recurringStructures } = await import('../structures/recurring.ts');
  const enough = new AbortController();
  const stop = () => enough.abort();
  process.once('SIGINT', stop);
  let shown: { readonly doing: Doing; readonly bar: Progress } | undefined;
  const onProgress = (fraction: number, doing: Doing) => {
    if (shown?.doing !== doing) {
      shown?.bar.end();
      shown = { doing, bar: new Progress(`${doing}, %`, 100) };
    }
    shown.bar.update(Math.floor(fraction * 100));
  };
  try {
    return await recurringStructures(view, question, { enough: enough.signal, onProgress });
  } finally {
    shown?.bar.end();
    process.off('SIGINT', stop);
  }
}

function write({ structures, found, devices, minSupport }: RecurringAnswer, format: string): void {
  if (format === 'json') process.stdout.write(`${JSON.stringify({ structures, found, devices }, null, 2)}\n`);
  else if (format === 'csv') process.stdout.write(toCsv(structures.map(csvRow)));
  else {
    process.stdout.write(toTable(structures.map(tableRow)));
    process.stderr.write(
      `${counted(found, 'closed structure')} in at least ${minSupport} of ${devices} devices; ${structures.length} shown, without variants of these unless asked for\n`,
    );
  }
}

function percent(share: number): string {
  return `${Number((share * 100).toPrecision(2))} %`;
}

function tableRow(one: RecurringStructure, at: number): Row {
  const { low, high } = one.shareInterval;
  return {
    no: String(at + 1),
    devices: String(one.support),
    share: percent(one.share),
    '95 %': `${percent(low)} to ${percent(high)}`,
    lift: one.chance.lift === null ? '' : rounded(Number(one.chance.lift.toPrecision(2))),
    'points a year': one.year === null ? '' : signed(one.year.slope * 100),
    q: one.year === null ? '' : one.year.q.toFixed(2),
    variants: String(one.variants),
    'known as': one.knownAs.map(({ id }) => id).join(', '),
    structure: one.words,
  };
}

function signed(points: number): string {
  return `${points < 0 ? '−' : '+'}${Number(Math.abs(points).toPrecision(2))}`;
}

function csvRow(one: RecurringStructure, at: number): Row {
  const { chance, year } = one;
  const text = (value: number | null | undefined) => (value == null ? '' : String(value));
  return {
    number: String(at + 1),
    structure: one.words,
    devices: String(one.support),
    share: String(one.share),
    'share low': String(one.shareInterval.low),
    'share high': String(one.shareInterval.high),
    possible: String(one.possible),
    expected: String(one.expected),
    'expected by chance': String(chance.expected),
    lift: text(chance.lift),
    'lift low': text(chance.liftInterval?.low),
    'lift high': text(chance.liftInterval?.high),
    'p of year': text(year?.p),
    'q of year': text(year?.q),
    'slope a year': text(year?.slope),
    variants: String(one.variants),
    'grows further': String(one.growsFurther),
    'known as': one.knownAs.map(({ id }) => id).join('; '),
    pattern: one.text,
    'device ids': one.devices.map(({ id }) => id).join('; '),
  };
}

function picked({ structures }: RecurringAnswer, number: number): RecurringStructure {
  const one = structures[number - 1];
  if (!one)
    throw new CasebackError(
      'NOT_FOUND',
      `the list has no number ${number}; it has ${counted(structures.length, 'structure')}`,
    );
  return one;
}

function inFull(one: RecurringStructure, devices: number): string {
  const { chance, year, knownAs } = one;
  const lift =
    chance.lift === null || chance.liftInterval === null
      ? 'no shuffle gave it'
      : `lift ${rounded(chance.lift)}, 95 % ${rounded(chance.liftInterval.low)} to ${rounded(chance.liftInterval.high)}`;
  const years =
    year === null
      ? 'too few devices or years to speak of a trend, or nothing varies'
      : `${signed(year.slope * 100)} percentage points a year, p = ${rounded(year.p)}, q = ${rounded(year.q)} (n = ${year.n} in ${year.years} years)`;
  const known = knownAs.map(({ id, share }) => `${id} (${percent(share)} of its devices)`).join(', ');
  return `${one.words}

devices     ${one.support} of ${devices}; possibly ${one.possible}, expected ${rounded(one.expected)}
share       ${percent(one.share)}, 95 % ${percent(one.shareInterval.low)} to ${percent(one.shareInterval.high)}
by chance   ${rounded(chance.expected)} devices; ${lift}
by year     ${years}
known as    ${known || 'no named pattern speaks of these components'}
found in    ${one.devices.map(({ id }) => id).join(', ')}

${one.text}
`;
}

async function saved(
  archive: Archive,
  view: View,
  id: string,
  structure: RecurringStructure,
  devices: number,
  values: Values,
): Promise<void> {
  const { newNamedPattern, proposedPattern } = await import('../structures/named-pattern.ts');
  const { savePattern } = await import('../structures/save-pattern.ts');
  const { name, idea, because } = {
    name: textOf(values, 'name'),
    idea: textOf(values, 'idea'),
    because: textOf(values, 'because'),
  };
  const pattern = await newNamedPattern(view, {
    ...proposedPattern(id, structure, devices),
    ...(name === undefined ? {} : { name }),
    ...(idea === undefined ? {} : { idea }),
    ...(because === undefined ? {} : { reasons: [because] }),
  });
  const by = authorship(values, 'found by its recurrence');
  const entry = await savePattern(archive, pattern, by, audienceOf(values));
  process.stdout.write(`${pattern.text}\n`);
  process.stderr.write(`"${pattern.name}" saved as ${id}, journal entry ${entry.sequence}\n`);
}
