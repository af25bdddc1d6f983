import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { written } from './files.ts';

// Writes nets, passives and pin arrangements into the demo archive: node src/run.mjs --script tests/seed/nets/write.ts

const folder = fileURLToPath(new URL('../../../seed-data/', import.meta.url));
const names = ['parts', 'dossiers'].flatMap((sub) =>
  readdirSync(folder + sub)
    .filter((name) => name.endsWith('.yaml'))
    .map((name) => `${sub}/${name}`),
);
const texts = new Map(names.map((name) => [name, readFileSync(folder + name, 'utf8')]));
for (const [name, text] of written(texts)) if (text !== texts.get(name)) writeFileSync(folder + name, text);
