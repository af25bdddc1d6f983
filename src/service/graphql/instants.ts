import { CasebackError } from '../../model/problems.ts';
import type { State } from '../../state/state.ts';
import type { Context } from './context.ts';

/** The instant of each view that is not of the present. */
const instants = new WeakMap<State, string>();
/** Whether there is any, so that answers of the present need not look. */
let someEarlier = false;

/**
 * The archive at an earlier instant, as far as the asker may see it; embargoes are judged at that instant.
 * @throws CasebackError BAD_INPUT for an instant in the future, or before there was anything
 */
export async function viewAt(context: Context, instant: string): Promise<State> {
  const until = new Date(instant).toISOString();
  // A future instant would lift embargoes early.
  if (until > new Date().toISOString())
    throw new CasebackError('BAD_INPUT', `instant ${instant} lies in the future; ask for a past one`);
  const earlier = await context.archive.asOf(until, context.view.audience, context.signal());
  instants.set(earlier, until);
  someEarlier = true;
  return earlier;
}

/** Instants of cited views: what is dated in their answers has these, and ids stay as they were in the answer that is cited. */
const cited = new WeakMap<State, string>();

/** Dates what a view answers by an instant, ISO 8601 in UTC with milliseconds. */
export function dateBy(view: State, instant: string): void {
  cited.set(view, instant);
  someEarlier = true;
}

/** The instant of a view that is not of the present. */
export function instantOf(view: State): string | undefined {
  return someEarlier ? (instants.get(view) ?? cited.get(view)) : undefined;
}

/**
 * The id of a thing as an answer gives it: of an earlier view with its instant, `tarn-sennit-3@2026-03-01T09:00:00.000Z`, so
 * that whoever keeps answers by id never mixes two times.
 */
export function idIn(view: State, id: string): string {
  const instant = someEarlier ? instants.get(view) : undefined;
  return instant === undefined ? id : `${id}@${instant}`;
}

/** What an id of an answer names, and at which instant; undefined for the present. */
export function readId(id: string): { readonly id: string; readonly instant?: string } {
  const read = /^(.+)@(\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z)$/u.exec(id);
  return read ? { id: read[1], instant: read[2] } : { id };
}
