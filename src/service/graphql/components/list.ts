import { SIDES } from '../../../model/board.ts';
import { dateRange } from '../../../model/dates.ts';
import { compareDesignators } from '../../../model/designator.ts';
import { CasebackError } from '../../../model/problems.ts';
import { COLUMN, COLUMNS } from '../../../state/lists/component-columns.ts';
import {
  type ComponentFilter,
  type ComponentOrder,
  type ComponentRef,
  listComponents,
} from '../../../state/lists/component-list.ts';
import type { State } from '../../../state/state.ts';
import { componentSource } from '../component-sources.ts';
import { deviceFilter } from '../device-filter.ts';
import { compareKeys, type Key, reversedListing, sortedListing } from '../listing.ts';
import { type PageArguments, paginate } from '../paginate.ts';
import type * as Api from '../resolver-types.ts';
import { enumWord, knownTerm } from '../words.ts';

/** One page of the components that pass a filter; only dossiers with a component on the page are unpacked. */
export function pageOfComponents(
  view: State,
  filter: ComponentFilter,
  { field, direction }: Api.ComponentOrder,
  page: PageArguments,
) {
  const listing = direction === 'DESC' ? reversedListing : sortedListing;
  const found = listComponents(view, filter, field);
  const list = listing(
    `components by ${field} ${direction}`,
    found,
    (ref) => keyOf(view, field, ref),
    compareComponentKeys,
  );
  return paginate(list, page, ({ specimen, row }) => {
    const opened = view.specimen(specimen.id);
    if (!opened) throw new Error(`specimen ${specimen.id} vanished while its page was made`);
    return componentSource(view, opened, opened.dossier.components[row]);
  });
}

/** Sort value, specimen, designator. */
function keyOf(view: State, field: ComponentOrder, { specimen, row }: ComponentRef): Key {
  const released = field === 'RELEASED' ? view.device(specimen.deviceId)?.released : undefined;
  const designator = view.shared.names.textOf(specimen.columns[row * COLUMNS + COLUMN.designator]);
  return [released ? dateRange(released).first : '', specimen.id, designator];
}

function compareComponentKeys(a: Key, b: Key): number {
  return compareKeys(a.slice(0, 2), b.slice(0, 2)) || compareDesignators(String(a[2]), String(b[2]));
}

/** A filter in the archive's own words. @throws CasebackError BAD_INPUT for an unknown term or a number out of range */
export async function componentFilter(
  view: State,
  input: Api.ComponentFilter | null | undefined,
  signal: AbortSignal,
): Promise<ComponentFilter> {
  if (!input) return {};
  const { categoryProbabilityAtLeast: minimum, side, device } = input;
  knownTerm(input.category, 'category');
  if (typeof minimum === 'number' && !(minimum >= 0 && minimum <= 1))
    throw new CasebackError('BAD_INPUT', `categoryProbabilityAtLeast is ${minimum}; it must be 0 to 1`);
  return {
    ...input,
    device: device ? await deviceFilter(view, device, signal) : undefined,
    side: side ? enumWord(SIDES, side) : undefined,
  };
}
