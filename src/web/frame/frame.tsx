import type { ComponentChildren, VNode } from 'preact';
import type { Place } from './page.ts';
import { SearchBox } from './search-box.tsx';

/** What every page knows of who reads it and where. */
export interface Surroundings {
  /** Name of who has signed in; null for whoever has not. */
  readonly who: string | null;
  /** Cautions of the bench, a sentence each. */
  readonly cautions: readonly string[];
}

const PLACES = [
  ['/', 'Start'],
  ['/devices', 'Devices'],
  ['/compare', 'Compare'],
  ['/patterns', 'Patterns'],
  ['/structures', 'Structures'],
  ['/trends', 'Trends'],
  ['/publications', 'Publications'],
  ['/parts', 'Parts'],
  ['/explorer', 'Explorer'],
  ['/docs', 'Guide'],
] as const;

/** What stands around every page: the way past it, the name, the ways to others, and the cautions of the bench. */
export function Frame({
  place,
  surroundings: { who, cautions },
  isSlow,
  children,
}: {
  readonly place: Place;
  readonly surroundings: Surroundings;
  readonly isSlow: boolean;
  readonly children: ComponentChildren;
}): VNode {
  return (
    <>
      <a class="skip" href="#main">
        Skip to the content
      </a>
      <header class="masthead">
        <a class="name" href="/">
          Caseback
        </a>
        <nav aria-label="Pages">
          <ul>
            {PLACES.map(([href, name]) => (
              <li key={href}>
                <a href={href} {...currentAt(place.path, href)}>
                  {name}
                </a>
              </li>
            ))}
          </ul>
        </nav>
        <SearchBox asked={place.path === '/search' ? (place.query.get('text') ?? '') : ''} />
        <a class="account" href="/sign-in">
          {who ?? 'Sign in'}
        </a>
      </header>
      <p class="progress" role="status">
        {isSlow ? 'Loading …' : ''}
      </p>
      <main id="main" aria-busy={isSlow}>
        {children}
      </main>
      <footer>
        <details>
          <summary>Before you open a battery-powered device</summary>
          <ul>
            {cautions.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </details>
      </footer>
    </>
  );
}

function currentAt(path: string, href: string): { 'aria-current'?: 'page' | 'true' } {
  if (path === href) return { 'aria-current': 'page' };
  return href !== '/' && path.startsWith(`${href}/`) ? { 'aria-current': 'true' } : {};
}
