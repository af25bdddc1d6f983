// Whether one device has something: a term of the taxonomy, a part, a maker's part, or what a named pattern describes.

import type { NamedPattern } from '../model/catalogue.ts';
import { type PresenceSubject, subjectName } from '../presence/asked.ts';
import {
  type DevicePresence,
  type Presence,
  presenceRow,
  specimenPresence,
  thingOf,
  together,
  whyPresence,
} from '../presence/presence.ts';
import { resolved } from '../state/resolve.ts';
import type { State } from '../state/state.ts';
import { mistakesTold } from './pattern-mistakes.ts';

/** What presence is asked of; a pattern by its id. */
export type PresenceQuestion = PresenceSubject | { readonly pattern: string };

export interface PresenceAnswer extends DevicePresence {
  /** Why the verdict is as it is, in a sentence. */
  readonly why: string;
  /** Each visible specimen, in the order they came. */
  readonly specimens: readonly (Presence & { readonly specimen: string })[];
}

/**
 * What a device has of something. Its components are counted, or the matches of a pattern.
 * @throws CasebackError BAD_INPUT for an unknown term, NOT_FOUND for an unknown id; both with near names
 */
export async function presenceAnswer(
  state: State,
  device: string,
  of: PresenceQuestion,
  signal?: AbortSignal,
): Promise<PresenceAnswer> {
  if (!('pattern' in of)) return presenceOfName(state, device, subjectName(state, of));
  return presenceOfPattern(state, device, resolved(state, of.pattern, ['Pattern']).thing, signal);
}

/** What a device has of a term, part or maker, by a name that is known. */
export function presenceOfName(state: State, device: string, name: string): PresenceAnswer {
  const rows = state.specimensOf(device).map((row) => ({ specimen: row.id, row: presenceRow(state, row) }));
  const thing = thingOf(state, name);
  const all = rows.map(({ row }) => row);
  const found = together(all, thing);
  return {
    ...found,
    why: whyPresence(all, thing, found),
    specimens: rows.map(({ specimen, row }) => ({ specimen, ...specimenPresence(row, thing) })),
  };
}

function presenceOfPattern(
  state: State,
  device: string,
  { text, scope }: NamedPattern,
  signal: AbortSignal | undefined,
): Promise<PresenceAnswer> {
  return mistakesTold(async () => {
    const { patternPresence } = await import('../patterns/verdict.ts');
    return patternPresence(state, { text, scope, signal }, device);
  });
}
