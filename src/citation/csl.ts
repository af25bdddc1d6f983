import type { Publication, Source } from '../model/catalogue.ts';
import type { PartialDate } from '../model/dates.ts';

/** A date as CSL-JSON has it: year, month and day, as far as they are known. */
export interface CslDate {
  readonly 'date-parts': readonly (readonly number[])[];
}

/** What is cited, as reference managers read it: an item of CSL-JSON (Citation Style Language 1.0.2, csl-data.json). */
export interface CslItem {
  readonly id: string;
  readonly type: string;
  readonly title: string;
  readonly 'container-title'?: string;
  readonly genre?: string;
  readonly issued?: CslDate;
  readonly accessed?: CslDate;
  readonly status?: string;
  readonly version?: string;
  readonly URL?: string;
  readonly note?: string;
}

/** Types of CSL for kinds of sources, with a genre where the type says less than the kind. */
const SOURCE_TYPES: Readonly<Record<Source['kind'], readonly [type: string, genre?: string]>> = {
  standard: ['standard'],
  filing: ['document', 'filing'],
  'data-sheet': ['document', 'data sheet'],
  // Whether it stands in a journal or in proceedings is not on record; "article" commits to neither.
  paper: ['article', 'paper'],
  press: ['article', 'press'],
  correspondence: ['personal_communication'],
  other: ['document'],
};

const PUBLICATION_TYPES: Readonly<Record<Publication['kind'], readonly [type: string, genre?: string]>> = {
  article: ['article'],
  video: ['motion_picture', 'video'],
  newsletter: ['article', 'newsletter'],
  figure: ['figure'],
};

/** A source as an item. */
export function sourceItem({ id, kind, title, url, accessed }: Source): CslItem {
  const [type, genre] = SOURCE_TYPES[kind];
  return {
    id,
    type,
    title,
    ...(genre !== undefined && { genre }),
    ...(accessed !== undefined && { accessed: cslDate(accessed) }),
    ...(url !== undefined && { URL: url }),
  };
}

/** A publication as an item. */
export function publicationItem({ id, kind, title, published }: Publication): CslItem {
  const [type, genre] = PUBLICATION_TYPES[kind];
  return {
    id,
    type,
    title,
    ...(genre !== undefined && { genre }),
    ...(published === undefined ? { status: 'in preparation' } : { issued: cslDate(published) }),
  };
}

/** A state of the archive, or an answer of it, that is to be cited. */
export interface CitedState {
  /** ISO 8601 in UTC. */
  readonly instant: string;
  /** Whether the instant is that of the state, and not only the day on which it was looked at. */
  readonly isExact: boolean;
  /** Whether all of it is demo data. */
  readonly isInvented: boolean;
  /** The answer, where it is not the archive as a whole. */
  readonly answer?: { readonly id: string; readonly title: string };
  /** Where it can be read. */
  readonly address?: string;
}

const ARCHIVE = 'Caseback archive of opened wearables';

/** The archive in a state, or an answer of it, as an item: a data set, dated by its state. */
export function archiveItem({ instant, isExact, isInvented, answer, address }: CitedState): CslItem {
  return {
    id: answer ? answer.id : 'caseback-archive',
    type: 'dataset',
    title: answer ? answer.title : ARCHIVE,
    ...(answer && { 'container-title': ARCHIVE }),
    issued: cslDate(instant.slice(0, 10)),
    ...(isExact && { version: `state of ${instant}` }),
    ...(address !== undefined && { URL: address }),
    ...(isInvented && { note: 'Invented demo data: no such device exists.' }),
  };
}

function cslDate(date: PartialDate): CslDate {
  return { 'date-parts': [date.split('-').map(Number)] };
}

/** An item as a line of a bibliography, in plain words. */
export function citationText(item: CslItem): string {
  const { title, genre, status, version, URL, note, issued, accessed } = item;
  const within = item['container-title'];
  const parts = [
    `${title}${genre ? ` [${genre}]` : ''}`,
    within && `In: ${within}`,
    // The state says its day.
    version ?? (issued && writtenDate(issued)),
    status,
    URL,
    accessed && `Accessed ${writtenDate(accessed)}`,
    note,
  ].filter((part) => part !== undefined);
  return parts.map((part) => (part === URL ? URL : sentence(part))).join(' ');
}

/** Not of an address: with a full stop behind it, it is another one. */
function sentence(part: string): string {
  return `${part[0].toUpperCase()}${part.slice(1)}${/[.?!]$/u.test(part) ? '' : '.'}`;
}

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);

function writtenDate({ 'date-parts': [parts] }: CslDate): string {
  const [year, month, day] = parts;
  return [day, month === undefined ? undefined : MONTHS[month - 1], year]
    .filter((part) => part !== undefined)
    .join(' ');
}
