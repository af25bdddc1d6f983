import { isGtin, isIngressCode, splitFccId } from '../model/identifiers.ts';
import { formatMarking, type MarkingCharacter, type MarkingText, parseMarking } from '../model/marking.ts';
import type { CodeContext, CodeReading } from './codes/reading.ts';
import { readCode } from './codes/rules.ts';

/** One way to read one line of a marking by the rule of one code. Rivals stand side by side. */
export interface LineReading extends Omit<CodeReading, 'meaning'> {
  /** The characters as this reading takes them, where some are in doubt. */
  readonly as: string;
}

export interface ReadLine {
  /** The line in its normal form; `?` unread, `[8B]` one of several. */
  readonly text: string;
  /** Characters in doubt between several. */
  readonly doubtful: number;
  /** Characters not read at all. */
  readonly unread: number;
  readonly readings: readonly LineReading[];
}

/** What was typed at the microscope, interpreted by the standards. */
export interface ReadMarking {
  /** The marking in its normal form, without logos. */
  readonly marking: MarkingText;
  /** Logos, as they were described in brackets. */
  readonly logos: readonly string[];
  readonly lines: readonly ReadLine[];
}

/** A line with more ways to settle its doubtful characters than this is not read by codes. */
const MAX_TEXTS = 64;

/**
 * Reads a marking as typed: dashes, quotes and blanks of word processors in their plain form, logos described in
 * round brackets removed, lines separated by line breaks or ` / `.
 * @throws MarkingError for brackets that do not close
 */
export function readMarking(written: string, context: CodeContext): ReadMarking {
  const logos: string[] = [];
  const plain = written
    .normalize('NFKC')
    .replace(/[‐-―−]/gu, '-')
    .replace(/\(([^()\n]*)\)/gu, (_, words: string) => {
      if (words.trim() !== '') logos.push(words.trim());
      return ' ';
    })
    .split(/\r?\n|\s\/\s/u)
    .map((line) => line.trim().replace(/\s+/gu, ' '))
    .filter((line) => line !== '');
  const marking = parseMarking(plain.join('\n')).filter((line) => line.length > 0);
  return { marking, logos, lines: marking.map((line) => readLine(line, context)) };
}

function readLine(line: readonly MarkingCharacter[], context: CodeContext): ReadLine {
  return {
    text: formatMarking([line]),
    doubtful: line.filter(({ options }) => options.length > 1).length,
    unread: line.filter(({ options }) => options.length === 0).length,
    readings: possibleTexts(line).flatMap((as) =>
      [...readCode(as, context), ...readIdentifier(as)].map(({ rule, source, description, doubt }) => ({
        as,
        rule,
        source,
        description,
        ...(doubt === undefined ? {} : { doubt }),
      })),
    ),
  };
}

/** Every text that a line with doubtful characters may be, the likeliest first; none when a character is unread. */
function possibleTexts(line: readonly MarkingCharacter[]): readonly string[] {
  const count = line.reduce((product, { options }) => product * options.length, 1);
  if (count === 0 || count > MAX_TEXTS) return [];
  return line.reduce<readonly string[]>(
    (ways, { options }) => ways.flatMap((way) => options.map((one) => way + one)),
    [''],
  );
}

/** Identifiers that authorities and trade print on devices, checked for their structure. */
function readIdentifier(line: string): readonly Omit<CodeReading, 'meaning'>[] {
  const readings: Omit<CodeReading, 'meaning'>[] = [];
  const fcc = /^FCC\s*ID\s*:?\s*(.+)$/iu.exec(line);
  if (fcc) {
    const parts = splitFccId(fcc[1].replace(/\s/gu, '').toUpperCase());
    readings.push({
      rule: 'fcc-identifier',
      source: '47 CFR 2.926 (rule from memory)',
      description: parts
        ? `FCC identifier: grantee ${parts.grantee}, product ${parts.product}`
        : 'an FCC identifier',
      ...(parts ? {} : { doubt: 'no grantee code of three or five characters with a product code' }),
    });
  }
  const digits = line.replaceAll(' ', '');
  if (isGtin(digits))
    readings.push({
      rule: 'gtin',
      source: 'GS1 General Specifications, check digit (rule from memory)',
      description: `GTIN-${digits.length}, check digit right`,
    });
  if (isIngressCode(digits))
    readings.push({
      rule: 'ingress-code',
      source: 'IEC 60529 (rule from memory)',
      description: `ingress protection ${digits}`,
    });
  return readings;
}
