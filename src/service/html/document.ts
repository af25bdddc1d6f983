import { cautionsFor, STANDING_CAUTION } from '../../model/cautions.ts';
import { type Html, html, type Part } from './html.ts';

const CAUTIONS = cautionsFor(['lithium-cell', 'blade', 'heat', 'solvent', 'mains']).filter(
  (sentence) => sentence !== STANDING_CAUTION,
);

/** What every page has, wherever it is kept: its language, its title, and the cautions of the bench at its end. */
export function htmlDocument(page: {
  readonly title: string;
  readonly head: Part;
  readonly body: Part;
}): Html {
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
${CAUTIONS.map((sentence) => html`<li>${sentence}</li>`)}
</ul>
<p>${STANDING_CAUTION}</p>
</footer>
</body>
</html>
`;
}
