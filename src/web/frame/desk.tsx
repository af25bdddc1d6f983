import type { VNode } from 'preact';
import { useCallback, useEffect, useLayoutEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Ask, Trouble } from '../api/ask.ts';
import { Refused } from '../api/ask.ts';
import { Frame, type Surroundings } from './frame.tsx';
import { NavigationProvider } from './navigation.ts';
import type { AnyPage, Place } from './page.ts';
import { routeOf } from './routes.ts';
import { TroublePage } from './trouble-page.tsx';

/** What stands on the desk: a page with its data, or what went wrong in place of it. */
export interface Shown {
  readonly place: Place;
  readonly page: AnyPage;
  readonly data: unknown;
  readonly trouble?: undefined;
}

export interface ShownTrouble {
  readonly place: Place;
  readonly trouble: Trouble;
}

/** Goes for the page at an address. @returns undefined for what is no page of the desk @throws what aborting throws */
export async function shownAt(
  href: string,
  ask: Ask,
  signal?: AbortSignal,
): Promise<Shown | ShownTrouble | undefined> {
  const found = routeOf(href);
  if (!found) return undefined;
  const { place } = found;
  try {
    const { page } = await found.route.load();
    return { place, page, data: await page.load(place, ask, signal) };
  } catch (error) {
    if (error instanceof Refused) return { place, trouble: { code: error.code, message: error.message } };
    throw error;
  }
}

/** Title and status of what is shown. */
export function headingOf(shown: Shown | ShownTrouble): { readonly title: string; readonly status: number } {
  if (shown.trouble) return { title: 'Something went wrong', status: 503 };
  const { title, status = 200 } = shown.page.heading(shown.data, shown.place);
  return { title, status };
}

/** After so long, ms, the page says that it is still loading. */
const PATIENCE = 200;

/** The desk in a browser, or as it is written once by the service. */
export function Desk({
  first,
  ask,
  surroundings,
}: {
  readonly first: Shown | ShownTrouble;
  readonly ask: Ask;
  readonly surroundings: Surroundings;
}): VNode {
  const [shown, setShown] = useState(first);
  const [isSlow, setSlow] = useState(false);
  const going = useRef<AbortController | undefined>(undefined);
  const arrival = useRef<(() => void) | undefined>(undefined);
  const scrolls = useRef(new Scrolls());

  /** @param arrive done once the page stands */
  const show = useCallback(
    async (href: string, arrive: () => void) => {
      going.current?.abort();
      const way = new AbortController();
      going.current = way;
      const timer = setTimeout(() => setSlow(true), PATIENCE);
      try {
        const next = await shownAt(href, ask, way.signal);
        if (way.signal.aborted) return;
        if (!next) return location.assign(href);
        scrolls.current.leave();
        arrival.current = arrive;
        setShown(next);
      } catch (error) {
        if (!way.signal.aborted) throw error;
      } finally {
        clearTimeout(timer);
        if (going.current === way) setSlow(false);
      }
    },
    [ask],
  );

  const go = useCallback(
    (href: string, how: 'push' | 'replace' = 'push') =>
      show(href, () => {
        if (how === 'replace') return history.replaceState(history.state, '', href);
        history.pushState(scrolls.current.next(), '', href);
        scrollTo(0, 0);
        // What is read out, and where Tab goes on from, is the new page.
        document.querySelector<HTMLElement>('main h1')?.focus({ preventScroll: true });
      }),
    [show],
  );

  useLayoutEffect(() => {
    document.title = `${headingOf(shown).title} · Caseback`;
    arrival.current?.();
    arrival.current = undefined;
  }, [shown]);

  useEffect(() => {
    history.scrollRestoration = 'manual';
    const back = ({ state }: PopStateEvent) => show(location.href, () => scrolls.current.come(state));
    const follow = (event: MouseEvent) => {
      const href = followed(event);
      if (href === undefined) return;
      event.preventDefault();
      go(href);
    };
    addEventListener('popstate', back);
    document.addEventListener('click', follow);
    return () => {
      removeEventListener('popstate', back);
      document.removeEventListener('click', follow);
    };
  }, [show, go]);

  const navigation = useMemo(() => ({ go, ask }), [go, ask]);
  return (
    <NavigationProvider value={navigation}>
      <Frame place={shown.place} surroundings={surroundings} isSlow={isSlow}>
        {shown.trouble ? (
          <TroublePage trouble={shown.trouble} />
        ) : (
          <shown.page.View data={shown.data} place={shown.place} />
        )}
      </Frame>
    </NavigationProvider>
  );
}

/** How far down each step of the way was when one left it. */
class Scrolls {
  readonly #left = new Map<number, number>();
  #at = 0;
  #count = 0;

  /** Notes how far down the page is that one leaves. */
  leave(): void {
    this.#left.set(this.#at, scrollY);
  }

  /** State of the history for a new step. */
  next(): { readonly step: number } {
    this.#at = ++this.#count;
    return { step: this.#at };
  }

  /** Goes to where one left a step. @param state of the history */
  come(state: unknown): void {
    this.#at = (state as { readonly step?: number } | null)?.step ?? 0;
    scrollTo(0, this.#left.get(this.#at) ?? 0);
  }
}

/** Address of the desk that a press leads to here; undefined where the browser is to follow it by itself. */
function followed(event: MouseEvent): string | undefined {
  if (event.defaultPrevented || event.button !== 0) return undefined;
  if (event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return undefined;
  const link = (event.target as Element | null)?.closest?.('a');
  if (!link || link.origin !== location.origin || link.target !== '' || link.hasAttribute('download'))
    return undefined;
  if (link.hash !== '' && link.pathname === location.pathname && link.search === location.search)
    return undefined;
  const href = link.pathname + link.search + link.hash;
  return routeOf(href) ? href : undefined;
}
