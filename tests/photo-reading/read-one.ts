import { readCrop } from '../../src/photo-reading/read-crop.ts';
import { rendered } from './renders.ts';

// Reads one crop and says what was read; tests run it as a process of its own.

const { lines } = await readCrop(rendered('DejaVu Sans Mono', 'clean', 1), [0]);
console.log(lines.map((line) => line.map(({ text }) => text).join('')).join('\n'));
