import { cautionsFor, STANDING_CAUTION } from '../../model/cautions.ts';
import { type Html, html, type Part } from './html.ts';

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
] as const;

const CAUTIONS = cautionsFor(['lithium-cell', 'blade', 'heat', 'solvent', 'mains']).filter(
  (sentence) => sentence !== STANDING_CAUTION,
);

/** The frame of every page: skip link, navigation, footer with the cautions of the bench. */
export function layout({ title, at, body }: PageParts): Html {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">
<link rel="stylesheet" href="/assets/site.css">
</head>
<body>
<a class="skip" href="#main">Skip to the content</a>
<header class="masthead">
<a class="name" href="/">Caseback</a>
<nav aria-label="Pages"><ul>
${PLACES.map(([href, name]) => html`<li><a href="${href}"${at === href && html` aria-current="page"`}>${name}</a></li>`)}
</ul></nav>
</header>
<main id="main">
${body}
</main>
<footer>
<h2>Before you open a battery-powered device</h2>
<ul>
${CAUTIONS.map((sentence) => html`<li>${sentence}</li>`)}
</ul>
<p>${STANDING_CAUTION}</p>
</footer>
</body>
</html>
`;
}
