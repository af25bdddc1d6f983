import type { PatternDevice } from '../patterns/answer.ts';
import { findPattern } from '../patterns/find.ts';
import { searchablePatterns } from '../patterns/searchable.ts';
import type { Pace } from '../state/pace.ts';
import type { State } from '../state/state.ts';
import type { KnownAs } from './answer.ts';
import type { Circuits } from './circuits.ts';
import type { Places } from './places.ts';

/** Matches of a pattern in a device that are looked at. */
const MAX_MATCHES = 50;
/** Components that a place and a match must share to count as the same thing. */
const IN_COMMON = 2;
/** Share of the devices from which a pattern counts as known. */
const MAJORITY = 0.5;

/**
 * Named patterns that a structure is known as already: in at least half of its devices (of 30 of them where there are
 * more) some match of the pattern has two components in common with some place of the structure. Not complete where a
 * budget ended the search for a pattern.
 */
export async function knownAs(
  state: State,
  circuits: Circuits,
  places: readonly Places[],
  pace: Pace,
  signal: AbortSignal | undefined,
): Promise<{ readonly known: readonly (readonly KnownAs[])[]; readonly complete: boolean }> {
  let complete = true;
  const known = places.map((): KnownAs[] => []);
  const groups = new Set(places.flatMap((own) => [...own.keys()]));
  const specimens = new Set(
    [...groups].flatMap((group) => state.specimensOf(circuits.devices[group].id).map((row) => row.id)),
  );
  for (const { id, name, text, scope } of searchablePatterns(state)) {
    // What spans several devices says nothing of one device's circuit.
    if (scope === 'archive') continue;
    const answer = await findPattern(state, { text, specimens, signal });
    signal?.throwIfAborted();
    complete &&= answer.complete;
    const matches = new Map(answer.devices.map((one) => [one.deviceId, one]));
    for (const [at, own] of places.entries()) {
      let shown = 0;
      for (const [group, sets] of own) {
        if (speaksOf(matches.get(circuits.devices[group].id), sets, circuits.ids)) shown++;
      }
      const share = shown / own.size;
      if (share >= MAJORITY) known[at].push({ id, name, share });
      if (pace.due) await pace.rest();
    }
  }
  for (const all of known) all.sort((a, b) => b.share - a.share || (a.id < b.id ? -1 : 1));
  return { known, complete };
}

function speaksOf(
  device: PatternDevice | undefined,
  places: readonly (readonly number[])[],
  idOf: readonly string[],
): boolean {
  return (device?.matches ?? []).slice(0, MAX_MATCHES).some(({ bindings }) => {
    const bound = new Set(bindings.flatMap(({ ids }) => ids));
    return places.some((place) => place.filter((node) => bound.has(idOf[node])).length >= IN_COMMON);
  });
}
