import { Archive } from '../../../src/archive.ts';
import type { ReadDocument } from '../../../src/dossier/document/document.ts';
import { readFiles } from '../../../src/dossier/read-files.ts';
import { MemoryJournal } from '../../../src/journal/memory/journal.ts';
import type { Component } from '../../../src/model/dossier.ts';
import { specimenIdOf } from '../../../src/model/dossier.ts';
import { referenceDocuments } from '../../reference-boards.ts';

// The three reference devices (tests/reference/boards/: sources and licences stand there) beside the demo archive, with some of
// what was seen of their chips left blank. Their parts are those of the design files; prints are not in the files, so the ones
// here are made of the part's key.

/** What is left of a component. `print`: what its part is called, as it would be printed. */
export const BLANKS = {
  'as filed': (one) => one,
  'no package': ({ package: _, ...one }) => one,
  'no package, terminals or body': ({ package: _, pins: __, body: ___, ...one }) => one,
  'no nets': (one) => one,
  'print in full': (one, print) => ({ ...one, marking: print }),
  'print in part, no package': ({ package: _, ...one }, print) => ({
    ...one,
    marking: `?${print.slice(1, -1)}?`,
  }),
} as const satisfies Readonly<Record<string, (one: Component, print: string) => Component>>;
export type Blank = keyof typeof BLANKS;

export interface BlankedArchive {
  readonly archive: Archive;
  /** Part of each chip of a reference device, undefined for all else. */
  readonly truth: (specimen: string, component: string) => string | undefined;
}

/** The demo archive and the reference devices, blanked. */
export async function blankedArchive(blank: Blank): Promise<BlankedArchive> {
  const truth = new Map<string, string>();
  const documents = referenceDocuments().map((document): ReadDocument => {
    if (document.kind !== 'dossier') return document;
    const { dossier } = document;
    const parts = new Map(
      dossier.identifications.map(({ component, candidates: [{ part }] }) => [component, part as string]),
    );
    for (const [component, part] of parts) truth.set(`${specimenIdOf(dossier)}/${component}`, part);
    return {
      ...document,
      dossier: {
        ...dossier,
        components: dossier.components.map(({ pinout: _, ...one }) => {
          const part = parts.get(one.id);
          return part === undefined ? one : BLANKS[blank](one, printOf(part));
        }),
        nets: blank === 'no nets' ? [] : dossier.nets,
      },
    };
  });
  const demo = readFiles([`${import.meta.dirname}/../../../seed-data`]).documents;
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments([...demo, ...documents], { actor: 'bench', reason: blank });
  return { archive, truth: (specimen, component) => truth.get(`${specimen}/${component}`) };
}

function printOf(part: string): string {
  return part.slice(part.indexOf('/') + 1).toUpperCase();
}
