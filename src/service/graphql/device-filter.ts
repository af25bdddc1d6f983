import { BODY_SITES } from '../../model/dossier.ts';
import { devicesHaving } from '../../presence/presence.ts';
import { checkDeviceFilter } from '../../questions/devices.ts';
import type { DeviceFilter } from '../../state/lists/device-list.ts';
import type { State } from '../../state/state.ts';
import type * as Api from './resolver-types.ts';
import { enumWord, knownTerm } from './words.ts';

/**
 * A filter in the archive's own words.
 * @throws CasebackError BAD_INPUT for an unknown term or a contradiction, NOT_FOUND for an unknown maker or product line
 */
export async function deviceFilter(
  view: State,
  given: Api.DeviceFilter | null | undefined,
  signal: AbortSignal,
): Promise<DeviceFilter> {
  if (!given) return {};
  const { hasPart, hasCategory, ...input } = given;
  knownTerm(hasCategory, 'hasCategory');
  const filter = { ...input, bodySites: input.bodySites?.map((name) => enumWord(BODY_SITES, name)) };
  checkDeviceFilter(view, filter);
  return { ...filter, among: await devicesHaving(view, { hasPart, hasCategory }, signal) };
}
