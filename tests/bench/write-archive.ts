import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { writeCatalogue, writeDossier } from '../../src/dossier/write.ts';
import { specimenIdOf } from '../../src/model/dossier.ts';
import { generateCatalogue, generateDossiers, seededRandom } from './generate.ts';

// A generated archive as files: node src/run.mjs --script tests/bench/write-archive.ts DEVICES FOLDER [SEED]

/** Writes a generated archive as a catalogue file and a dossier file for each device. */
export function writeArchive(devices: number, folder: string, seed: number): void {
  const random = seededRandom(seed);
  const catalogue = generateCatalogue(devices, random);
  mkdirSync(join(folder, 'dossiers'), { recursive: true });
  writeFileSync(join(folder, 'catalogue.yaml'), writeCatalogue(catalogue));
  for (const dossier of generateDossiers(devices, catalogue, random)) {
    const name = `${specimenIdOf(dossier).replace('/', '.')}.yaml`;
    writeFileSync(join(folder, 'dossiers', name), writeDossier(dossier));
  }
}

if (process.argv[1] === import.meta.filename) {
  const [devices, folder, seed = '1'] = process.argv.slice(2);
  if (!(Number(devices) > 0) || !folder) {
    console.error('Usage: write-archive.ts DEVICES FOLDER [SEED]');
    process.exit(2);
  }
  writeArchive(Number(devices), folder, Number(seed));
}
