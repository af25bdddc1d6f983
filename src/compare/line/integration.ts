import { isChipFunction } from '../../model/chip-function.ts';
import type { Device } from '../../model/dossier.ts';
import { mostSpecific } from '../../model/taxonomy.ts';
import { CERTAIN } from '../../state/labels.ts';
import type { State } from '../../state/state.ts';
import { tidy } from '../../statistics/tidy.ts';
import type { Compared } from '../representative.ts';

/** How many functions a chip of a device has: what grows when several chips become one. */
export interface Integration {
  readonly device: Device;
  /** Chips whose function is known. */
  readonly chips: Weighed;
  /** Functions of these chips: the most specific terms of the taxonomy that each is filed under. */
  readonly functions: Weighed;
  /** Functions by chips; null without any. */
  readonly functionsAChip: { readonly certain: number | null; readonly expected: number | null };
  /** Components that may be chips whose function nobody could tell; they count in none of the above. */
  readonly unnamed: number;
}

interface Weighed {
  readonly certain: number;
  readonly expected: number;
}

/** Bare, passive and mechanical components are no chips. */
export function integrationOf(state: State, { device, specimen }: Compared): Integration {
  const chips = { certain: 0, expected: 0 };
  const functions = { certain: 0, expected: 0 };
  let unnamed = 0;
  for (const { id, appears } of specimen.counted) {
    const seen = appears === undefined ? [] : [appears];
    const candidates = specimen.identified.get(id)?.candidates ?? [];
    const outcomes = candidates.map(({ part, category, probability }) => ({
      probability,
      terms: [
        ...seen,
        ...(part === undefined ? [] : (state.part(part)?.categories ?? [])),
        ...(category ? [category] : []),
      ],
    }));
    const rest = 1 - outcomes.reduce((sum, { probability }) => sum + probability, 0);
    const all = [...outcomes, { probability: Math.max(0, rest), terms: seen }].map(
      ({ probability, terms }) => ({
        probability,
        count: mostSpecific([...new Set(terms)].filter(isChipFunction)).length,
      }),
    );
    for (const { probability, count } of all) {
      if (count === 0) continue;
      chips.expected += probability;
      functions.expected += probability * count;
    }
    if (chance(all, ({ count }) => count > 0) >= CERTAIN) {
      chips.certain++;
      // Functions that are sure are as many as the chip has at least, all but one case in twenty.
      functions.certain += atLeast(all);
    }
    if ((appears === undefined || appears === 'IntegratedCircuit') && candidates.length === 0) unnamed++;
  }
  const ratio = (part: number, whole: number) => (whole === 0 ? null : tidy(part / whole));
  return {
    device,
    chips: { certain: chips.certain, expected: tidy(chips.expected) },
    functions: { certain: functions.certain, expected: tidy(functions.expected) },
    functionsAChip: {
      certain: ratio(functions.certain, chips.certain),
      expected: ratio(functions.expected, chips.expected),
    },
    unnamed,
  };
}

interface Outcome {
  readonly probability: number;
  readonly count: number;
}

function chance(all: readonly Outcome[], is: (one: Outcome) => boolean): number {
  return all.reduce((sum, one) => sum + (is(one) ? one.probability : 0), 0);
}

/** The largest number of functions that a chip has with 0.95 or more. */
function atLeast(all: readonly Outcome[]): number {
  const counts = all.map(({ count }) => count).sort((a, b) => b - a);
  return counts.find((most) => chance(all, ({ count }) => count >= most) >= CERTAIN) ?? 0;
}
