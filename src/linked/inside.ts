import { componentMeant, pinOf, thingId } from '../model/ids.ts';
import { localIdsOf, type OpenedSpecimen } from '../state/specimen.ts';
import { type Linking, some } from './nodes.ts';
import { recordIri } from './places.ts';

/** Addresses of what lies in a specimen. */
export interface Inside {
  readonly opened: OpenedSpecimen;
  readonly link: Linking;
  /** Address of what a local id names, in either spelling; undefined where nothing has it. */
  readonly at: (local: string | undefined) => string | undefined;
  readonly all: (locals: readonly string[] | undefined) => readonly string[] | undefined;
  /** Address of a part of something inside that has no id of its own. */
  readonly partOf: (local: string, part: string) => string;
}

/** Addresses of what lies in a specimen. */
export function insideOf(link: Linking, opened: OpenedSpecimen): Inside {
  const known = new Set(localIdsOf(opened));
  const at = (local: string | undefined) => {
    if (local === undefined) return undefined;
    if (known.has(local)) return recordIri(thingId(opened.id, local));
    if (local === opened.id) return recordIri(local);
    const meant = componentMeant(opened.dossier.components, pinOf(local).component);
    return meant && recordIri(thingId(opened.id, meant.id));
  };
  return {
    opened,
    link,
    at,
    all: (locals) => some((locals ?? []).flatMap((local) => at(local) ?? [])),
    partOf: (local, part) => recordIri(thingId(opened.id, local), part),
  };
}
