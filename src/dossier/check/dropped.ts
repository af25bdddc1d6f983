import type { Dossier } from '../../model/dossier.ts';
import { withDeviceId } from '../devices.ts';
import type { DossierDocument, Path } from '../document/document.ts';
import { same } from '../document/same.ts';
import { refiled } from '../kept-nets.ts';
import type { ArchiveRule } from './context.ts';

/** Things that a message names; more are counted. */
const NAMED = 5;

/**
 * A dossier that is filed again stands in place of the one before. What that one had and this one leaves out is told, since it may have come
 * from a trade file or a correction and not from the file that is edited.
 */
export const whatIsLeftOutIsTold: ArchiveRule = (documents, held, report) => {
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    const filed = refiled(document.dossier, held);
    if (!filed) continue;
    const { dossier, before } = filed;
    const kept = document.kept ?? filed.kept;
    if (kept && !same(withDeviceId(dossier), withDeviceId(before))) {
      const { nets, components } = kept;
      const also =
        components.length === 0
          ? ''
          : `, and with them ${named(components)}, which ${components.length === 1 ? 'is' : 'are'} not in the file`;
      report(
        document,
        [],
        `leaves nets out: ${counted(nets, 'net')} on record stay${nets === 1 ? 's' : ''}${also}`,
        'write "nets: []" to drop them',
        'caution',
      );
    }
    for (const { what, of, at } of leftOut(before, dossier))
      report(
        document,
        placeOf(document, at),
        of.length === 0
          ? `drops ${what}, which the archive has`
          : `drops ${what}, which the archive has: ${named(of)}`,
        'to keep what trade files or corrections brought, export the dossier and change that',
        'caution',
      );
  }
};

function named(ids: readonly string[]): string {
  const shown = ids.slice(0, NAMED).join(', ');
  return ids.length > NAMED ? `${shown} and ${ids.length - NAMED} more` : shown;
}

function counted(count: number, noun: string): string {
  return count === 1 ? `1 ${noun}` : `${count} ${noun}s`;
}

/** The place of a list that the file has; else its beginning. */
function placeOf({ dossier }: DossierDocument, [list]: Path): Path {
  return list !== undefined && (dossier as Record<PropertyKey, unknown>)[list] !== undefined ? [list] : [];
}

/** Something that the dossier before had, one line for things of one kind. */
interface LeftOut {
  /** `3 components`, `pins of 2 components` or `specimen.region`. */
  readonly what: string;
  /** Names of the things, where they have any. */
  readonly of: readonly string[];
  readonly at: Path;
}

/** Lists of a dossier: what one of their items is called, and how it is told from the others. */
const LISTS: { readonly [K in keyof Dossier]?: readonly [noun: string, nameOf: (item: never) => string] } = {
  boards: ['board', byId],
  subsystems: ['subsystem', byId],
  components: ['component', byId],
  connections: [
    'connection',
    ({ between }: Dossier['connections'][number]) => between.toSorted().join(' to '),
  ],
  nets: ['net', byId],
  observations: ['observation', byId],
  identifications: ['identification', ({ component }: Dossier['identifications'][number]) => component],
  judgements: [
    'judgement',
    ({ component, part }: NonNullable<Dossier['judgements']>[number]) => `${component} as ${part}`,
  ],
  photos: ['photo', byId],
};

function byId({ id }: { readonly id: string }): string {
  return id;
}

/** What a dossier leaves out that the one before had: items of its lists, fields of those items, members of lists in them, own fields. */
function leftOut(before: Dossier, after: Dossier): readonly LeftOut[] {
  const found: LeftOut[] = [];
  for (const [list, [noun, nameOf]] of Object.entries(LISTS)) {
    const [had, has] = [before, after].map(
      (one) => ((one as Readonly<Record<string, unknown>>)[list] ?? []) as readonly never[],
    );
    // Two chips may be joined twice: then only that one is gone can be told.
    const [then, now] = [Map.groupBy(had, nameOf), Map.groupBy(has, nameOf)];
    const gone = [...then].flatMap(([name, items]) =>
      (now.get(name)?.length ?? 0) < items.length ? [name] : [],
    );
    if (gone.length > 0) found.push({ what: counted(gone.length, noun), of: gone, at: [list] });
    // Another conclusion of a component, or another observation, is told of elsewhere.
    if (list === 'identifications' || list === 'judgements' || list === 'observations') continue;
    const fields = new Map<string, string[]>();
    for (const [name, [item, twin]] of then) {
      const [other, another] = now.get(name) ?? [];
      if (other === undefined || twin !== undefined || another !== undefined) continue;
      for (const field of fieldsLeftOut(item, other)) {
        const names = fields.get(field);
        if (names) names.push(name);
        else fields.set(field, [name]);
      }
    }
    for (const [field, of] of fields)
      found.push({
        what: `${field} of ${of.length === 1 ? `a ${noun}` : `${of.length} ${noun}s`}`,
        of,
        at: [list],
      });
  }
  for (const field of ['specimen', 'teardown'] as const)
    for (const lost of fieldsLeftOut(before[field], after[field]))
      found.push({ what: `${field}.${lost}`, of: [], at: [field] });
  if (before.note !== undefined && after.note === undefined) found.push({ what: 'note', of: [], at: [] });
  return found;
}

/** Fields that one item had and the other has not, and its lists that lost members. */
function fieldsLeftOut(before: object, after: object): readonly string[] {
  const now = after as Readonly<Record<string, unknown>>;
  return Object.entries(before).flatMap(([field, had]): readonly string[] => {
    const has = now[field];
    if (had === undefined) return [];
    if (has === undefined) return [field];
    if (!Array.isArray(had) || !Array.isArray(has)) return [];
    const isOfTexts = had.every((one) => typeof one === 'string');
    const fewer = isOfTexts ? had.some((one) => !has.includes(one)) : has.length < had.length;
    return fewer ? [`some ${field}`] : [];
  });
}
