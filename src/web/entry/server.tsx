import { renderToString } from 'preact-render-to-string';
import type { Ask } from '../api/ask.ts';

export { answerIn } from '../api/ask.ts';

import { Desk, headingOf, shownAt } from '../frame/desk.tsx';
import type { Surroundings } from '../frame/frame.tsx';
import { ROUTES, routeOf } from '../frame/routes.ts';

/** A page as the service writes it. */
export interface Written {
  readonly status: number;
  readonly title: string;
  readonly html: string;
  /** What the browser needs to go on from it. */
  readonly told: unknown;
  /** File of the page's own code. */
  readonly file: string;
}

/** Addresses of all pages, with a colon before each part that stands for others, and a star for all that is left. */
export const paths: readonly string[] = ROUTES.map(({ path }) => path.replace(/\*.*/u, '*'));

/** Writes the page at an address; undefined for what is no page of the desk. */
export async function write(
  href: string,
  ask: Ask,
  surroundings: Surroundings,
  signal: AbortSignal,
): Promise<Written | undefined> {
  const found = routeOf(href);
  const shown = await shownAt(href, ask, signal);
  if (!shown || !found) return undefined;
  const html = renderToString(<Desk first={shown} ask={ask} surroundings={surroundings} />);
  const { title, status } = headingOf(shown);
  const told = shown.trouble ? { trouble: shown.trouble, surroundings } : { data: shown.data, surroundings };
  return { status, title, html, told, file: found.route.file };
}
