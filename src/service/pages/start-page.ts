import type { KindCount } from '../../compare/counts.ts';
import { yearOf } from '../../model/dates.ts';
import { termInWords } from '../../model/taxonomy.ts';
import { fixed, percentText } from '../../text/rounding.ts';
import type { TrendPeriod } from '../../trends/answer.ts';
import { type Html, html, type Part } from './html.ts';
import { layout } from './layout.ts';
import { QUESTIONS, type StartAnswers } from './start-answers.ts';

/** Devices listed under the pattern. */
const LISTED = 12;
/** Columns of the table of generations. */
const GENERATIONS = 8;
/** Under this many devices a year says little (common practice, no source). */
const FEW = 10;

/** The start page: what the archive holds, and three questions with their answers of this moment. */
export function startPage(answers: StartAnswers): Html {
  return layout({
    title: 'Caseback: what is inside, and how sure we are',
    at: '/',
    body: html`
${introduction(answers)}
${patternQuestion(answers)}
${lineQuestion(answers)}
${shareQuestion(answers)}
${publicationsToCheck(answers)}
<section aria-labelledby="further">
<h2 id="further">Ask your own</h2>
<p>The <a href="/explorer">explorer</a> completes questions as you write and explains every field. Programs send the
same questions to <code>/graphql</code>; the promises are in the <a href="/schema.graphql">schema</a>. The
<a href="/docs">guide</a> walks through all of it in ten minutes.</p>
</section>`,
  });
}

/** While the archive is read; the page asks again by itself. */
export function waitingPage(state: string): Html {
  const words =
    state === 'failed'
      ? 'The archive could not be read. The log of the service says why.'
      : 'The archive is still being read. This page looks again in two seconds.';
  return layout({ title: 'Caseback', at: '/', body: html`<h1>One moment</h1><p role="status">${words}</p>` });
}

function introduction({ summary }: StartAnswers): Part {
  const { firstYear, lastYear, devices, inventedDevices } = summary;
  const facts: readonly (readonly [number, string])[] = [
    [devices, 'devices'],
    [summary.specimens, 'specimens opened'],
    [summary.components, 'components placed'],
    [summary.parts, 'parts in the catalogue'],
    [summary.makers, 'makers'],
    [summary.productLines, 'product lines'],
  ];
  return html`
<h1>What is inside, and how sure we are</h1>
<p class="lead">An archive of opened wearables: what was seen on the bench, what was concluded from it, and the
probability of each conclusion.</p>
${inventedDevices > 0 && html`<p class="notice"><strong>Demo data.</strong> ${invented(inventedDevices, devices)}</p>`}
<dl class="facts">
${facts.map(([number, name]) => html`<div><dt>${name}</dt><dd>${number.toLocaleString('en')}</dd></div>`)}
${firstYear !== null && html`<div><dt>years of release</dt><dd>${firstYear}–${lastYear}</dd></div>`}
</dl>`;
}

function patternQuestion({ pattern, names }: StartAnswers): Part {
  const { heading, words, text, query } = QUESTIONS.pattern;
  return question('pattern', heading, words, query, [
    html`<p><code class="pattern">${text}</code></p>`,
    'failed' in pattern
      ? html`<p class="notice" role="status">${pattern.failed}</p>`
      : html`
<p class="answer"><strong>${pattern.devices.filter(({ certain }) => certain).length}</strong> for certain;
<strong>${tidy(pattern.devices.reduce((sum, { probability }) => sum + probability, 0))}</strong> to expect, of
${pattern.devices.length} that may.${!pattern.complete && ' The search stopped early; there may be more.'}</p>
<div class="scroll"><table>
<caption>Devices that show it${pattern.devices.length > LISTED && `, the surest ${LISTED}`}</caption>
<thead><tr><th scope="col">Device</th><th scope="col">Matches</th><th scope="col">How sure</th></tr></thead>
<tbody>
${pattern.devices
  .toSorted((a, b) => b.probability - a.probability)
  .slice(0, LISTED)
  .map(
    ({ deviceId, matches, certain, probability }) => html`
<tr><th scope="row">${names.get(deviceId)}</th><td class="number">${matches.length}</td><td>${certain ? 'certain' : 'possible'}, ${percent(probability)}</td></tr>`,
  )}
</tbody></table></div>`,
  ]);
}

function lineQuestion({ line }: StartAnswers): Part {
  const { heading, words, query } = QUESTIONS.line;
  if (!line) return question('line', heading, words, undefined, html`<p>No product line yet.</p>`);
  const shown = line.generations.slice(-GENERATIONS);
  const skipped = line.generations.length - shown.length;
  return question(
    'line',
    heading,
    words,
    query(line.productLine.id),
    html`
<div class="scroll"><table>
<caption>${line.productLine.name}: sensors by kind${skipped > 0 && `, the last ${GENERATIONS} of ${line.generations.length} devices`}</caption>
<thead><tr><th scope="col">Sensor</th>
${shown.map(({ device, number }) => html`<th scope="col">${device.name}<small>generation ${number}, ${yearOf(device.released)}</small></th>`)}
</tr></thead>
<tbody>
${line.comparison.sensors.map(
  ({ kind, meaning, counts }) => html`
<tr><th scope="row"><abbr title="${meaning}">${inWords(kind)}</abbr></th>
${counts.slice(skipped).map((count) => html`<td class="number">${countCell(count)}</td>`)}</tr>`,
)}
</tbody></table></div>
<p class="fine">A bare number is certain (probability 0.95 or more for each). Otherwise it is the certain number, then
the number to expect. 0 is none on boards that are fully inventoried; "not observed" is no 0: not every place was looked at.</p>`,
  );
}

