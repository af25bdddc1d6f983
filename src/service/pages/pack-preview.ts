import { citationText } from '../../citation/csl.ts';
import { columnsOf } from '../../export/rows.ts';
import { lastOfId } from '../../model/ids.ts';
import { chartPath, type PackContents, type PackPages, placeOfSentence } from '../../pack/contents.ts';
import { encodedPath } from '../../pack/metadata.ts';
import type { PackedFigure, PackedSentence } from '../../pack/statement.ts';
import { partOf } from '../../photos/sizes.ts';
import { fixed } from '../../text/rounding.ts';
import { type Html, html, type Part } from './html.ts';
import { standalone } from './layout.ts';
import { type PictureOf, sheetBody } from './sheet.ts';

const KINDS = {
  article: 'An article',
  video: 'A film',
  newsletter: 'A newsletter',
  figure: 'A figure',
} as const satisfies Record<PackContents['publication']['kind'], string>;

/** The pages of a pack: they need nothing beside the files that lie with them, and run nothing. */
export const PACK_PAGES: PackPages = {
  sheet: (sheet, pathOf) => {
    const pictureOf: PictureOf = ({ id, file, part }) => {
      const path = pathOf(id);
      if (path === undefined || !file) return undefined;
      const { width, height } = file;
      const src = encodedPath(path);
      return { src, full: src, width, height, ...(part ? { part: partOf(file, part.box) } : {}) };
    };
    const body = sheetBody(sheet, pictureOf);
    return standalone({ title: `${sheet.publication.title} · checking sheet`, body }).text;
  },
  preview: (contents, files, citation) =>
    standalone({
      title: `${contents.publication.title} · reader's pack`,
      body: previewBody(contents, files, citation),
    }).text,
};

function previewBody(
  contents: PackContents,
  files: Parameters<PackPages['preview']>[1],
  citation: Parameters<PackPages['preview']>[2],
): Html {
  const { publication, statement, boards, leftOut, licence } = contents;
  const { instant, audience } = statement.state;
  const faults = statement.sentences.filter(({ findings }) => findings.length > 0).length;
  return html`
<h1>${publication.title}: reader's pack</h1>
<p class="lead">${KINDS[publication.kind]}, ${publication.published ? `published ${publication.published}` : 'not published yet'}. Every sentence with what
supports it, as the archive had it at <time datetime="${instant}">${spokenInstant(instant)}</time>, ${
    audience === 'reader'
      ? 'as readers see it'
      : html`<strong>as the desk sees it, drafts and embargoed records too: not for readers</strong>`
  }. ${counted(statement.sentences.length, 'sentence')}, ${faults === 0 ? 'none with a finding' : `${faults} with a finding`}.</p>
<p>Licence: ${licence ?? 'none is stated; ask whoever keeps the archive'}. Photos and sources have licences of their own, listed in ${linkTo('credits.csv')}.</p>
<p>Cite as: ${citation.map(citationText).join(' ')}</p>
<nav aria-label="On this page"><ul>
<li><a href="#sentences">Sentences</a></li>${boards.length > 0 && html`<li><a href="#boards">Boards</a></li>`}<li><a href="#files">Files</a></li><li><a href="#check">How to check</a></li>
</ul></nav>
<h2 id="sentences">Sentences</h2>
<p>Probabilities run from 0 to 1. What the evidence gives is the product over all that supports a sentence. Words of likelihood take the ranges of
the calibrated scale of Mastrandrea et al. 2010.</p>
${statement.sentences.map((one) => sentencePart(one, contents))}
${
  boards.length > 0 &&
  html`<h2 id="boards">Boards</h2>
${boards.map(
  ({
    path,
    drawing,
  }) => html`<figure><img src="${encodedPath(path)}" alt="${drawing.description}" width="480">
<figcaption>${drawing.title} (${linkTo(path)})</figcaption></figure>`,
)}`
}
<h2 id="files">Files</h2>
<div class="scroll" tabindex="0" role="region" aria-label="Files of the pack"><table>
<caption>What is here</caption>
<thead><tr><th scope="col">File</th><th scope="col">What it is</th><th scope="col" class="number">Size, bytes</th></tr></thead>
<tbody>${files.map(
    ({ path, title, says, content }) =>
      html`<tr><th scope="row">${linkTo(path)}</th><td>${title}. ${says}</td><td class="number">${content.length.toLocaleString('en')}</td></tr>`,
  )}</tbody></table></div>
${leftOut.length > 0 && leftOutPart(contents)}
<h2 id="check">How to check</h2>
<ul>
<li>Whether the files are as they were made: <code>sha256sum -c manifest-sha256.txt</code> in this folder.</li>
<li>Whether what they say is still so: <code>caseback verify-pack .</code> with the archive at hand. It calculates each sentence and figure again and
names those that are another one now, with the corrections that changed them.</li>
<li>What is in each file: ${linkTo('ro-crate-metadata.json')}, after <a href="https://w3id.org/ro/crate/1.2">RO-Crate 1.2</a>.</li>
<li>Sentence by sentence, on paper: ${linkTo('checking-sheet.html')}.</li>
</ul>`;
}

