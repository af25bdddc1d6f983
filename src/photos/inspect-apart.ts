import { CasebackError } from '../model/problems.ts';
import { inThread } from '../threads/in-thread.ts';
import type { InspectAnswer, InspectedPhoto } from './inspect.ts';
import { NoPhoto } from './refusal.ts';

/** Photos that wait to be looked into; each is held in memory. */
const MOST_WAITING = 8;
/** The heap of a thread, MB; pixels are outside it. */
const RESOURCES = { maxOldGenerationSizeMb: 256 };

let last: Promise<unknown> = Promise.resolve();
let waiting = 0;

/**
 * Looks into the file of a photo in a thread of its own, one photo after the other, so that whatever somebody sends holds up no other
 * answer and takes the memory of one picture.
 * @param content moved into the thread, and out of it into what is returned: who asked has it no longer
 * @throws NoPhoto as `inspectPhoto`; CasebackError UNAVAILABLE when too many wait
 */
export async function inspectApart(content: Uint8Array): Promise<InspectedPhoto> {
  if (waiting >= MOST_WAITING)
    throw new CasebackError('UNAVAILABLE', `${MOST_WAITING} photos wait already; send this one again soon`);
  waiting++;
  // Small buffers share their memory with others, and cannot be moved; copying a large one holds everything up.
  const isOwn = content.byteLength === content.buffer.byteLength && content.buffer instanceof ArrayBuffer;
  const moved = (isOwn ? content : new Uint8Array(content)) as Uint8Array<ArrayBuffer>;
  const before = last;
  const answer = before.then(() =>
    inThread<InspectAnswer>(new URL('./inspect-thread.ts', import.meta.url), moved, {
      resourceLimits: RESOURCES,
      transferList: [moved.buffer],
    }),
  );
  last = answer.catch(() => undefined);
  try {
    const said = await answer;
    if ('why' in said) throw new NoPhoto(said.why, said.fix);
    return { file: said.file, content: said.content };
  } finally {
    waiting--;
  }
}
