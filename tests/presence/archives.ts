import { Archive } from '../../src/archive.ts';
import type { ReadDocument } from '../../src/dossier/read.ts';
import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import type { Dossier } from '../../src/model/dossier.ts';
import { generateCatalogue, generateDossiers, seededRandom } from '../bench/generate.ts';
import { documents } from '../seed/seed.ts';

export const BY = { actor: 'bench', reason: 'test' } as const;

/** The demo archive. */
export function demo(): Promise<Archive> {
  return imported(documents);
}

/**
 * A generated archive with what the demo archive has less of: two thirds of the boards fully inventoried, every fourth
 * device opened twice with other candidates, chips that nobody could name, candidates of a few percent.
 */
export async function generated(seed: number, devices = 40): Promise<Archive> {
  return imported(generatedFiles(seed, devices));
}

/** The files of a generated archive. */
export function generatedFiles(seed: number, devices = 40): readonly ReadDocument[] {
  const random = seededRandom(seed);
  const catalogue = generateCatalogue(devices, random);
  const parts = catalogue.parts.map(({ maker, number }) => `${maker}/${number}`);
  const one = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)];
  const unsure = (identifications: Dossier['identifications']) =>
    identifications
      .filter(() => random() > 0.1)
      .map((identification) => {
        if (random() > 0.2) return identification;
        const p = one([0.01, 0.03, 0.04, 0.2, 0.45]);
        const candidates = [
          { part: one(parts), probability: p },
          ...(random() < 0.5 ? [{ category: one(['Microphone', 'Charger', 'Radio']), probability: p }] : []),
        ];
        return { ...identification, candidates };
      });
  const dossiers = [...generateDossiers(devices, catalogue, random)].flatMap((dossier, at): Dossier[] => {
    const boards = dossier.boards.map((board) => ({
      ...board,
      ...(random() < 0.67 ? { fullyInventoried: true } : {}),
    }));
    const first = { ...dossier, boards, identifications: unsure(dossier.identifications) };
    if (at % 4 > 0 || typeof dossier.device === 'string') return [first];
    const device = dossier.device.id;
    const second = { ...first, device, specimen: { ...dossier.specimen, id: 'b', revision: 'B' } };
    const dropped = one(dossier.components).id;
    return [
      first,
      {
        ...second,
        components: second.components.filter(({ id }) => id !== dropped),
        connections: second.connections.filter(({ between }) => !between.includes(dropped)),
        observations: second.observations.filter(({ about }) => !about.includes(dropped)),
        identifications: unsure(dossier.identifications).filter(({ component }) => component !== dropped),
      },
    ];
  });
  const read = { file: 'generated', locate: () => ({ line: 1, column: 1 }) };
  return [
    { ...read, kind: 'catalogue', catalogue },
    ...dossiers.map((dossier) => ({ ...read, kind: 'dossier' as const, dossier })),
  ];
}

/** An archive of some files. */
export async function imported(files: readonly ReadDocument[]): Promise<Archive> {
  const archive = await Archive.open(new MemoryJournal());
  await archive.importDocuments(files, BY);
  return archive;
}
