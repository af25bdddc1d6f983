import { htmlDocument } from './document.ts';
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

/** The frame of every page of the service: skip link, navigation, footer with the cautions of the bench. */
export function layout({ title, at, body }: PageParts): Html {
  return htmlDocument({
    title,
    head: html`<link rel="icon" href="/assets/icon.svg" type="image/svg+xml">
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
