import { readFileSync } from 'node:fs';
import { formatProblem } from '../../src/model/problems.ts';
import { readAnyTradeFile } from '../../src/trade-files/read.ts';

// Reads one trade file and prints what it says with the most memory that the process had, MiB.

const [path] = process.argv.slice(2);
const read = await readAnyTradeFile(readFileSync(path), 'parts.xlsx').then(
  (file) => ({
    told: (file?.problems ?? []).map(formatProblem),
    components: file?.boards?.[0]?.components.length ?? 0,
  }),
  (error: Error) => ({ told: [error.message], components: 0 }),
);
// Kilobytes, on every system.
const { maxRSS } = process.resourceUsage();
process.stdout.write(`${JSON.stringify({ ...read, memory: maxRSS / 1024 })}\n`);
