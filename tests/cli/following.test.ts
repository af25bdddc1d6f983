import { setImmediate as turn } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { follow } from '../../src/cli/frame/following.ts';

/** An archive whose looks end when the test says so. */
function archiveOfLooks() {
  const looks: { readonly fail: (message: string) => void }[] = [];
  let hint = (): void => undefined;
  return {
    looks,
    hint: () => hint(),
    archive: {
      follow: () =>
        new Promise<void>((_, reject) => {
          looks.push({ fail: (message) => reject(new Error(message)) });
        }),
      watch: (called: () => void) => {
        hint = called;
        return () => undefined;
      },
    },
  };
}

test('what others wrote and could not be read is said once, and not when it has ended', async () => {
  const { looks, hint, archive } = archiveOfLooks();
  const said: string[] = [];
  const end = follow(archive, (message) => said.push(message));
  try {
    for (const message of ['out of reach', 'out of reach', 'damaged']) {
      hint();
      looks.at(-1)?.fail(message);
      await turn();
    }
    expect(said).toEqual(['out of reach', 'damaged']);
    // A look is under way when the service stops, and finds the journal closed.
    hint();
  } finally {
    end();
  }
  expect(looks.length).toBe(4);
  looks.at(-1)?.fail('the database has been closed');
  await turn();
  expect(said).toEqual(['out of reach', 'damaged']);
  hint();
  expect(looks.length).toBe(4);
});