function sentencePart(one: PackedSentence, contents: PackContents): Part {
  const { id, sentence, by, wording, given, probability, low, high, findings, support, figures } = one;
  const place = placeOfSentence(id);
  return html`
<section class="sentence" aria-labelledby="${place}">
<h3 id="${place}">${sentence}</h3>
<p>${id}. ${by === null ? 'Nobody signed it' : `Judged by ${by}`}${given !== null && ` at ${fixed(given, 2)}`}; the evidence gives
${probability === null ? 'no number' : fixed(probability, 2)}${
  low !== null &&
  high !== null &&
  low !== high &&
  ` (${fixed(low, 2)} to ${fixed(high, 2)} if doubts hang together)`
}. It ${wording.words === null ? 'is stated flatly' : html`says “${wording.words}”`}, which takes ${fixed(wording.low, 2)} to ${fixed(wording.high, 2)}.</p>
${
  findings.length > 0 &&
  html`<ul class="findings">${findings.map(({ kind, message }) => html`<li><strong>${kind}:</strong> ${message}</li>`)}</ul>`
}
<div class="scroll" tabindex="0" role="region" aria-label="Support of ${id}"><table>
<caption>What supports it</caption>
<thead><tr><th scope="col">What</th><th scope="col">Says</th><th scope="col" class="number">Probability</th></tr></thead>
<tbody>${support.map(
    (item) =>
      html`<tr><th scope="row">${item.kind} <code>${item.id}</code></th><td>${item.description}${item.trouble && html` <strong>(${item.trouble})</strong>`}</td><td class="number">${
        item.probability === null ? '–' : fixed(item.probability, 2)
      }</td></tr>`,
  )}</tbody></table></div>
${figures.map((figure) => figurePart(figure, contents))}
</section>`;
}

function figurePart(figure: PackedFigure, { charts }: PackContents): Part {
  const { id, states, found, table, probability, isFound } = figure;
  const chart = charts.find(({ of }) => of.id === id)?.chart;
  const at = chartPath(figure);
  const verdict =
    isFound === null
      ? probability === null
        ? ''
        : ` The chance that this holds is ${fixed(probability, 2)}.`
      : isFound
        ? ' The test finds that direction.'
        : ' The test does not find that direction.';
  return html`<p>It states that ${states}. The archive has: ${found}.${verdict} Numbers: ${linkTo(table)}.</p>
${
  chart &&
  html`<figure><img src="${encodedPath(`${at}.svg`)}" alt="${chart.title}. ${chart.subtitle}" width="640">
<figcaption>${chart.title}, n: ${chart.n}. ${linkTo(`${at}.svg`)}, ${linkTo(`${at}.png`)}, ${linkTo(`${at}.vl.json`)}</figcaption></figure>
<details><summary>The chart in numbers</summary>
<div class="scroll" tabindex="0" role="region" aria-label="Numbers of the chart under ${lastOfId(id)}"><table><caption>${chart.title}</caption>
<thead><tr>${columnsOf(chart.rows).map((name) => html`<th scope="col">${name}</th>`)}</tr></thead>
<tbody>${chart.rows.map((row) => html`<tr>${columnsOf(chart.rows).map((name) => html`<td>${row[name] ?? ''}</td>`)}</tr>`)}</tbody></table></div>
${chart.cautions.length > 0 && html`<ul>${chart.cautions.map((caution) => html`<li>${caution}</li>`)}</ul>`}</details>`
}`;
}

function leftOutPart({ leftOut }: PackContents): Part {
  return html`<h3>What is not here</h3>
<ul>${leftOut.map(
    ({ id, what, why, photo }) =>
      html`<li>${what} <code>${id}</code>${photo && ` by ${photo.credit} (${photo.licence})`}: ${why}.</li>`,
  )}</ul>`;
}

function linkTo(path: string): Html {
  return html`<a href="${encodedPath(path)}">${path}</a>`;
}

function spokenInstant(instant: string): string {
  return `${instant.slice(0, 19).replace('T', ' ')} UTC`;
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`;
}
