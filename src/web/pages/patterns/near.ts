import type { Ask } from '../../api/ask.ts';
import { NearMatches, type NearMatchesQuery } from './pattern.graphql.ts';

export type NearAnswer = NonNullable<NonNullable<NearMatchesQuery['findPattern']>['nearMatches']>;

/** Devices that would show a pattern but for one thing; undefined where there is no answer. */
export async function nearOf(
  of: { readonly id: string } | { readonly text: string },
  ask: Ask,
  signal?: AbortSignal,
): Promise<NearAnswer | undefined> {
  return (await ask(NearMatches, of, signal)).data.findPattern?.nearMatches ?? undefined;
}
