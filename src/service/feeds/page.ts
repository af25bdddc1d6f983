import { columnsOf, type Row } from '../../export/rows.ts';
import { CasebackError } from '../../model/problems.ts';
import { significant } from '../../text/rounding.ts';
import { type Html, html, type Part } from '../pages/html.ts';
import { framed } from '../pages/layout.ts';
import type { FeedAnswer } from './answers.ts';
import type { Data } from './ask.ts';
import { FORMS, pictureIn, rowsOfFeed } from './representations.ts';

/** Rows that the page shows; the others are in the CSV. */
const MOST_ROWS = 200;

/** What is said beside a chart, where the question asks for it. */
interface Said {
  readonly n: string | undefined;
  readonly description: string | undefined;
  readonly cautions: readonly string[];
  /** The table of the chart, whose headings have units; undefined where the question does not ask for it. */
  readonly table: Table | undefined;
  /** Unit of figures beside the chart. */
  readonly unit: string | undefined;
}

/** What a page says beside the answer. */
export interface PageSurroundings {
  /** Address of the service, for links that must be whole. */
  readonly site: string;
  /** Whether devices of the archive are demo data. */
  readonly isInvented: boolean;
}

/**
 * A feed as a page, to be read by itself or in the frame of another site: its picture, its table, n, the cautions, and the day of the
 * state that it was answered from. It is whole without a script; with one it shows a newer answer when there is one.
 */
export function feedPage(answer: FeedAnswer, { site, isInvented }: PageSurroundings): Html {
  const { feed, data, digest, since } = answer;
  const { id, title, origins } = feed;
  const { n, description, cautions, table: ofChart, unit } = saidIn(data);
  const table = ofChart ?? tableOf(answer);
  const counted = n ?? (table && `${table.rows.length} ${table.rows.length === 1 ? 'row' : 'rows'}`);
  const address = `${site}/feeds/${id}`;
  return framed({
    title: `${title} · Caseback`,
    head: html`${
      // Whom nobody may frame nobody need find.
      origins.length > 0 &&
      html`<link rel="alternate" type="application/json+oembed" title="${title}" href="${site}/oembed?url=${encodeURIComponent(address)}&amp;format=json">`
    }
${(['json', 'csv'] as const).map((form) => html`<link rel="alternate" type="${bare(form)}" title="${title}" href="/feeds/${id}.${form}">`)}
<script src="/assets/feed.js" defer></script>`,
    body: html`<article data-feed="${id}" data-answer="${digest}">
<h1>${title}</h1>
<p id="newer" class="notice" role="status" hidden></p>
${picture(answer, description)}
${table && tableIn(table, feed.title, id, ofChart !== undefined)}
<p class="fine">${counted !== undefined && html`n: ${counted}. `}${!ofChart && table && unit !== undefined && html`Unit of the figures: ${unit}. `}Caseback archive, state of <time datetime="${since}">${since.slice(0, 10)}</time>.${isInvented && ' Demo data: no such devices exist.'}</p>
${cautions.length > 0 && html`<h2>Cautions</h2><ul>${cautions.map((caution) => html`<li>${caution}</li>`)}</ul>`}
<p class="fine">The same as ${formsOf(data).map((form, i) => html`${i > 0 && ', '}<a href="/feeds/${id}.${form}">${NAMES[form]}</a>`)}. <a href="/cite/${id}.json">To cite</a>. <a href="/" target="_top">About this archive</a>.</p>
</article>`,
  });
}

const bare = (form: keyof typeof FORMS) => FORMS[form].split(';')[0];

const NAMES: Readonly<Record<keyof typeof FORMS, string>> = {
  json: 'JSON',
  csv: 'CSV',
  svg: 'SVG',
  png: 'PNG',
  'vl.json': 'Vega-Lite',
};

function formsOf(data: Data): readonly (keyof typeof FORMS)[] {
  const found = pictureIn(data);
  if (!found) return ['json', 'csv'];
  return 'document' in found ? ['json', 'csv', 'svg', 'png', 'vl.json'] : ['json', 'csv', 'svg', 'png'];
}

