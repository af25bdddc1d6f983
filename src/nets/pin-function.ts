import { z } from 'zod';
import { PIN_FUNCTIONS, type Pin } from '../model/net.ts';
import { isTerm } from '../model/taxonomy.ts';
import { readYamlFile } from '../text/yaml-file.ts';

/** What a pin is for, a word of {@link PIN_FUNCTIONS}. */
export type PinFunction = (typeof PIN_FUNCTIONS)[number];

const terms = z.array(z.string().refine(isTerm, { error: ({ input }) => `"${input}" is not a term` }));
const rulesSchema = z.strictObject({
  rules: z.array(
    z.strictObject({
      function: z.enum(PIN_FUNCTIONS),
      names: z.array(z.string()).min(1),
      of: terms.optional(),
      not: terms.optional(),
    }),
  ),
});

interface Rule {
  readonly means: PinFunction;
  readonly names: RegExp;
  readonly of: readonly string[] | undefined;
  readonly not: readonly string[];
}

const RULES: readonly Rule[] = rulesSchema
  .parse(readYamlFile(new URL('../../schema/pin-functions.yaml', import.meta.url)))
  .rules.map(({ function: means, names, of, not = [] }) => ({
    means,
    names: new RegExp(`^(?:${names.join('|')})$`, 'iu'),
    of,
    not,
  }));

/** Rules that a name fits, whatever the component; names recur on every board. */
const fitting = new Map<string, readonly Rule[]>();

/**
 * Parts of a name that may each say what the pin is for: `SDIO/SDA@2` gives `SDIO` and `SDA`, `~CE` and `~{CE}` give `CE`, `V_{DD}`
 * gives `VDD`, and `SYS_2`, the second of two such pins, also `SYS`.
 */
export function namesIn(name: string): readonly string[] {
  const bare = name
    .replace(/@\d*$/u, '')
    .replaceAll('{slash}', '/')
    .replace(/[~_^]\{([^{}]*)\}/gu, '$1')
    .replaceAll('~', '');
  const unnumbered = bare.replace(/(?<!_)_+\d+$/u, '');
  // A slash in front marks an inverted line, as in /CS.
  return [...new Set([bare, ...(bare.match(/[^/]+/gu) ?? []), unnumbered])];
}

/**
 * What a pin is for: as recorded, else by its electrical type, else by its name after schema/pin-functions.yaml.
 * @param has whether its component has a term of the taxonomy
 * @returns undefined where nothing tells
 */
export function functionOf(
  { name, direction, function: recorded }: Pick<Pin, 'name' | 'direction' | 'function'>,
  has: (term: string) => boolean,
): PinFunction | undefined {
  if (recorded !== undefined) return recorded;
  if (direction === 'not-connected') return 'not-connected';
  const named = name === undefined ? undefined : byName(name, has);
  if (named !== undefined) return named;
  if (direction === 'power-output') return 'supply-output';
  return direction === 'power-input' ? 'supply-input' : undefined;
}

function byName(name: string, has: (term: string) => boolean): PinFunction | undefined {
  let rules = fitting.get(name);
  if (!rules) {
    const parts = namesIn(name);
    rules = RULES.filter(({ names }) => parts.some((part) => names.test(part)));
    fitting.set(name, rules);
  }
  return rules.find(({ of, not }) => (of === undefined || of.some(has)) && !not.some(has))?.means;
}
