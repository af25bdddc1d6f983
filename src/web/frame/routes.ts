import type { AnyPage, Place } from './page.ts';

interface Route {
  /** A part with a colon stands for one part of the path; one with a star, the last, for all that is left of it. */
  readonly path: string;
  /** File of the page, from the folder of the pages. */
  readonly file: string;
  load(): Promise<{ readonly page: AnyPage }>;
}

/** Every page of the desk. */
export const ROUTES: readonly Route[] = [
  { path: '/devices', file: 'pages/devices/page.tsx', load: () => import('../pages/devices/page.tsx') },
  { path: '/devices/:device', file: 'pages/device/page.tsx', load: () => import('../pages/device/page.tsx') },
  {
    path: '/devices/:device/diagram',
    file: 'pages/device/diagram-page.tsx',
    load: () => import('../pages/device/diagram-page.tsx'),
  },
  {
    path: '/devices/:device/decisions',
    file: 'pages/device/decisions-page.tsx',
    load: () => import('../pages/device/decisions-page.tsx'),
  },
  {
    path: '/devices/:device/record',
    file: 'pages/device/record-page.tsx',
    load: () => import('../pages/device/record-page.tsx'),
  },
  { path: '/patterns', file: 'pages/patterns/page.tsx', load: () => import('../pages/patterns/page.tsx') },
  {
    path: '/patterns/:pattern',
    file: 'pages/patterns/pattern-page.tsx',
    load: () => import('../pages/patterns/pattern-page.tsx'),
  },
  {
    path: '/find',
    file: 'pages/patterns/find-page.tsx',
    load: () => import('../pages/patterns/find-page.tsx'),
  },
  { path: '/compare', file: 'pages/compare/page.tsx', load: () => import('../pages/compare/page.tsx') },
  { path: '/trends', file: 'pages/trends/page.tsx', load: () => import('../pages/trends/page.tsx') },
  {
    path: '/publications',
    file: 'pages/publications/page.tsx',
    load: () => import('../pages/publications/page.tsx'),
  },
  {
    path: '/publications/:publication',
    file: 'pages/publications/publication-page.tsx',
    load: () => import('../pages/publications/publication-page.tsx'),
  },
  { path: '/search', file: 'pages/search/page.tsx', load: () => import('../pages/search/page.tsx') },
  { path: '/parts', file: 'pages/parts/page.tsx', load: () => import('../pages/parts/page.tsx') },
  {
    path: '/parts/*part',
    file: 'pages/parts/part-page.tsx',
    load: () => import('../pages/parts/part-page.tsx'),
  },
  {
    path: '/makers/:maker',
    file: 'pages/makers/maker-page.tsx',
    load: () => import('../pages/makers/maker-page.tsx'),
  },
  {
    path: '/lines/:line',
    file: 'pages/makers/line-page.tsx',
    load: () => import('../pages/makers/line-page.tsx'),
  },
  {
    path: '/structures',
    file: 'pages/structures/page.tsx',
    load: () => import('../pages/structures/page.tsx'),
  },
];

export interface Found {
  readonly route: Route;
  readonly place: Place;
}

/** The page at an address; undefined for what is no page of the desk. */
export function routeOf(href: string): Found | undefined {
  const { pathname, search } = new URL(href, 'http://desk');
  const asked = pathname.split('/');
  for (const route of ROUTES) {
    const parts = partsOf(route.path.split('/'), asked);
    if (parts)
      return {
        route,
        place: { href: pathname + search, path: pathname, query: new URLSearchParams(search), parts },
      };
  }
  return undefined;
}

function partsOf(wanted: readonly string[], asked: readonly string[]): Record<string, string> | undefined {
  const takesRest = wanted[wanted.length - 1].startsWith('*');
  if (takesRest ? asked.length < wanted.length : asked.length !== wanted.length) return undefined;
  const parts: Record<string, string> = {};
  for (const [i, name] of wanted.entries()) {
    const given = name.startsWith('*') ? asked.slice(i).join('/') : asked[i];
    if (!/^[:*]/u.test(name)) {
      if (name !== given) return undefined;
      continue;
    }
    const part = given === '' ? undefined : decoded(given);
    if (part === undefined) return undefined;
    parts[name.slice(1)] = part;
  }
  return parts;
}

function decoded(part: string): string | undefined {
  try {
    return decodeURIComponent(part);
  } catch {
    return undefined;
  }
}
