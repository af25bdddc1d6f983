import { hydrate } from 'preact';
import { Refused, type Trouble } from '../api/ask.ts';
import { askOverHttp } from '../api/ask-over-http.ts';
import { Desk, type Shown, type ShownTrouble } from '../frame/desk.tsx';
import type { Surroundings } from '../frame/frame.tsx';
import { routeOf } from '../frame/routes.ts';
import '../look/desk.css';

/** What the service wrote into the page beside its HTML. */
interface Told {
  readonly data: unknown;
  readonly trouble?: Trouble;
  readonly surroundings: Surroundings;
}

async function begin(): Promise<void> {
  const { data, trouble, surroundings } = JSON.parse(
    document.getElementById('told')?.textContent ?? '',
  ) as Told;
  const found = routeOf(location.href);
  const desk = document.getElementById('desk');
  if (!found || !desk) return;
  const { place, route } = found;
  const first: Shown | ShownTrouble = trouble
    ? { place, trouble }
    : { place, data, page: (await route.load()).page };
  hydrate(<Desk first={first} ask={askOverHttp} surroundings={surroundings} />, desk);
  document.documentElement.dataset.alive = '';
}

begin().catch((error: unknown) => {
  // The page as written stays and can be read.
  if (!(error instanceof Refused)) throw error;
});
