import type { PinDirection } from '../board-design.ts';

/** Electrical types of pins as KiCad writes them. */
const DIRECTIONS: Readonly<Record<string, PinDirection>> = {
  input: 'input',
  output: 'output',
  bidirectional: 'bidirectional',
  tri_state: 'output',
  open_collector: 'open-drain',
  open_emitter: 'output',
  passive: 'passive',
  power_in: 'power-input',
  power_out: 'power-output',
  no_connect: 'not-connected',
};

/** The direction of a pin from its electrical type, such as `power_in` or `bidirectional+no_connect`. */
export function directionOf(written: string | undefined): PinDirection | undefined {
  const type = (written ?? '').replace(/\+.*$/u, '');
  return Object.hasOwn(DIRECTIONS, type) ? DIRECTIONS[type] : undefined;
}

/** Signs that KiCad writes as words in names and labels, and the marks of a bar, subscript and superscript (its manual, text markup). */
const ESCAPED: Readonly<Record<string, string>> = {
  slash: '/',
  backslash: '\\',
  colon: ':',
  space: ' ',
  dblquote: '"',
  lt: '<',
  gt: '>',
  bar: '|',
};

/** A name or label as read aloud: `V_{DD}` is VDD, `~{CE}` is ~CE, `D+{slash}CLK` is D+/CLK. */
export function plainText(text: string): string {
  return text
    .replace(/\{(\w+)\}/gu, (whole, word: string) => ESCAPED[word] ?? whole)
    .replace(/~\{([^{}]*)\}/gu, '~$1')
    .replace(/[_^]\{([^{}]*)\}/gu, '$1');
}

/** So many names with their pin's number behind them show that a file writes all of them so (chosen). */
const ENOUGH = 3;

/**
 * Whether the pin functions of a file carry the pin's number behind an underscore (`SDA_6` at pin 6), as files since version 10 do:
 * then all of them do, where else few names end so by chance.
 */
export function areNumbered(
  functions: Iterable<{ readonly number: string; readonly written: string }>,
): boolean {
  let count = 0;
  for (const { number, written } of functions) {
    if (written === '' || written === '~') continue;
    if (!written.endsWith(`_${number}`)) return false;
    count++;
  }
  return count >= ENOUGH;
}

/** The name of a pin from its pin function; undefined for none. */
export function pinName(number: string, written: string, isNumbered: boolean): string | undefined {
  const bare = isNumbered && written.endsWith(`_${number}`) ? written.slice(0, -number.length - 1) : written;
  const name = plainText(bare);
  return name === '' || name === '~' ? undefined : name;
}
