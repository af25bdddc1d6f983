import { MemoryJournal } from '../../src/journal/memory/journal.ts';
import { journalContract } from './contract.ts';

journalContract('in memory', async () => {
  let time: (() => Date) | undefined;
  const journal = new MemoryJournal({ clock: () => time?.() ?? new Date() });
  return {
    // It lasts as long as the object, so opening it again is the same object.
    async open({ clock } = {}) {
      time = clock;
      return journal;
    },
    async remove() {},
  };
});
