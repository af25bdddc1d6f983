import type { Archive } from '../../archive.ts';
import type { Row } from '../../export/rows.ts';
import { patternSchema } from '../../model/catalogue.ts';
import { SLUG } from '../../model/identifiers.ts';
import { CasebackError } from '../../model/problems.ts';
import { savePattern } from '../../questions/structures.ts';
import type { State } from '../../state/state.ts';
import {
  type FoundStructure,
  LINK_LABELS,
  ORDERS,
  RELATIONS,
  type Relation,
  type StructureAnswer,
  type StructureQuestion,
} from '../../structures/answer.ts';
import { type Doing, findStructures } from '../../structures/find-structures.ts';
import { newNamedPattern, proposedPattern, requireFreeId } from '../../structures/named-pattern.ts';
import { fixed, percentText, significant } from '../../text/rounding.ts';
import { counted, rounded } from '../answers/figures.ts';
import { checkedRecord } from '../arguments/record.ts';
import { VISIBILITY_OPTIONS, visibilityFrom } from '../arguments/visibility.ts';
import type { Answer } from '../frame/answer.ts';
import type { Call } from '../frame/call.ts';
import { defineCommand } from '../frame/command.ts';
import { AUTHOR_OPTIONS } from '../frame/common-options.ts';
import { quoted, UsageError } from '../frame/exit.ts';
import { choice, flag, list, readBy, text, type ValuesOf, whole, writtenOption } from '../frame/options.ts';
import { Progress } from '../frame/progress.ts';

const OPTIONS = {
  minSupport: whole('N', {
    help: 'devices that a structure must have (default: a tenth of those looked into, at least 3)',
    min: 2,
    max: 1e9,
  }),
  minSize: whole('N', { help: 'components of a structure at least', min: 2, max: 8 }),
  maxSize: whole('N', { help: 'components of a structure at most', min: 2, max: 8 }),
  level: whole('N', {
    help: 'tell kinds apart down to N steps under Component (default: as far as is certain)',
    min: 1,
    max: 5,
  }),
  without: list('KINDS', 'kinds left out (default: Passive; "none" leaves nothing out)'),
  relations: list(
    'RELATIONS',
    `what joins components, of ${RELATIONS.join(', ')} (default: feeds, signal-path and connects, with passives shares-net too)`,
  ),
  links: choice('BY', LINK_LABELS, {
    help: 'how these are told apart: by bus where known, by medium (connections alone), or by none',
    default: 'bus',
  }),
  boards: flag('tell connections within a board from those between boards'),
  order: choice('ORDER', ORDERS, {
    help: 'which come first: surprise (devices times logarithm of lift), lift, support, or year',
    default: 'surprise',
  }),
  variants: flag('list variants of a structure, too: those of the same components except one'),
  unwritten: flag('only structures that no named pattern describes'),
  first: whole('N', { help: 'how many', min: 1, max: 200, default: 20 }),
  number: whole('N', {
    help: 'the Nth of the list in full, with its pattern text and its devices',
    min: 1,
    max: 200,
  }),
  save: readBy('ID', 'save structure --number N of the list in the library as named pattern ID', newIdIn),
  name: text('TEXT', 'with --save: name of the pattern'),
  idea: text('TEXT', 'with --save: the design idea in a sentence'),
  because: text('TEXT', 'with --save: a reason that a designer may have had'),
  ...VISIBILITY_OPTIONS,
  ...AUTHOR_OPTIONS,
};
type Settings = ValuesOf<typeof OPTIONS>;

export const command = defineCommand({
  name: 'structures',
  about:
    'Structures that recur over the devices: components of given kinds, connected in a given way, found in at least so many devices. Only closed ones: no larger structure has the same devices. Beside each: the devices, their share with its 95 % interval, how much more often than by chance (lift), change of the share in percentage points a year with the p-value corrected for all that was found (q), and the named patterns that already describe the same components; a structure without one is what nobody has written of. Ctrl-C ends the search and shows what was found until then.',
  options: OPTIONS,
  uses: 'view',
  givesFigures: true,
  formats: ['table', 'csv', 'json'],
  examples: [
    'structures',
    'structures --min-support 8 --min-size 4 --max-size 5 --order year',
    'structures --unwritten',
    'structures --number 3',
    'structures --number 3 --save cell-and-gauge --because "The gauge needs the cell\'s own node."',
  ],

  async run(call) {
    const { options } = call;
    const question = questionOf(options);
    const { number, save } = options;
    requireTogether(call);
    const archive = save === undefined ? await call.archive() : await call.changing();
    const view = archive.state(call.audience);
    if (save !== undefined) requireFreeId(view, save);
    const found = await searched(view, question);
    const messages = found.cautions.map((caution) => `caution: ${caution}`);
    if (number === undefined) return listing(found, messages);
    const structure = structureAt(found, number);
    const saved =
      save === undefined
        ? undefined
        : await savedPattern(archive, view, proposedPattern(save, structure, found.devices), call);
    return {
      text: () => (saved ? `${saved.pattern.text}\n` : structureText(structure, found.devices)),
      csv: () => [csvRow(structure, number - 1)],
      json: () => structure,
      messages: saved
        ? [`"${saved.pattern.name}" saved as ${save}, journal entry ${saved.entry.sequence}`, ...messages]
        : messages,
    };
  },
});

function newIdIn(written: string, option: string): string {
  if (SLUG.test(written)) return written;
  throw new UsageError(
    `${option} is ${quoted(written)}; write small letters, digits and single hyphens, such as cell-and-gauge`,
  );
}

