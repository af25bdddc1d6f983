import type { EntryKind } from '../../model/entry.ts';

/** Terms of the taxonomy under other names since version 4. */
const TERMS = {
  AnalogFrontEnd: 'AnalogueFrontEnd',
  AnalogToDigitalConverter: 'AnalogueToDigitalConverter',
  DigitalToAnalogConverter: 'DigitalToAnalogueConverter',
  AnalogSwitch: 'AnalogueSwitch',
  AddressableLamp: 'AddressableLed',
  LightBarrier: 'OpticalBarrier',
};
/** Words of buses and of functions of pins. */
const WORDS = {
  analog: 'analogue',
  'analog-input': 'analogue-input',
  'analog-output': 'analogue-output',
};
/** Names in questions of feeds. */
const NAMES = {
  ANALOG: 'ANALOGUE',
  ANALOG_INPUT: 'ANALOGUE_INPUT',
  ANALOG_OUTPUT: 'ANALOGUE_OUTPUT',
  NOT_PRESENT: 'ABSENT',
  notPresent: 'absent',
  heldBy: 'presentIn',
  holdsPart: 'hasPart',
  holdsCategory: 'hasCategory',
};

type Renaming = (text: string) => string;

/** A text that is one of the names as a whole. */
const whole =
  (names: Readonly<Record<string, string>>): Renaming =>
  (text) =>
    Object.hasOwn(names, text) ? (names[text] as string) : text;

/** Each of the names where it stands as a word of its own. */
function within(names: Readonly<Record<string, string>>): Renaming {
  const words = new RegExp(`(?<![\\w-])(?:${Object.keys(names).join('|')})(?![\\w-])`, 'gu');
  return (text) => text.replace(words, (word) => names[word] as string);
}

const term = whole(TERMS);
/** What the texts under a member are, wherever it stands. */
const MEMBERS: Readonly<Record<string, Renaming>> = {
  category: term,
  categories: term,
  appears: term,
  compare: term,
  bus: whole(WORDS),
  function: whole(WORDS),
};
/** The same of records that are texts of a language in part. */
const OF_PATTERNS = { text: within(TERMS), check: within(TERMS) };
const OF_FEEDS = { question: within({ ...TERMS, ...NAMES }), variables: whole({ ...TERMS, ...NAMES }) };

/** In version 3 some terms of the taxonomy, buses and functions of pins had other names. */
export function fromVersion3(kind: EntryKind, payload: unknown): unknown {
  switch (kind) {
    case 'record-put': {
      const { collection } = payload as { readonly collection: string };
      const own = collection === 'patterns' ? OF_PATTERNS : collection === 'feeds' ? OF_FEEDS : {};
      return renamed(payload, { ...MEMBERS, ...own });
    }
    case 'correction-made':
      return corrected(renamed(payload, MEMBERS));
    case 'dossier-put':
    case 'identification-set':
      return renamed(payload, MEMBERS);
    case 'observation-recorded':
    case 'observation-withdrawn':
    case 'identification-judged':
    case 'decision-judged':
    case 'recalled':
    case 'clock-corrected':
    case 'photo-kept':
    case 'photo-recorded':
      return payload;
    default:
      return kind satisfies never;
  }
}

/** A correction of a value names the field, of which the value says nothing itself. */
function corrected(payload: unknown): unknown {
  const { amendment } = payload as { readonly amendment: { readonly value?: CorrectedValue } };
  const field = amendment.value?.field.split('.').findLast((one) => !/^\d+$/u.test(one));
  if (amendment.value === undefined || field === undefined || !Object.hasOwn(MEMBERS, field)) return payload;
  const value = { ...amendment.value, is: renamed(amendment.value.is, MEMBERS, MEMBERS[field]) };
  return { ...(payload as object), amendment: { ...amendment, value } };
}

interface CorrectedValue {
  readonly field: string;
  readonly is: unknown;
}

/** The same with other names; what has none of them comes back as it is. @param under how texts here are renamed */
function renamed(value: unknown, members: Readonly<Record<string, Renaming>>, under?: Renaming): unknown {
  if (typeof value === 'string') return under ? under(value) : value;
  if (Array.isArray(value)) {
    const items = value.map((item) => renamed(item, members, under));
    return items.every((item, i) => item === value[i]) ? value : items;
  }
  if (typeof value !== 'object' || value === null) return value;
  const entries = Object.entries(value).map(([name, member]) => {
    const own = Object.hasOwn(members, name) ? members[name] : under;
    return [name, renamed(member, members, own)] as const;
  });
  const isSame = entries.every(([name, member]) => member === (value as Record<string, unknown>)[name]);
  return isSame ? value : Object.fromEntries(entries);
}
