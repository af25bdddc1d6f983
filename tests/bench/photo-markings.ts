import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { type PhotoConfusionCounts, READ_CHARACTERS } from '../../src/identification/photo-confusion.ts';
import { readCrop } from '../../src/photo-reading/read-crop.ts';
import { READER } from '../../src/photo-reading/reader.ts';
import { CONDITIONS, FACES, type Face, rendered } from '../photo-reading/renders.ts';
import { alignedCharacters } from '../photo-reading/tally.ts';

// Counts how the program that reads photos misreads characters, on codes rendered as a laser writes them, and writes
// schema/photo-confusions.yaml. Run when the program, its data or how crops are made ready has changed:
//
//     node src/run.mjs --script tests/bench/photo-markings.ts --each 60
//
// The counts follow from the seeds. tests/bench/photo-markings-held-out.ts says what they are worth.

const FILE = new URL('../../schema/photo-confusions.yaml', import.meta.url);
const BANDS = [0, 90, 95, 98];

const { each } = parseArgs({ options: { each: { type: 'string', default: '60' } } }).values;
const bandOf = (confidence: number) => BANDS.findLastIndex((from) => confidence >= from);
const add = (row: Record<string, number[]>, read: string, confidence: number) => {
  row[read] ??= BANDS.map(() => 0);
  row[read][bandOf(confidence)]++;
};

const conditions: PhotoConfusionCounts['conditions'] = {};
for (const condition of CONDITIONS) {
  const counts: PhotoConfusionCounts['conditions'][string] = {
    markings: 0,
    read: {},
    dropped: {},
    inserted: {},
    lineEnds: { all: 0, lost: 0, inserted: 0 },
  };
  let [right, all] = [0, 0];
  for (const face of Object.keys(FACES) as Face[])
    for (let seed = 1; seed <= Number(each); seed++) {
      const crop = rendered(face, condition, seed + 1_000 * Object.keys(FACES).indexOf(face));
      const { lines } = await readCrop(crop, [0]);
      counts.markings++;
      for (const { truth, read } of alignedCharacters(crop.lines, lines)) {
        const isEnd = truth === '\n' || (truth === undefined && read?.text === '\n');
        if (isEnd) {
          if (truth !== undefined) counts.lineEnds.all++;
          if (truth === undefined) counts.lineEnds.inserted++;
          else if (!read) counts.lineEnds.lost++;
          continue;
        }
        if (truth !== undefined) all++;
        if (truth !== undefined && truth === read?.text) right++;
        if (truth === undefined) add(counts.inserted, read?.text as string, read?.confidence as number);
        else if (read) {
          counts.read[truth] ??= {};
          add(counts.read[truth], read.text, read.confidence);
        } else counts.dropped[truth] = (counts.dropped[truth] ?? 0) + 1;
      }
    }
  conditions[condition] = counts;
  const inserted = Object.values(counts.inserted)
    .flat()
    .reduce((sum, one) => sum + one, 0);
  console.log(
    `${condition}: ${right} of ${all} characters right (${(right / all).toFixed(3)}), ${inserted} inserted`,
  );
}

const key = (text: string) => JSON.stringify(text);
const inOrder = <T>(row: Record<string, T>) =>
  [...READ_CHARACTERS].flatMap((one) => (row[one] === undefined ? [] : [[one, row[one]] as const]));
const flow = <T>(row: Record<string, T>) =>
  `{ ${inOrder(row)
    .map(([one, value]) => `${key(one)}: ${JSON.stringify(value)}`)
    .join(', ')} }`;
const body = Object.entries(conditions).map(
  ([name, { markings, read, dropped, inserted, lineEnds: ends }]) => `  ${name}:
    markings: ${markings}
    lineEnds: { all: ${ends.all}, lost: ${ends.lost}, inserted: ${ends.inserted} }
    dropped: ${flow(dropped)}
    inserted: ${flow(inserted)}
    read:
${inOrder(read)
  .map(([truth, row]) => `      ${key(truth)}: ${flow(row)}`)
  .join('\n')}
`,
);
writeFileSync(
  FILE,
  `# How the program that reads photos takes characters for others: counted by tests/bench/photo-markings.ts, not to be edited by hand.
# Read by ${READER}.
# Codes of random letters and digits in ${Object.keys(FACES).join(', ')} (${each} of each face and condition),
# rendered as a laser writes them. Each list of counts goes by how sure the program was: from ${BANDS.join(', ')} of 100.
bands: [${BANDS.join(', ')}]
conditions:
${body.join('')}`,
);
