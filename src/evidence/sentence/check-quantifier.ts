import type { Claim } from '../../model/catalogue.ts';
import type { State } from '../../state/state.ts';
import type { Beneath } from './beneath.ts';
import { type devicesNamed, devicesOfName } from './names.ts';
import { carries, type Quantifier, type QuantifierMeans, quantifiersIn, wantedFor } from './quantifiers.ts';
import type { Statement } from './statement.ts';
import { type ValueBeneath, valueText } from './values.ts';

/** Compares a quantifier with the figures, units and values that can carry it. */
export function checkQuantifier(
  state: State,
  quantifier: Quantifier,
  { figures = [], sentence }: Claim,
  beneath: Beneath,
  devices: ReturnType<typeof devicesNamed>,
): Statement {
  const { means, text, times } = quantifier;
  const carried = (message: string): Statement => ({ kind: 'quantifier', text, result: 'carried', message });
  const failed = (message: string): Statement => ({
    kind: 'quantifier',
    text,
    result: 'unsupported',
    message,
  });
  if (figures.some((figure) => carries(quantifier, figure))) return carried('a figure under it says so');
  // "First" and "only" are true at one time, of one archive: that somebody said so does not count anything.
  const said = SAID_BY_OTHERS.has(means)
    ? beneath.texts.find((one) => saysLikewise(one, quantifier))
    : undefined;
  if (said !== undefined) return carried(`what supports it says so as well (${shortened(said)})`);
  if (means === 'multiple') {
    if (/same\b.*\btwice\b/iu.test(sentence) && beneath.components.length >= (times ?? 2))
      return carried('so many components are under it');
    const pair = ratioOf(beneath.values, times as number);
    if (pair) return carried(pair);
  }
  if ((means === 'more' || means === 'fewer') && pairedValue(beneath.values) !== undefined)
    return carried(`two values can be compared (${pairedValue(beneath.values)})`);
  // "No device" speaks of more devices than the one that the sentence names.
  if (means === 'all' || (means === 'none' && !/^no /iu.test(text))) {
    const named = devices.flatMap(({ things }) => things).filter(({ id }) => beneath.devices.has(id));
    const meant = named.length > 0 ? named : devicesOfName(state, sentence);
    const left = meant.flatMap(({ id }) =>
      state.specimensOf(id).filter((row) => !beneath.specimens.has(row.id)),
    );
    if (meant.length > 0 && left.length === 0) return carried('every opened unit of that name is under it');
    if (meant.length > 0)
      return failed(
        `other opened units of that name are not under it: ${left.map(({ id }) => id).join(', ')}. Look at them too, or give a figure to count`,
      );
  }
  return failed(
    `nothing under it counts: give it ${means === 'multiple' ? wantedFor(quantifier) : `a figure, ${wantedFor(quantifier)}`}, or say it of what was seen`,
  );
}

const SAID_BY_OTHERS = new Set<QuantifierMeans>([
  'all',
  'none',
  'most',
  'half',
  'few',
  'multiple',
  'more',
  'fewer',
]);

/** Whether a text uses a quantifier of the same meaning; of denials, which have many subjects, the same word. */
function saysLikewise(text: string, { means, text: word }: Quantifier): boolean {
  return quantifiersIn(text).some(
    (other) => other.means === means && (means !== 'none' || other.text.toLowerCase() === word.toLowerCase()),
  );
}

function shortened(text: string): string {
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

/** How near two values must be to the ratio, as a share of it (chosen: common practice, no source). */
const NEAR = 0.1;

function ratioOf(values: readonly ValueBeneath[], times: number): string | undefined {
  const ratio = times < 1 ? 1 / times : times;
  for (const [a, b] of pairsOf(values)) {
    const [large, small] = a.quantity.value >= b.quantity.value ? [a, b] : [b, a];
    if (Math.abs(large.quantity.value / small.quantity.value / ratio - 1) <= NEAR)
      return `${valueText(large)}; ${valueText(small)}`;
  }
  return undefined;
}

function pairedValue(values: readonly ValueBeneath[]): string | undefined {
  const [pair] = pairsOf(values);
  return pair?.map(valueText).join('; ');
}

/** Values of the same field and unit of two things. */
function pairsOf(values: readonly ValueBeneath[]): readonly (readonly [ValueBeneath, ValueBeneath])[] {
  const byField = Map.groupBy(values, ({ field, quantity }) =>
    field === null ? '' : `${field} ${quantity.unit}`,
  );
  byField.delete('');
  return [...byField.values()].flatMap((group) =>
    group.slice(0, 20).flatMap((a, i) => group.slice(i + 1, 20).map((b) => [a, b] as const)),
  );
}
