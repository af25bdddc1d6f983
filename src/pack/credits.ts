import type { Row } from '../export/rows.ts';
import { partIdOf, type Source } from '../model/catalogue.ts';
import type { Device } from '../model/dossier.ts';
import { parseThingId, recordOfId, specimenOfId } from '../model/ids.ts';
import { resolve } from '../state/resolve.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';
import type { PhotoUnder } from './photos.ts';
import type { Statement } from './statement.ts';

/** Whom and what the sentences of a publication rest on directly. */
export interface Credited {
  readonly specimens: readonly OpenedSpecimen[];
  readonly devices: readonly Device[];
  readonly sources: readonly Source[];
}

/** Units, devices and sources that sentences name, or name something in; each in order of ids. */
export function creditedIn(view: State, { sentences }: Statement): Credited {
  const specimens = new Map<string, OpenedSpecimen>();
  const devices = new Map<string, Device>();
  const sources = new Map<string, Source>();
  for (const { support } of sentences) {
    for (const { id } of support) {
      const source = view.source(id);
      if (source) sources.set(id, source);
      const specimen = view.specimen(parseThingId(id) ? specimenOfId(id) : id);
      if (specimen) specimens.set(specimen.id, specimen);
      const found = resolve(view, id);
      const device =
        found?.kind === 'Decision' ? found.device : view.device(specimen ? recordOfId(specimen.id) : id);
      if (device) devices.set(device.id, device);
    }
  }
  const inOrder = <T>(found: ReadonlyMap<string, T>): readonly T[] =>
    [...found].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, thing]) => thing);
  return { specimens: inOrder(specimens), devices: inOrder(devices), sources: inOrder(sources) };
}

/** Parts that are named as support, by id. */
export function partsIn(view: State, { sentences }: Statement): readonly string[] {
  const named = sentences.flatMap(({ support }) => support.flatMap(({ id }) => view.part(id) ?? []));
  return [...new Set(named.map(partIdOf))].sort();
}

/** Licences and credits as rows: who opened what, whose photos and sources are under the sentences, what of it is here. */
export function creditRows(
  { specimens, sources }: Credited,
  photos: readonly PhotoUnder[],
  pathOf: (photo: PhotoUnder) => string | undefined,
): readonly Row[] {
  return [
    ...specimens.map(({ id, dossier: { teardown } }) => ({
      kind: teardown.recordedFrom === 'design-files' ? 'read from design files' : 'opened unit',
      id,
      what: `${teardown.recordedFrom === 'design-files' ? 'read' : 'opened'} ${teardown.on}`,
      credit: teardown.by,
      licence: '',
      file: '',
      'left out because': '',
    })),
    ...photos.map((one) => ({
      kind: 'photo',
      id: one.id,
      what: one.photo.caption ?? '',
      credit: one.photo.credit,
      licence: one.photo.licence,
      file: pathOf(one) ?? '',
      'left out because': one.content !== 'there' && 'why' in one.content ? one.content.why : '',
    })),
    ...sources.map(({ id, kind, title, licence = '', url }) => ({
      kind: 'source',
      id,
      what: `${title} (${kind})`,
      credit: '',
      licence,
      file: '',
      'left out because': url === undefined ? 'it is named, not copied' : `it is named, not copied: ${url}`,
    })),
  ];
}
