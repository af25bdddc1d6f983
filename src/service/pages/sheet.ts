import type { CheckedSentence, CheckingSheet, EvidenceLine } from '../../evidence/checking-sheet.ts';
import { fileNameOf } from '../../model/ids.ts';
import { fixed } from '../../text/rounding.ts';
import { type Html, html, type Part } from './html.ts';

/** A publication for checking: every sentence with what supports it, to be ticked off on paper. */
export function sheetBody({ publication, asOf, sentences, corrections }: CheckingSheet): Html {
  const faults = sentences.filter(({ audit }) => audit.findings.length > 0).length;
  return html`
<h1>Checking sheet: ${publication.title}</h1>
<p class="lead">${publication.kind}, ${publication.published ? `published ${publication.published}` : 'not published yet'}; evidence as of
<time datetime="${asOf}">${asOf.slice(0, 16).replace('T', ' ')} UTC</time>. ${sentences.length} ${sentences.length === 1 ? 'sentence' : 'sentences'},
${faults === 0 ? 'none with a finding' : `${faults} with ${faults === 1 ? 'a finding' : 'findings'}`}.</p>
<p>Probabilities run from 0 to 1. Words of likelihood are held against the calibrated scale of Mastrandrea et al. 2010.</p>
${sentences.map(sentence)}
${
  corrections.length > 0 &&
  html`<section aria-labelledby="corrections"><h2 id="corrections">Corrections so far</h2>
<ul>${corrections.map(({ summary, by, on, reason }) => html`<li>${on.slice(0, 10)}, ${by}: ${summary} ${reason}</li>`)}</ul></section>`
}
<p class="signature">Checked by: ______________________ Date: ______________</p>`;
}

function sentence({ audit, evidence }: CheckedSentence): Part {
  const { id, claim, support, wording: said, probability, proposal, findings, notChecked } = audit;
  const name = fileNameOf(id, '-');
  return html`
<section class="sentence" aria-labelledby="${name}">
<h2 id="${name}"><span class="tick" aria-hidden="true">☐</span> ${claim.sentence}</h2>
<p>${id}. ${claim.by ? `Judged by ${claim.by}` : 'Nobody signed it'}${typeof claim.probability === 'number' && ` at ${fixed(claim.probability, 2)}`};
the evidence gives ${spoken(support.probability)}${bounds(support.low, support.high)}.
It ${said.words === null ? 'is stated flatly' : html`says “${said.words}”`}, which takes ${fixed(said.low, 2)} to ${fixed(said.high, 2)}.
${findings.length > 0 && probability !== null && proposal && html`To fit the number, ${proposal}.`}</p>
${findings.length > 0 && html`<ul class="findings">${findings.map((finding) => html`<li><strong>${finding.kind}:</strong> ${finding.message}</li>`)}</ul>`}
${notChecked.length > 0 && html`<p>Not checked: ${notChecked.join('; ')}.</p>`}
${claim.note && html`<p>Note: ${claim.note}</p>`}
<div class="scroll" tabindex="0" role="region" aria-label="Evidence of ${id}"><table>
<caption>What supports it</caption>
<thead><tr><th scope="col">What</th><th scope="col">Says</th><th scope="col">Probability</th><th scope="col">By, on</th></tr></thead>
<tbody>${evidence.map(line)}</tbody>
</table></div>
</section>`;
}

function line({ depth, id, kind, description: says, probability, by, trouble }: EvidenceLine): Part {
  const steps =
    depth > 0 &&
    html`<span aria-hidden="true">${'— '.repeat(depth)}</span><span class="unseen">step ${depth} under it: </span>`;
  return html`<tr><th scope="row">${steps}${kind} <code>${id}</code></th><td>${says}${trouble && html` <strong>(${trouble})</strong>`}</td>
<td>${probability === null ? '' : fixed(probability, 2)}</td><td>${by}</td></tr>`;
}

function spoken(probability: number | null): string {
  return probability === null ? 'no number' : fixed(probability, 2);
}

/** What the number could be if doubts hang together; said only where that makes a difference. */
function bounds(low: number | null, high: number | null): string {
  if (low === null || high === null || low === high) return '';
  return ` (${fixed(low, 2)} to ${fixed(high, 2)} if doubts hang together)`;
}
