import { partIdOf } from '../../model/catalogue.ts';
import { recordOfId } from '../../model/ids.ts';
import type { Beneath } from './beneath.ts';
import type { Span } from './kinds.ts';

// Dates that the archive has: when a device was released, and when a unit was opened.

/** A date of release or of opening that a sentence states. */
export interface StatedDate extends Span {
  readonly text: string;
  readonly of: 'release' | 'opening';
  /** `2025` or `2025-03`. */
  readonly date: string;
}

const MONTHS = [
  ...['january', 'february', 'march', 'april', 'may', 'june', 'july'],
  ...['august', 'september', 'october', 'november', 'december'],
];
const RELEASED = `releas(?:ed?|es|ing)|launch(?:ed|es)?|came out|comes out|went on sale|unveiled|brought out`;
const OPENED = `opened|taken apart|torn down|dismantled|teardown|disassembled`;
const STATED = new RegExp(
  String.raw`\b(?:(?<released>${RELEASED})|(?<opened>${OPENED}))\b(?:\s+(?!(?:in|of|on)\s+(?:early |late |mid-)?(?:19|20)\d\d)(?!before|after|until|since|by\b)[\p{L}\d'’-]+){0,4}?\s+(?:in|of|on)?\s*(?:(?:early|late|mid)[\s-]+)?(?:\d{1,2}\s+)?(?:(?<month>${MONTHS.join('|')})\s+(?:\d{1,2},?\s+)?)?(?<year>(?:19|20)\d\d)\b`,
  'giu',
);

/** Dates in a sentence with what happened then: "released in 2025", "opened in March 2026". */
export function datesIn(sentence: string): readonly StatedDate[] {
  return [...sentence.matchAll(STATED)].map((match) => {
    const { opened, month, year } = match.groups as Record<string, string | undefined>;
    const number = month === undefined ? undefined : MONTHS.indexOf(month.toLowerCase()) + 1;
    const date = number === undefined ? `${year}` : `${year}-${String(number).padStart(2, '0')}`;
    return {
      start: match.index,
      end: match.index + match[0].length,
      text: match[0],
      of: opened === undefined ? 'release' : 'opening',
      date,
    };
  });
}

/** Compares a date with those of the devices or units under the sentence. @param named ids of the devices that it names; all under it where it names none @param isOfPart whether it may speak of a part, which has a date of its own */
export function compareDate(
  { of, date }: StatedDate,
  { devices, specimens, parts }: Beneath,
  named: ReadonlySet<string>,
  isOfPart: boolean,
): { readonly result: 'carried' | 'contradicted' | 'unsupported'; readonly message: string } {
  const all =
    of === 'release'
      ? [...devices.values()].map(({ id, released }) => ({
          device: id,
          text: `${id} was released`,
          on: released,
        }))
      : [...specimens.values()].map(({ id, dossier }) => ({
          device: recordOfId(id),
          text: `${id} was opened`,
          on: dossier.teardown.on,
        }));
  const known = all.some(({ device }) => named.has(device))
    ? all.filter(({ device }) => named.has(device))
    : all;
  // A date known to the year alone says nothing against a month of it.
  const delivered = parts.flatMap((part) =>
    isOfPart && of === 'release' && part.introduced !== undefined
      ? [{ text: `${partIdOf(part)} was first delivered`, on: part.introduced }]
      : [],
  );
  const fits = [...known, ...delivered].find(({ on }) => on.startsWith(date) || date.startsWith(on));
  if (fits) return { result: 'carried', message: `${fits.text} ${fits.on}` };
  if (known.length === 0)
    return { result: 'unsupported', message: 'no device is under it: name the one that is meant' };
  const texts = known.slice(0, 3).map(({ text, on }) => `${text} ${on}`);
  return { result: 'contradicted', message: `${texts.join('; ')}: correct the date, or name the device` };
}
