import { BODY_SITES } from '../../model/dossier.ts';
import type { DeviceFilter } from '../../state/device-list.ts';
import type * as Api from './resolver-types.ts';
import { enumWord, knownTerm } from './words.ts';

/** A filter in the archive's own words. @throws CasebackError BAD_INPUT for a term that the taxonomy does not hold */
export function deviceFilter(input: Api.DeviceFilter | null | undefined): DeviceFilter {
  if (!input) return {};
  knownTerm(input.holdsCategory, 'holdsCategory');
  return { ...input, bodySites: input.bodySites?.map((name) => enumWord(BODY_SITES, name)) };
}
