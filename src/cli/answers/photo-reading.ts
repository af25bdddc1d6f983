import { toTable } from '../../export/table.ts';
import type { ReadCharacter } from '../../identification/photo-channel.ts';
import { partIdOf } from '../../model/catalogue.ts';
import type { PhotoReading } from '../../questions/photo-reading.ts';
import { fixed } from '../../text/rounding.ts';

/** Alternatives of a character that a table shows. */
const SHOWN = 3;

/** What was read on a photo as JSON, as GraphQL has it. */
export function photoReadingJson(reading: PhotoReading, first: number) {
  const { photo, region, turned, lines, suggestion, ifConfirmed, others } = reading;
  return {
    photo: photo.id,
    region: `xywh=percent:${region.join(',')}`,
    turned,
    lines: lines.map((characters) => ({ characters })),
    suggestion: suggestion ?? null,
    ifConfirmed: ifConfirmed
      ? {
          parts: partsOf(ifConfirmed, first),
          none: ifConfirmed.odds.none,
          recordedNone: ifConfirmed.recorded.none,
        }
      : null,
    others: others.map((one) => ({ ...one, marking: one.marking ?? null })),
  };
}

function partsOf({ odds, recorded, bitsFor }: NonNullable<PhotoReading['ifConfirmed']>, first: number) {
  return odds.candidates.slice(0, first).map(({ part, probability }) => {
    const id = partIdOf(part);
    const before = recorded.candidates.find((one) => partIdOf(one.part) === id)?.probability;
    return { part: id, probability, recordedProbability: before ?? null, bits: bitsFor(id) ?? null };
  });
}

/** Characters with what each may be, as a table. */
export function charactersTable(lines: PhotoReading['lines']): string {
  const said = ({ text, confidence, alternatives, nothing }: ReadCharacter, line: number) => ({
    line: String(line + 1),
    read: text,
    sure: fixed(confidence, 0),
    'may be': alternatives
      .slice(0, SHOWN)
      .map((one) => `${one.text} ${fixed(one.probability, 2)}`)
      .join(', '),
    'not there': fixed(nothing, 2),
  });
  return toTable(lines.flatMap((line, at) => line.map((one) => said(one, at))));
}

/** What the component would be, as a table; empty where nothing is suggested or no component was asked for. */
export function ifConfirmedTable({ suggestion, ifConfirmed }: PhotoReading, first: number): string {
  if (!suggestion || !ifConfirmed) return '';
  const rows = partsOf(ifConfirmed, first).map(({ part, probability, recordedProbability, bits }) => ({
    'if confirmed': part,
    probability: fixed(probability, 4),
    'as recorded': recordedProbability === null ? '' : fixed(recordedProbability, 4),
    bits: bits === null ? '' : `${bits >= 0 ? '+' : ''}${fixed(bits, 1)}`,
  }));
  const none = {
    'if confirmed': '(none in the catalogue)',
    probability: fixed(ifConfirmed.odds.none, 4),
    'as recorded': fixed(ifConfirmed.recorded.none, 4),
    bits: '',
  };
  return toTable([...rows, none]);
}

/** What is suggested, in a sentence, with what to do. */
export function suggestionSentence({ photo, turned, suggestion, others }: PhotoReading): string {
  const where = `${photo.id}${turned === 0 ? '' : `, turned by ${turned}° clockwise`}`;
  const also = others
    .map(
      (one) => `; ${one.photo}: ${one.marking === undefined ? 'nothing legible' : quotedLines(one.marking)}`,
    )
    .join('');
  return suggestion
    ? `Suggested by a program, not recorded: ${quotedLines(suggestion.marking)} (${where}${also})`
    : `Nothing legible on ${where}${also}; nothing is suggested`;
}

const quotedLines = (marking: string) => `"${marking.replaceAll('\n', ' / ')}"`;
