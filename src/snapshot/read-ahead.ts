import { workerData } from 'node:worker_threads';
import type { ThreadData } from '../threads/thread.ts';
import { type ReadAhead, readSection, type SectionRead } from './read-section.ts';

// The thread that reads sections of a snapshot ahead and checks them; see `SnapshotFile.readAhead`.

const { fd, sections, port, count } = (workerData as ThreadData<ReadAhead>).task;
for (const { name, isShared, ...place } of sections) {
  const buffer = readSection(fd, place, isShared);
  port.postMessage({ name, buffer } satisfies SectionRead, buffer instanceof ArrayBuffer ? [buffer] : []);
  Atomics.add(count, 0, 1);
  Atomics.notify(count, 0);
}
