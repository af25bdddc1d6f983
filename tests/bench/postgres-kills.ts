// Kills a PostgreSQL server (SIGKILL, fsync on) and processes that append to it, under load, and looks at what is left.
// node src/run.mjs --script tests/bench/postgres-kills.ts [KILLS OF THE SERVER] [KILLS OF WRITERS]
// Ends with 1 when an acknowledged append is lost, one is there in part, the chain is broken or a key was done twice.
import { killUnderLoad } from '../postgres/kills.ts';
import { seededRandom } from './generate.ts';

const [server = 100, writers = 100] = process.argv.slice(2).map(Number);
const outcome = await killUnderLoad({ server, writers }, seededRandom(20261130));
console.log({ server, writers, ...outcome });
process.exitCode = outcome.lost + outcome.partial + outcome.faults === 0 && outcome.said === '' ? 0 : 1;
