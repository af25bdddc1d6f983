import { fixed } from '../../text/rounding.ts';

/** A text of a page's address; empty where there is none. */
export function textIn(query: URLSearchParams, name: string): string {
  return query.get(name)?.trim() ?? '';
}

/** A number with at most so many decimals, without trailing zeros. */
export function tidy(number: number, decimals = 2): string {
  return String(Number(fixed(number, decimals)));
}

/** `1 device`, `2 devices`. */
export function counted(number: number, one: string, many = `${one}s`): string {
  return `${number.toLocaleString('en')} ${number === 1 ? one : many}`;
}
