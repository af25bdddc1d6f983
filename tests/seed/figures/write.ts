import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { partsOf, withFigures } from './file.ts';

// Draws all outlines and figures of the demo catalogue anew and writes them into seed-data/parts/:
//   node src/run.mjs --script tests/seed/figures/write.ts

const folder = fileURLToPath(new URL('../../../seed-data/parts/', import.meta.url));
const names = readdirSync(folder);
const texts = names.map((name) => readFileSync(folder + name, 'utf8'));
const parts = new Map(texts.flatMap((text) => [...partsOf(text)]));
names.forEach((name, index) => {
  writeFileSync(folder + name, withFigures(texts[index], parts));
});
