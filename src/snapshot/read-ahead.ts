import { parentPort, workerData } from 'node:worker_threads';
import type { ThreadData } from '../gql/gql.ts';
import { type ReadAhead, readSection } from './read-section.ts';

// The thread that reads sections of a snapshot ahead and checks them; see `SnapshotFile.readAhead`.

const { fd, sections } = (workerData as ThreadData<ReadAhead>).task;
for (const { name, isShared, ...place } of sections) {
  const buffer = readSection(fd, place, isShared);
  parentPort?.postMessage({ name, buffer }, buffer instanceof ArrayBuffer ? [buffer] : []);
}
