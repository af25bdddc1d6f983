/** A character as the program read it, and how sure it is, 0 to 100: a figure of its own, no probability. */
export interface ReadSymbol {
  readonly text: string;
  readonly confidence: number;
}

/** Lines of characters. */
export type ReadText = readonly (readonly ReadSymbol[])[];
