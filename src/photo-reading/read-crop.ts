import type { Crop } from './crop.ts';
import { grainOf, isLightOnDark, type Preparation, prepared, TURNS, type Turn } from './prepare.ts';
import type { ReadText } from './read-text.ts';
import { textOn } from './reader.ts';

/** What was read on a crop. */
export interface CropReading {
  /** Lines of characters, none where nothing was read. */
  readonly lines: ReadText;
  /** How far the crop was turned clockwise for that, degrees. */
  readonly turn: Turn;
  readonly isInverted: boolean;
}

/** Height of a crop when its turn is sought, pixels, and the further heights at which it is read then: characters of one size are read best. */
const HEIGHT = 150;
const FURTHER_HEIGHTS = [80, 300] as const;
/** A character that the program is less sure of than this speaks against a way to read a crop. */
const SURE = 88;
/** Share of grain in the contrast from which on a crop is blurred before it is read, and by how much, pixels. */
const GRAINY = 0.06;
const BLUR = 1.2;

/**
 * Reads a crop in each way up that is asked for, at three sizes, and takes what the program is surest of.
 * @param turns ways up that it may be, clockwise
 * @throws CasebackError OUT_OF_BUDGET, UNAVAILABLE
 */
export async function readCrop(crop: Crop, turns: readonly Turn[] = TURNS): Promise<CropReading> {
  const isInverted = isLightOnDark(crop);
  const blur = grainOf(crop) > GRAINY ? BLUR : 0;
  const read = async (turn: Turn, height: number): Promise<CropReading> => {
    const how: Preparation = { turn, isInverted, blur, height };
    // Grain and scratches are read as lines of characters that the program is not sure of.
    const lines = (await textOn(await prepared(crop, how))).filter(
      (line) => line.length > 0 && surenessOf(line) > 0,
    );
    return { lines, turn, isInverted };
  };
  let best: CropReading | undefined;
  const take = (one: CropReading) => {
    if (!best || sureness(one) > sureness(best)) best = one;
  };
  for (const turn of turns) take(await read(turn, HEIGHT));
  const { turn } = best as unknown as CropReading;
  for (const height of FURTHER_HEIGHTS) take(await read(turn, height));
  return best as unknown as CropReading;
}

/** How much speaks for a line, and for a way to read a crop. */
const surenessOf = (line: ReadText[number]) =>
  line.reduce((sum, { confidence }) => sum + confidence - SURE, 0);
const sureness = ({ lines }: CropReading) => lines.reduce((sum, line) => sum + surenessOf(line), 0);
