/**
 * Long work in steps of some milliseconds at most, between which whoever runs it may let others have a turn, or end it. What it
 * gives is what it returns.
 */
export type Steps<T> = Generator<void, T, void>;

/** All steps without a pause, for a process that does nothing else. */
export function atOnce<T>(steps: Steps<T>): T {
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}
