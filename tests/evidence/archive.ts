import type { z } from 'zod';
import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/read.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { catalogueSchema, partIdOf, type publicationSchema } from '../../src/model/catalogue.ts';
import { type Dossier, deviceIdOf, dossierSchema } from '../../src/model/dossier.ts';
import type { Change, Entry } from '../../src/model/entry.ts';
import { documents, dossierOf, parts } from '../seed/seed.ts';

export const BY = { actor: 'I. Example', reason: 'a second look' } as const;

const place = { file: 'made', locate: () => ({ line: 1, column: 1 }) };

/** Publications as a file of their own. */
export function publicationsFile(publications: readonly z.input<typeof publicationSchema>[]): ReadDocument {
  return {
    ...place,
    kind: 'catalogue',
    catalogue: catalogueSchema.parse({ caseback: 'catalogue/1', publications }),
  };
}

export function dossierFile(written: z.input<typeof dossierSchema>): ReadDocument {
  return { ...place, kind: 'dossier', dossier: dossierSchema.parse(written) };
}

/** Files of the demo archive without its publications: these specimens and patterns, and parts that these may be or that are named. */
export function demoFiles(
  specimens: readonly string[],
  patternIds: readonly string[],
  partIds: readonly string[] = [],
): readonly ReadDocument[] {
  const wanted = specimens.map(dossierOf);
  const devices = new Set(wanted.map(deviceIdOf));
  const held = wanted.flatMap(({ identifications, judgements = [] }) => [
    ...identifications.flatMap(({ candidates }) => candidates.flatMap(({ part }) => part ?? [])),
    ...judgements.map(({ part }) => part),
  ]);
  const originals = [...held, ...partIds].flatMap((id) => parts.get(id)?.relabels ?? []);
  const named = new Set([...held, ...partIds, ...originals]);
  return documents.flatMap((one): ReadDocument[] => {
    if (one.kind === 'catalogue') {
      const catalogue = {
        ...one.catalogue,
        publications: [],
        patterns: one.catalogue.patterns.filter(({ id }) => patternIds.includes(id)),
        parts: one.catalogue.parts.filter((part) => named.has(partIdOf(part))),
      };
      return [{ ...one, catalogue }];
    }
    return wanted.includes(one.dossier) ? [{ ...one, dossier: withoutOthers(one.dossier, devices) }] : [];
  });
}

/** A dossier whose device follows none that is left out. */
function withoutOthers(dossier: Dossier, named: ReadonlySet<string>): Dossier {
  const { device } = dossier;
  if (typeof device === 'string') return dossier;
  return { ...dossier, device: { ...device, succeeds: device.succeeds.filter((id) => named.has(id)) } };
}

export interface Kept {
  readonly archive: Archive;
  readonly journal: MemoryJournal;
}

/** An archive in memory with these files. @param clock what the journal and the archive take for now */
export async function archiveWith(files: readonly ReadDocument[], clock?: () => Date): Promise<Kept> {
  const journal = new MemoryJournal(clock && { clock });
  const archive = await Archive.open(journal, clock);
  await archive.importDocuments(files, BY);
  return { archive, journal };
}

/** The changes of a journal, from which any number of like archives can be made. */
export async function changesOf(journal: MemoryJournal): Promise<readonly Change[]> {
  const entries: Entry[] = [];
  for await (const batch of journal.read()) entries.push(...batch);
  return entries.map(({ kind, actor, reason, payload }) => ({ kind, actor, reason, payload }) as Change);
}

export async function archiveFrom(changes: readonly Change[], clock?: () => Date): Promise<Kept> {
  const journal = new MemoryJournal(clock && { clock });
  await journal.append(changes);
  return { archive: await Archive.open(journal, clock), journal };
}