function requireTogether({ options, given, asOf }: Call<typeof OPTIONS>): void {
  if (options.save !== undefined && options.number === undefined)
    throw new UsageError('--save ID goes with --number N, the place of the structure in the list');
  if (options.save !== undefined && asOf !== undefined)
    throw new UsageError('--save does not go with --as-of: the past cannot be changed');
  const alone = ['name', 'idea', 'because', 'visibility', 'embargoUntil', 'actor', 'reason', 'key'].find(
    (name) => given.has(name),
  );
  if (options.save === undefined && alone !== undefined)
    throw new UsageError(`${writtenOption(alone)} goes with --save ID`);
}

function questionOf({ minSize, maxSize, without, ...settings }: Settings): StructureQuestion {
  if (minSize !== undefined && maxSize !== undefined && minSize > maxSize)
    throw new UsageError(`--min-size is ${minSize} and --max-size ${maxSize}; the first must not be larger`);
  const { links, relations, order, boards, variants, unwritten, first, level, minSupport } = settings;
  return {
    ...sizesOf(minSize, maxSize),
    links,
    order,
    boards,
    variants,
    unwritten,
    first,
    ...(minSupport === undefined ? {} : { minSupport }),
    ...(level === undefined ? {} : { level }),
    ...(relations === undefined ? {} : { relations: relations as readonly Relation[] }),
    ...(without === undefined ? {} : { without: without[0] === 'none' ? [] : without }),
  };
}

/** Both sizes where one is given: the other follows where the usual one would contradict it. */
function sizesOf(
  min: number | undefined,
  max: number | undefined,
): Pick<StructureQuestion, 'minSize' | 'maxSize'> {
  return {
    ...(min === undefined ? {} : { minSize: min, maxSize: max ?? Math.max(min, USUAL_SIZES.max) }),
    ...(max === undefined ? {} : { maxSize: max, minSize: min ?? Math.min(max, USUAL_SIZES.min) }),
  };
}

const USUAL_SIZES = { min: 3, max: 4 } as const;

/** Searches with a bar on a terminal; Ctrl-C ends the search and keeps what was found. */
async function searched(view: State, question: StructureQuestion): Promise<StructureAnswer> {
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
    return await findStructures(view, question, { enough: enough.signal, onProgress });
  } finally {
    shown?.bar.end();
    process.off('SIGINT', stop);
  }
}

function listing(
  { structures, found, devices, minSupport, cautions }: StructureAnswer,
  messages: readonly string[],
): Answer {
  return {
    table: () => structures.map(tableRow),
    csv: () => structures.map(csvRow),
    json: () => ({ structures, found, devices, cautions }),
    messages: [
      `${counted(found, 'closed structure')} in at least ${minSupport} of ${devices} devices; ${structures.length} shown, without variants of these unless asked for`,
      ...messages,
    ],
  };
}

function percent(share: number): string {
  return percentText(share);
}

function tableRow(one: FoundStructure, at: number): Row {
  const { low, high } = one.shareInterval;
  return {
    no: String(at + 1),
    devices: String(one.support),
    share: percent(one.share),
    '95 %': `${percent(low)} to ${percent(high)}`,
    lift: one.chance.lift === null ? '' : rounded(significant(one.chance.lift, 2)),
    'points a year': one.year === null ? '' : signed(one.year.slope * 100),
    q: one.year === null ? '' : fixed(one.year.q, 2),
    variants: String(one.variants),
    'known as': one.knownAs.map(({ id }) => id).join(', '),
    structure: one.words,
  };
}

function signed(points: number): string {
  return `${points < 0 ? '−' : '+'}${significant(Math.abs(points), 2)}`;
}

function csvRow(one: FoundStructure, at: number): Row {
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

function structureAt({ structures }: StructureAnswer, number: number): FoundStructure {
  const one = structures[number - 1];
  if (!one)
    throw new CasebackError(
      'NOT_FOUND',
      `the list has no number ${number}; it has ${counted(structures.length, 'structure')}`,
    );
  return one;
}

function structureText(one: FoundStructure, devices: number): string {
  const { chance, year, knownAs } = one;
  const lift =
    chance.lift === null || chance.liftInterval === null
      ? 'no shuffle gave it'
      : `lift ${rounded(chance.lift)}, 95 % ${rounded(chance.liftInterval.low)} to ${rounded(chance.liftInterval.high)}`;
  const years =
    year === null
      ? 'too few devices or years to call it a trend, or nothing varies'
      : `${signed(year.slope * 100)} percentage points a year, p = ${rounded(year.p)}, q = ${rounded(year.q)} (n = ${year.n} in ${year.years} years)`;
  const known = knownAs.map(({ id, share }) => `${id} (${percent(share)} of its devices)`).join(', ');
  return `${one.words}

devices     ${one.support} of ${devices}; possibly ${one.possible}, expected ${rounded(one.expected)}
share       ${percent(one.share)}, 95 % ${percent(one.shareInterval.low)} to ${percent(one.shareInterval.high)}
by chance   ${rounded(chance.expected)} devices; ${lift}
by year     ${years}
known as    ${known || 'no named pattern describes these components'}
found in    ${one.devices.map(({ id }) => id).join(', ')}

${one.text}
`;
}

async function savedPattern(
  archive: Archive,
  view: State,
  proposed: ReturnType<typeof proposedPattern>,
  call: Call<typeof OPTIONS>,
) {
  const { name, idea, because } = call.options;
  const record = {
    ...proposed,
    ...(name === undefined ? {} : { name }),
    ...(idea === undefined ? {} : { idea }),
    ...(because === undefined ? {} : { reasons: [because] }),
    ...visibilityFrom(call.options),
  };
  const pattern = await newNamedPattern(view, checkedRecord(patternSchema, 'pattern', record));
  const entry = await savePattern(archive, pattern, call.authorship('found by mining'), call.audience);
  return { pattern, entry };
}
