import { readFileSync } from 'node:fs';
import { cautionsFor } from '../../model/cautions.ts';
import { Html, html, type Part } from './html.ts';

/** A page that needs nothing beside itself, to be kept as a file or printed. */
export function standalone({ title, body }: { readonly title: string; readonly body: Part }): Html {
  // Nothing of a reader's making stands in the style sheet.
  const style = new Html(readFileSync(new URL('../../web/site.css', import.meta.url), 'utf8'));
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${title}</title>
<style>${style}</style>
</head>
<body>
<main id="main">
${body}
</main>
<footer>
<h2>Before you open a battery-powered device</h2>
<ul>
${cautionsFor(['lithium-cell', 'blade', 'heat', 'solvent', 'mains']).map((sentence) => html`<li>${sentence}</li>`)}
</ul>
</footer>
</body>
</html>
`;
}
