import { readFileSync } from 'node:fs';
import { htmlDocument } from './document.ts';
import { Html, html, type Part } from './html.ts';

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
