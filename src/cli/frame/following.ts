import type { Archive } from '../../archive.ts';

/** How often another process's changes are looked for, in ms. */
const FOLLOW_EVERY = 1_000;

/**
 * Looks for what other processes wrote, when told so and from time to time; a failure is reported once, not every second, and not
 * at all once it has ended: a look that is under way then finds the journal closed.
 * @returns the function that ends it
 */
export function follow(
  archive: Pick<Archive, 'follow' | 'watch'>,
  report: (message: string) => void,
): () => void {
  let reported = '';
  let looking: Promise<void> | undefined;
  let isToldMeanwhile = false;
  let isEnded = false;
  const look = (): void => {
    if (isEnded) return;
    if (looking) {
      isToldMeanwhile = true;
      return;
    }
    looking = archive
      .follow()
      .then(
        () => {
          reported = '';
        },
        ({ message }: Error) => {
          if (message !== reported && !isEnded) report(message);
          reported = message;
          isToldMeanwhile = false;
        },
      )
      .finally(() => {
        looking = undefined;
        if (isToldMeanwhile) look();
        isToldMeanwhile = false;
      });
  };
  const end = archive.watch(look);
  const timer = setInterval(look, FOLLOW_EVERY);
  return () => {
    isEnded = true;
    end();
    clearInterval(timer);
  };
}
