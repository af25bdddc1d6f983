import type { TradeReading } from '../board-design.ts';

/** What a thread that reads a workbook is given. */
export interface WorkbookTask {
  readonly bytes: Uint8Array;
  readonly file: string;
  readonly reading: TradeReading;
}
