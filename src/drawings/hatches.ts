// Hatchings that tell subsystems apart in grey: direction, distance and pen, no two alike.

/** A hatch: lines across a tile, drawn again and again. */
export interface Hatch {
  /** Edge of the square tile, mm. */
  readonly tile: number;
  /** Degrees that the tile is turned, clockwise. */
  readonly turn: number;
  /** Along x, along y, both, or dots. */
  readonly marks: 'lines' | 'grid' | 'dots';
  /** Width of lines, diameter of dots, mm. */
  readonly pen: number;
}

export const HATCHES: readonly Hatch[] = [
  { tile: 1.1, turn: 45, marks: 'lines', pen: 0.13 },
  { tile: 1.1, turn: -45, marks: 'lines', pen: 0.13 },
  { tile: 1.2, turn: 0, marks: 'dots', pen: 0.32 },
  { tile: 1.1, turn: 0, marks: 'lines', pen: 0.13 },
  { tile: 1.1, turn: 90, marks: 'lines', pen: 0.13 },
  { tile: 1.3, turn: 45, marks: 'grid', pen: 0.11 },
  { tile: 1.3, turn: 0, marks: 'grid', pen: 0.11 },
  { tile: 0.6, turn: 45, marks: 'lines', pen: 0.11 },
  { tile: 0.6, turn: 0, marks: 'lines', pen: 0.11 },
  { tile: 0.7, turn: 45, marks: 'dots', pen: 0.22 },
  { tile: 2, turn: -45, marks: 'lines', pen: 0.4 },
  { tile: 2, turn: 90, marks: 'lines', pen: 0.4 },
];

/** Hatch of each subsystem, by its name and by specimen and local id, in the order of the dossiers. */
export interface Hatches {
  readonly byName: ReadonlyMap<string, number>;
  readonly of: (specimen: string) => ReadonlyMap<string, number>;
  /** Names of subsystems that got none, since there are more than hatches. */
  readonly without: readonly string[];
}
