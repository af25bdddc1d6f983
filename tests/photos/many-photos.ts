import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { CATALOGUE } from '../cli/invented.ts';
import { sha256Of } from './pictures.ts';

/** Photos of one dossier. */
const OF_EACH = 50;

/**
 * Writes a catalogue and dossiers with as many small photos, no two alike, beside them.
 * @returns names of the dossiers
 */
export async function writeManyPhotos(folder: string, count: number): Promise<readonly string[]> {
  mkdirSync(join(folder, 'photos'), { recursive: true });
  writeFileSync(join(folder, 'catalogue.yaml'), CATALOGUE);
  const names: string[] = [];
  for (let from = 0; from < count; from += OF_EACH) {
    const photos: string[] = [];
    for (let i = from; i < Math.min(count, from + OF_EACH); i++) {
      // Four squares whose colours are the digits of a number.
      const data = Buffer.from(
        [0, 1, 2, 3].flatMap((k) => [(i >> (3 * k)) & 7, k, i & 255].map((v) => (v * 31) & 255)),
      );
      const content = await sharp(data, { raw: { width: 2, height: 2, channels: 3 } })
        .resize(48, 36, { kernel: 'nearest', fit: 'fill' })
        .jpeg({ quality: 80 })
        .toBuffer();
      // A comment with the number makes each file its own.
      const comment = Buffer.from(`photo ${i}`);
      const file = Buffer.concat([
        content.subarray(0, 2),
        Buffer.from([0xff, 0xfe, 0, comment.length + 2]),
        comment,
        content.subarray(2),
      ]);
      writeFileSync(join(folder, 'photos', `${i}.jpg`), file);
      photos.push(
        `  - { id: p${i}, sha256: ${sha256Of(file)}, file: photos/${i}.jpg, credit: A. Example, licence: CC-BY-4.0 }`,
      );
    }
    const name = `quoin-disc-${from / OF_EACH}`;
    writeFileSync(
      join(folder, `${name}.yaml`),
      `caseback: dossier/1
device: { id: ${name}, name: Quoin Disc ${from / OF_EACH}, maker: ferrule-works, released: "2020", bodySite: wrist, invented: true }
specimen: { id: a }
teardown: { on: 2021-02, by: A. Example, hazards: [] }
photos:
${photos.join('\n')}
`,
    );
    names.push(`${name}.yaml`);
  }
  return names;
}
