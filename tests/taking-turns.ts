import { vi } from 'vitest';

/**
 * Runs work under a clock on which every look is later than a turn may take, so that whoever yields when it is time yields at
 * each place where it could; what is noted meanwhile is counted by turn.
 * @param work is given what to call at every step that is to be counted
 * @returns what the work gave, and the steps of each turn of the event loop
 */
export async function turnsOf<T>(
  work: (step: () => void) => Promise<T>,
): Promise<{ readonly value: T; readonly steps: readonly number[] }> {
  let now = performance.now();
  const clock = vi.spyOn(performance, 'now').mockImplementation(() => {
    now += 1_000;
    return now;
  });
  const steps = [0];
  let isOver = false;
  const turn = () => {
    if (isOver) return;
    steps.push(0);
    setImmediate(turn);
  };
  setImmediate(turn);
  try {
    return { value: await work(() => steps[steps.length - 1]++), steps };
  } finally {
    isOver = true;
    clock.mockRestore();
  }
}