/** The way to the checking sheets; publications are few, and the list is folded up. */
function publicationsToCheck({ publications }: StartAnswers): Part {
  if (publications.length === 0) return '';
  return html`
<section aria-labelledby="publications">
<h2 id="publications">Does each sentence fit its evidence?</h2>
<p>A checking sheet holds every sentence of a publication against what supports it, down to observation, photo and source.</p>
<details><summary>${publications.length} ${publications.length === 1 ? 'publication' : 'publications'}</summary>
<ul>${publications.map(({ id, title, kind, published }) => html`<li><a href="/publications/${id}/sheet">${title}</a> (${kind}${published && `, ${published}`})</li>`)}</ul>
</details>
</section>`;
}

function shareQuestion({ share }: StartAnswers): Part {
  const { heading, words, query } = QUESTIONS.share;
  const { total, periods } = share;
  return question(
    'share',
    heading,
    words,
    total.devices === 0 ? undefined : query,
    html`
<div class="scroll"><table>
<caption>Devices with a pressure sensor, by year; n = ${total.n}, not observed in ${total.notObserved} more</caption>
<thead><tr><th scope="col">Year</th><th scope="col">Devices (n)</th><th scope="col">Not observed</th><th scope="col">Certain</th><th scope="col">To expect</th><th scope="col">Share to expect</th><th scope="col">95 % interval</th></tr></thead>
<tbody>
${periods.map(yearRow)}
</tbody></table></div>
<p class="fine">Devices in which nobody could see whether there is one are not observed, and count neither as yes nor as no. The interval (Wilson) says how far the share may lie off by chance alone. This counts what was opened, which is not the market. ${periods.every(({ n }) => n < FEW) && `No year has ${FEW} devices or more, so no year's share should be quoted alone, and nothing here is called a trend.`}</p>`,
  );
}

function yearRow({
  period,
  devices,
  n,
  notObserved,
  certain,
  expected,
  possible,
  value,
  interval,
}: TrendPeriod): Html {
  if (devices === 0)
    return html`<tr><th scope="row">${period}</th><td class="number">0</td><td colspan="5">none opened</td></tr>`;
  const head = html`<th scope="row">${period}</th><td class="number">${n}</td><td class="number">${notObserved}</td>`;
  if (value === null || !interval) return html`<tr>${head}<td colspan="4">not observed</td></tr>`;
  // Dark: certain; light: what may be added. Drawn with attributes, since the page allows no inline styles.
  return html`
<tr>${head}<td class="number">${certain}</td><td class="number">${tidy(expected ?? 0)}</td>
<td class="share"><svg class="bar" viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true"><rect class="may" width="${(100 * (possible ?? 0)) / n}" height="10"/><rect class="is" width="${(100 * certain) / n}" height="10"/></svg><span>${percent(value)}</span></td><td class="number">${percent(interval.low)} to ${percent(interval.high)}</td></tr>`;
}

function question(id: string, heading: string, words: string, query: string | undefined, answer: Part): Html {
  return html`
<section aria-labelledby="${id}">
<h2 id="${id}">${heading}</h2>
<p>${words}</p>
${answer}
${
  query &&
  html`<details><summary>The question as a program sends it</summary><pre tabindex="0"><code>${query}</code></pre>
<p><a href="/explorer?query=${encodeURIComponent(query)}">Open in the explorer</a></p></details>`
}
</section>`;
}

function countCell({ certain, expected, possible, verdict }: KindCount): Part {
  if (verdict === 'NOT_OBSERVED') return html`<span class="none">not observed</span>`;
  if (possible === 0) return html`<span class="none">0</span>`;
  return certain === possible ? certain : html`${certain}<small>, expect ${tidy(expected)}</small>`;
}

/** `AmbientLightSensor` as `Ambient light sensor`. */
function inWords(term: string): string {
  const words = termInWords(term);
  return words.charAt(0).toUpperCase() + words.slice(1);
}

const tidy = (number: number) => String(Number(fixed(number, 2)));
const percent = (share: number) => percentText(share).replace(' ', '\u00a0');

/** How much of the archive is invented, as a sentence. */
export function invented(some: number, all: number): string {
  if (some === all) return 'Every device here, with its makers and parts, is invented.';
  const devices = `${some} of ${all} devices here`;
  return some === 1
    ? `${devices}, with its makers and parts, is invented.`
    : `${devices}, with their makers and parts, are invented.`;
}
