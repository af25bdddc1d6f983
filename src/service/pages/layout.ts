import { readFileSync } from 'node:fs';
import { cautionsFor, STANDING_CAUTION } from '../../model/cautions.ts';
import { Html, html, type Part } from './html.ts';

/** What stands at the end of every page. */
export const BENCH_CAUTIONS = cautionsFor(['lithium-cell', 'blade', 'heat', 'solvent', 'mains']).filter(
  (sentence) => sentence !== STANDING_CAUTION,
);

/** What every page has, wherever it is kept: its language, its title, and the cautions of the bench at its end. */
function htmlDocument(page: { readonly title: string; readonly head: Part; readonly body: Part }): Html {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${page.title}</title>
${page.head}
</head>
<body>
${page.body}
<footer>
<h2>Before you open a battery-powered device</h2>
<ul>
${BENCH_CAUTIONS.map((sentence) => html`<li>${sentence}</li>`)}
</ul>
<p>${STANDING_CAUTION}</p>
</footer>
</body>
</html>
`;
}

export interface PageParts {
  readonly title: string;
  /** Address of this page, marked in the navigation. */
  readonly at: string;
  readonly body: Part;
}

const PLACES = [
  ['/', 'Start'],
  ['/explorer', 'Explorer'],
  ['/docs', 'Guide'],
  ['/schema.graphql', 'Schema'],
  ['/sign-in', 'Account'],
] as const;

/** The frame of every page of the service: skip link, navigation, footer with the cautions of the bench. */
export function layout({ title, at, body }: PageParts): Html {
  return htmlDocument({
    title,
    head: html`<link rel="alternate" type="application/atom+xml" title="What is new" href="/atom.xml">
<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">
<link rel="stylesheet" href="/assets/site.css">`,
    body: html`<a class="skip" href="#main">Skip to the content</a>
<header class="masthead">
<a class="name" href="/">Caseback</a>
<nav aria-label="Pages"><ul>
${PLACES.map(([href, name]) => html`<li><a href="${href}"${at === href && html` aria-current="page"`}>${name}</a></li>`)}
</ul></nav>
</header>
<main id="main">
${body}
</main>`,
  });
}

/** A page that may stand in the frame of another site: without the navigation of this one. */
export function framed({ title, head, body }: { title: string; head: Part; body: Part }): Html {
  return htmlDocument({
    title,
    head: html`<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">
<link rel="stylesheet" href="/assets/site.css">
${head}`,
    body: html`<main id="main">\n${body}\n</main>`,
  });
}

/** A page that needs nothing beside itself, to be kept as a file or printed. */
export function standalone({ title, body }: { readonly title: string; readonly body: Part }): Html {
  // Nothing of a reader's making stands in the style sheet.
  const style = new Html(readFileSync(new URL('../../web/site.css', import.meta.url), 'utf8'));
  return htmlDocument({
    title,
    head: html`<style>${style}</style>`,
    body: html`<main id="main">\n${body}\n</main>`,
  });
}
