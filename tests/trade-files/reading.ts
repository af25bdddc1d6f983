import { expect } from 'vitest';
import { formatProblem } from '../../src/model/problems.ts';
import type {
  DesignBoard,
  DesignComponent,
  TradeFile,
  TradeReading,
} from '../../src/trade-files/board-design.ts';
import { readTradeFile } from '../../src/trade-files/read.ts';

/** A file as read, whatever is wrong with it. */
export function reading(text: string | Uint8Array, file = 'file', how: TradeReading = {}): TradeFile {
  const found = readTradeFile(typeof text === 'string' ? Buffer.from(text) : text, file, how);
  if (!found) throw new Error(`${file} is no trade file`);
  return found;
}

/** The only board of a file without problems. */
export function boardOf(text: string | Uint8Array, how: TradeReading = {}): DesignBoard {
  const { problems, boards } = reading(text, 'file', how);
  expect(problems).toEqual([]);
  expect(boards).toHaveLength(1);
  return (boards as readonly DesignBoard[])[0];
}

/** A component of a board by its designator. */
export function componentOf(board: DesignBoard, designator: string): DesignComponent {
  const found = board.components.find((one) => one.designator === designator);
  if (!found)
    throw new Error(`${designator} is not among ${board.components.map((one) => one.designator).join(', ')}`);
  return found;
}

export function problemsOf(text: string | Uint8Array, how: TradeReading = {}): readonly string[] {
  return reading(text, 'file', how).problems.map(formatProblem);
}

export function cautionsOf(text: string | Uint8Array, how: TradeReading = {}): readonly string[] {
  return reading(text, 'file', how).cautions.map(formatProblem);
}
