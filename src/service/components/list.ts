import { dateRange } from '../../model/dates.ts';
import { compareDesignators } from '../../model/designator.ts';
import { SIDES } from '../../model/dossier.ts';
import { CasebackError } from '../../model/problems.ts';
import { COLUMN, COLUMNS } from '../../state/component-columns.ts';
import {
  type ComponentFilter,
  type ComponentOrder,
  type ComponentRef,
  listComponents,
} from '../../state/component-list.ts';
import type { View } from '../../state/view.ts';
import { enumWord } from '../base/enums.ts';
import { knownTerm } from '../base/terms.ts';
import type { Key } from '../connections/cursor.ts';
import { compareKeys, reversedListing, sortedListing } from '../connections/listing.ts';
import { type PageArguments, paginate } from '../connections/paginate.ts';
import { deviceFilter } from '../devices/list.ts';
import { componentSource } from '../sources/component.ts';

export interface ComponentsArguments extends PageArguments {
  readonly filter?: ComponentFilter | null;
  readonly orderBy: { readonly field: ComponentOrder; readonly direction: 'ASC' | 'DESC' };
}

/** One page of the components that pass a filter; only dossiers with a component on the page are unpacked. */
export function pageOfComponents(view: View, { filter, orderBy, ...page }: ComponentsArguments) {
  const { field, direction } = orderBy;
  const listing = direction === 'DESC' ? reversedListing : sortedListing;
  const found = listComponents(view, componentFilter(filter ?? {}), field);
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
function keyOf(view: View, field: ComponentOrder, { specimen, row }: ComponentRef): Key {
  const released = field === 'RELEASED' ? view.device(specimen.deviceId)?.released : undefined;
  const designator = view.state.names.textOf(specimen.columns[row * COLUMNS + COLUMN.designator]);
  return [released ? dateRange(released).first : '', specimen.id, designator];
}

function compareComponentKeys(a: Key, b: Key): number {
  return compareKeys(a.slice(0, 2), b.slice(0, 2)) || compareDesignators(String(a[2]), String(b[2]));
}

/** The filter in the archive's own words. */
function componentFilter(input: ComponentFilter): ComponentFilter {
  const { categoryProbabilityAtLeast: least, side, device } = input;
  knownTerm(input.category, 'category');
  if (least !== null && least !== undefined && !(least >= 0 && least <= 1)) {
    throw new CasebackError('BAD_INPUT', `categoryProbabilityAtLeast is ${least}; it lies between 0 and 1`);
  }
  return {
    ...input,
    device: device ? deviceFilter(device) : undefined,
    side: side ? enumWord(SIDES, side) : undefined,
  };
}
