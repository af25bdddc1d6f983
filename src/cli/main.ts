import { enableCompileCache } from 'node:module';
import { fileURLToPath } from 'node:url';
import { main } from './command-line.ts';
import { EXIT } from './frame/exit.ts';

// Reading types off the source and compiling it takes a third of a start; the second start finds it done.
enableCompileCache(fileURLToPath(new URL('../../node_modules/.cache/caseback', import.meta.url)));
for (const stream of [process.stdout, process.stderr]) stream.on('error', endQuietly);
process.exitCode = await main(process.argv.slice(2));

/** A reader such as `head` that has seen enough closes the pipe; that is no failure of ours. */
function endQuietly(error: NodeJS.ErrnoException): void {
  if (error.code === 'EPIPE') process.exit(EXIT.fine);
  throw error;
}