function picture({ feed: { id, title }, data, digest }: FeedAnswer, description: string | undefined): Part {
  if (!pictureIn(data)) return null;
  // Under the address alone a browser might show the picture of the answer before.
  const source = `/feeds/${id}.svg?answer=${digest}`;
  return html`<figure>
<div class="scroll picture" tabindex="0" role="region" aria-label="Picture: ${title}"><img src="${source}" alt="${description ?? `${title}; its numbers are in the table below.`}"></div>
</figure>`;
}

interface Table {
  readonly columns: readonly string[];
  readonly rows: readonly Row[];
}

/** The rows of a feed; undefined where it has none. */
function tableOf({ feed, data }: FeedAnswer): Table | undefined {
  try {
    const rows = rowsOfFeed(feed, data);
    return rows.length > 0 ? { columns: columnsOf(rows), rows } : undefined;
  } catch (error) {
    // The question has changed since the path was written; JSON shows what there is.
    if (error instanceof CasebackError && error.code === 'NOT_FOUND') return undefined;
    throw error;
  }
}

const NUMBER = /^[+-]?\d+(?:\.\d+)?(?:e[+-]?\d+)?$/iu;

function tableIn({ columns, rows }: Table, title: string, id: string, isOfChart: boolean): Part {
  const cell = (value = '') =>
    NUMBER.test(value) ? html`<td class="number">${shown(value)}</td>` : html`<td>${value}</td>`;
  return html`<div class="scroll" tabindex="0" role="region" aria-label="Table: ${title}"><table>
${isOfChart ? html`<caption>The figures of the chart</caption>` : html`<caption class="unseen">${title}</caption>`}
<thead><tr>${columns.map((column) => html`<th scope="col">${spoken(column)}</th>`)}</tr></thead>
<tbody>${rows
    .slice(0, MOST_ROWS)
    .map(
      (row) =>
        html`<tr>${columns.map((column, i) => (i === 0 ? html`<th scope="row">${row[column]}</th>` : cell(row[column])))}</tr>`,
    )}</tbody>
</table></div>
${rows.length > MOST_ROWS && html`<p>The first ${MOST_ROWS} rows of ${rows.length}; all of them are in the <a href="/feeds/${id}.csv">CSV</a>.</p>`}`;
}

/** A column as a heading: `interval.low` as "interval, low", `notObserved` as "not observed". */
function spoken(column: string): string {
  return column.replaceAll('.', ', ').replaceAll(/(?<=[a-z])[A-Z]/gu, (letter) => ` ${letter.toLowerCase()}`);
}

/** A number with the digits that can be read; JSON and CSV have all of them. */
function shown(value: string): string {
  const number = Number(value);
  return Number.isInteger(number) ? value : String(significant(number, 4));
}

/** What the answer says beside its figures: that of the first chart, and the cautions of all. */
function saidIn(data: Data): Said {
  const cautions = new Set<string>();
  let chart: Readonly<Record<string, unknown>> = {};
  let unit: string | undefined;
  const look = (value: unknown): void => {
    if (Array.isArray(value)) value.forEach(look);
    if (typeof value !== 'object' || value === null || Array.isArray(value)) return;
    const group = value as Readonly<Record<string, unknown>>;
    if ('vegaLite' in group && Object.keys(chart).length === 0) chart = group;
    // A chart has a world of its own.
    for (const [name, inner] of Object.entries(group))
      if (name === 'cautions' && Array.isArray(inner)) for (const one of inner) cautions.add(String(one));
      else if (name !== 'vegaLite') look(inner);
  };
  look(data);
  const text = (value: unknown) => (typeof value === 'string' && value !== '' ? value : undefined);
  return {
    n: text(chart.n),
    description: text(chart.description),
    cautions: [...cautions],
    table: chartTable(chart),
    unit,
  };
}

/** The table of a chart as the schema has it: headings, and rows of texts in their order. */
function chartTable({ columns, rows }: Readonly<Record<string, unknown>>): Table | undefined {
  if (!Array.isArray(columns) || !Array.isArray(rows) || !rows.every(Array.isArray)) return undefined;
  const names = columns.map(String);
  return {
    columns: names,
    rows: rows.map((row) => Object.fromEntries(names.map((name, i) => [name, String(row[i] ?? '')]))),
  };
}
