import { plainText } from '../../text/plain-text.ts';

/** Text that is already HTML. */
export class Html {
  readonly text: string;

  constructor(text: string) {
    this.text = text;
  }

  toString(): string {
    return this.text;
  }
}

export type Part = Html | string | number | null | undefined | false | readonly Part[];

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/**
 * HTML from a template: what is put in is escaped, unless it is itself made by this function. Characters that are not seen
 * and show others in another order are written out.
 */
export function html(strings: TemplateStringsArray, ...parts: readonly Part[]): Html {
  return new Html(strings.reduce((text, string, i) => `${text}${written(parts[i - 1])}${string}`));
}

function written(part: Part): string {
  if (part === null || part === undefined || part === false) return '';
  if (part instanceof Html) return part.text;
  if (typeof part === 'object') return part.map(written).join('');
  return plainText(String(part)).replace(/[&<>"']/gu, (character) => ESCAPES[character]);
}
