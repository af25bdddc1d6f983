import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';

// Pin arrangements of the demo parts. Which pins a part has is written by hand in pinouts.yaml; where they sit is drawn, so that
// no arrangement is that of a real part.

/** A pin of a demo part. */
export interface DrawnPin {
  readonly number: string;
  readonly name: string;
  readonly function?: string;
  readonly output?: string;
}

const SEED = 'pins of demo parts';

/** Pins by part: a name, a name and how often (`GND*3`), or name, function and output (`VOUT1:supply-output:buck 1`). */
export const PINS: Readonly<Record<string, readonly string[]>> = parse(
  readFileSync(fileURLToPath(new URL('pinouts.yaml', import.meta.url)), 'utf8'),
);

/** A number that depends on the name alone, so that a new part or net changes no other. */
export function chance(name: string): number {
  return createHash('sha256').update(`${SEED} ${name}`).digest().readUInt32BE(0);
}

/**
 * The pins of a part with drawn places, in the order of the places.
 * @param count terminals of its package
 * @throws Error when it has more pins than terminals
 */
export function pinsOf(part: string, packageName: string, count: number): readonly DrawnPin[] {
  const named = (PINS[part] ?? []).flatMap((written) => {
    const [nameAndTimes, use, output] = written.split(':');
    const [form, times = '1'] = nameAndTimes.split('*');
    const names = numbered(form).flatMap((name) => Array.from({ length: Number(times) }, () => name));
    return names.map((name) => ({ name, ...(use && { function: use }), ...(output && { output }) }));
  });
  const below = named.filter(({ name }) => name === 'EP');
  const around = named.filter(({ name }) => name !== 'EP');
  const places = placesOf(packageName, count);
  if (around.length > places.length) throw new Error(`${part} has ${count} terminals, not ${around.length}`);
  const drawn = places
    .map((number) => ({ number, key: chance(`${part} ${number}`) }))
    .sort((a, b) => a.key - b.key)
    .slice(0, around.length)
    .map(({ number }, i) => ({ number, ...around[i] }));
  const order = new Map(places.map((number, i) => [number, i]));
  drawn.sort((a, b) => (order.get(a.number) ?? 0) - (order.get(b.number) ?? 0));
  return [...drawn, ...below.map((pin) => ({ number: 'EP', ...pin }))];
}

/** `P0.[0-2]` as P0.0, P0.1, P0.2. */
function numbered(form: string): string[] {
  const [, before, from, to, after] = /^(.*)\[(\d+)-(\d+)\](.*)$/u.exec(form) ?? [];
  if (from === undefined) return [form];
  const count = Number(to) - Number(from) + 1;
  return Array.from({ length: count }, (_, i) => `${before}${Number(from) + i}${after}`);
}

/** Names of the terminals: balls by row and column, others counted around. */
function placesOf(packageName: string, count: number): readonly string[] {
  if (!/BGA|WLCSP|^CSP/u.test(packageName)) return Array.from({ length: count }, (_, i) => String(i + 1));
  // Rows are lettered without I, O, Q, S, X and Z, as on ball grids (common practice, no source).
  const rows = 'ABCDEFGHJKLMNPRTUVWY';
  const columns = Math.ceil(Math.sqrt(count));
  return Array.from({ length: count }, (_, i) => `${rows[Math.floor(i / columns)]}${(i % columns) + 1}`);
}
