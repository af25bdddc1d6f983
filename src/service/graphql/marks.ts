import type { Visible } from '../../model/visibility.ts';
import type { State } from '../../state/state.ts';
import { recallOf } from '../../state/visibility/audience.ts';
import { enumName } from './words.ts';

/**
 * The fields that tell the desk who may see a thing. Readers are told nothing: what they see is open to them, and a mark
 * might tell of another version. Null to the desk too where nothing is said, or where the thing says nothing of its own.
 * @param marksOf what is said of a source; its fields themselves unless told otherwise
 * @param otherwise what counts where nothing is said; left out, the thing is as public as what it stands in
 */
export function marks<S extends { readonly view: State }>(
  marksOf: (source: S) => Visible | undefined,
  otherwise?: 'published',
) {
  const told = (source: S) => (source.view.audience === 'desk' ? (marksOf(source) ?? {}) : undefined);
  return {
    visibility: (source: S) => {
      const said = told(source);
      return said && enumName(said.visibility ?? otherwise);
    },
    embargoUntil: (source: S) => told(source)?.embargoUntil,
  };
}

/** Of a thing that says it itself. */
export const itself = <S extends Visible>(source: S): Visible => source;

/** Who recalled a thing, when and why, for the desk alone. */
export const recalled = <S extends { readonly view: State; readonly id: string }>({ view, id }: S) =>
  view.audience === 'desk' ? recallOf(view.facts, id) : undefined;
