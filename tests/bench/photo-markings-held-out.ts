import { channelOf } from '../../src/identification/photo-channel.ts';
import { readCrop } from '../../src/photo-reading/read-crop.ts';
import { clopperPearson } from '../../src/statistics/proportion.ts';
import { blankEpoxy } from '../photo-reading/chip-photo.ts';
import { heldOut, SPOILT } from '../photo-reading/held-out.ts';
import { blank } from '../photo-reading/renders.ts';
import { alignedCharacters } from '../photo-reading/tally.ts';

// What the counts of schema/photo-confusions.yaml are worth: on codes in another face, spoilt by other means, how many characters are
// read right, and whether what is stated of a character comes true as often as stated.
//
//     node src/run.mjs --script tests/bench/photo-markings-held-out.ts 100

const each = Number(process.argv[2] ?? 100);
const bins = Array.from({ length: 10 }, () => ({ stated: 0, right: 0, count: 0 }));
for (const how of SPOILT) {
  let [right, all, more, holds] = [0, 0, 0, 0];
  for (let seed = 1; seed <= each; seed++) {
    const crop = await heldOut(how, seed);
    const { lines } = await readCrop(crop, [0]);
    const channel = channelOf(lines);
    const stated = channel.characters().flat();
    let at = 0;
    for (const { truth, read } of alignedCharacters(crop.lines, channel.lines)) {
      if (truth === '\n' || read?.text === '\n') continue;
      if (truth !== undefined) all++;
      if (truth !== undefined && truth === read?.text) right++;
      if (truth === undefined) more++;
      if (!read) continue;
      const { alternatives } = stated[at++];
      if (truth !== undefined && alternatives.some(({ text }) => text === truth)) holds++;
      for (const { text, probability } of alternatives) {
        const bin = bins[Math.min(9, Math.floor(10 * probability))];
        bin.stated += probability;
        bin.count++;
        if (text === truth) bin.right++;
      }
    }
  }
  console.log(
    `${how}: ${(right / all).toFixed(3)} of ${all} characters right, among the alternatives ${(holds / all).toFixed(3)}, ${more} inserted`,
  );
}
for (const [at, { stated, right, count }] of bins.entries()) {
  if (count === 0) continue;
  const { low, high } = clopperPearson(right, count);
  console.log(
    `${(at / 10).toFixed(1)} to ${((at + 1) / 10).toFixed(1)}  ${String(count).padStart(5)}  stated ${(stated / count).toFixed(3)}  true ${(right / count).toFixed(3)} (${low.toFixed(3)} to ${high.toFixed(3)})`,
  );
}
for (const [name, crop] of [
  ['grain and seams', (seed: number) => blankEpoxy(50 + ((seed * 7) % 160), 40 + ((seed * 11) % 130), seed)],
  ['grain, scratches and the board beside', blank],
] as const) {
  let suggested = 0;
  // In use a crop is tried all four ways up.
  for (let seed = 1; seed <= each; seed++)
    if (channelOf((await readCrop(crop(seed))).lines).suggestion()) suggested++;
  console.log(`no mark, ${name}: something suggested on ${suggested} of ${each}`);
}
