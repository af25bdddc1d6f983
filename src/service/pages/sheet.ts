import type { CheckedSentence, CheckingSheet, EvidenceLine } from '../../evidence/checking-sheet.ts';
import type { ShownPhoto } from '../../evidence/photos-showing.ts';
import { fileNameOf } from '../../model/ids.ts';
import type { PhotoFile } from '../../model/photo-file.ts';
import { type Part, partOf, type Size, sizeOfPart, sizesOf } from '../../photos/sizes.ts';
import { fixed } from '../../text/rounding.ts';
import { type Part as Content, type Html, html } from './html.ts';

/** A picture as a page shows it. */
export interface ShownPicture {
  readonly src: string;
  /** Address of all of it in all its pixels, for who wants to look closer. */
  readonly full?: string;
  /** Pixels. */
  readonly width: number;
  readonly height: number;
  /** The part of it that is shown, where it is not made to be that part. */
  readonly part?: Part;
}

/** Where the picture of a photo is; undefined where there is none. */
export type PictureOf = (photo: ShownPhoto) => ShownPicture | undefined;

/** Pictures under one sentence; others are named. */
const MOST_PICTURES = 12;

/**
 * A publication for checking: every sentence with what supports it, to be ticked off on paper.
 * @param pictureOf where the pictures are that the page shows
 */
export function sheetBody(
  { publication, asOf, sentences, corrections }: CheckingSheet,
  pictureOf: PictureOf,
): Html {
  const faults = sentences.filter(({ audit }) => audit.findings.length > 0).length;
  return html`
<h1>Checking sheet: ${publication.title}</h1>
<p class="lead">${publication.kind}, ${publication.published ? `published ${publication.published}` : 'not published yet'}; evidence as of
<time datetime="${asOf}">${asOf.slice(0, 16).replace('T', ' ')} UTC</time>. ${sentences.length} ${sentences.length === 1 ? 'sentence' : 'sentences'},
${faults === 0 ? 'none with a finding' : `${faults} with ${faults === 1 ? 'a finding' : 'findings'}`}.</p>
<p>Probabilities run from 0 to 1. Words of likelihood are held against the calibrated scale of Mastrandrea et al. 2010.</p>
${sentences.map((one) => sentence(one, pictureOf))}
${
  corrections.length > 0 &&
  html`<section aria-labelledby="corrections"><h2 id="corrections">Corrections so far</h2>
<ul>${corrections.map(({ summary, by, on, reason }) => html`<li>${on.slice(0, 10)}, ${by}: ${summary} ${reason}</li>`)}</ul></section>`
}
<p class="signature">Checked by: ______________________ Date: ______________</p>`;
}

function sentence({ audit, evidence, photos }: CheckedSentence, pictureOf: PictureOf): Content {
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
${photos.length > 0 && photosPart(photos, pictureOf, id)}
<div class="scroll" tabindex="0" role="region" aria-label="Evidence of ${id}"><table>
<caption>What supports it</caption>
<thead><tr><th scope="col">What</th><th scope="col">Says</th><th scope="col">Probability</th><th scope="col">By, on</th></tr></thead>
<tbody>${evidence.map(line)}</tbody>
</table></div>
</section>`;
}

/** The photos that show what supports a sentence, each where it is to be looked at. */
function photosPart(photos: readonly ShownPhoto[], pictureOf: PictureOf, sentence: string): Content {
  const shown = photos.flatMap((photo) => {
    const picture = pictureOf(photo);
    return picture ? [{ photo, picture }] : [];
  });
  const pictures = shown.slice(0, MOST_PICTURES);
  const others = photos.filter((photo) => !pictures.some((one) => one.photo === photo));
  return html`<div class="evidence-photos" role="group" aria-label="Photos of what supports ${sentence}">
${pictures.map(({ photo, picture }) => figure(photo, picture))}
</div>
${
  others.length > 0 &&
  html`<p class="fine">Not shown here: ${others.map((photo, i) => html`${i > 0 && '; '}${titleOf(photo)}, ${creditOf(photo)}${photo.file === undefined && ' (known by its digest alone)'}`)}.</p>`
}`;
}

function figure(photo: ShownPhoto, { src, full, width, height, part }: ShownPicture): Content {
  const alt = altOf(photo);
  const image = part
    ? html`<svg viewBox="${part.left} ${part.top} ${part.width} ${part.height}" role="img" aria-label="${alt}"><image href="${src}" width="${width}" height="${height}"/></svg>`
    : html`<img src="${src}" alt="${alt}" width="${width}" height="${height}" loading="lazy" decoding="async">`;
  return html`<figure>${full === undefined ? image : html`<a href="${full}">${image}</a>`}
<figcaption>${titleOf(photo)}. ${creditOf(photo)}</figcaption></figure>
`;
}

function titleOf({ id, photo: { caption }, part }: ShownPhoto): Content {
  const what = caption?.replace(/\.$/u, '');
  return html`${part && html`<strong>${part.local}</strong> on `}<code>${id}</code>${what && html`: ${what}`}`;
}

const creditOf = ({ photo: { credit, licence } }: ShownPhoto) => `Photo: ${credit}, ${licence}`;

/** What there is to be seen, for who does not see it. */
function altOf({ id, photo: { caption }, part }: ShownPhoto): string {
  const whole = caption ?? `Photo ${id}`;
  return part ? `${part.local}, part of: ${whole}` : whole;
}

/**
 * Pictures of a service: parts of photos and whole ones, small enough for a page and fine enough for paper.
 */
export const pictureAtService: PictureOf = ({ id, file, part }) => {
  if (!file) return undefined;
  const full = `/photos/${id}/full/max/0/default.jpg`;
  if (part) {
    const size = sizeOfPart(partOf(file, part.box));
    return { src: `/photos/${id}/of/${encodeURIComponent(part.local)}.jpg`, full, ...size };
  }
  const size = pageSizeOf(file);
  return { src: `/photos/${id}/full/${size.width},${size.height}/0/default.jpg`, full, ...size };
};

/** The size in which a whole photo stands on a page. */
export const pageSizeOf = (file: PhotoFile): Size =>
  sizesOf(file).find((_, i, all) => i === Math.min(1, all.length - 1)) as Size;

function line({ depth, id, kind, description: says, probability, by, trouble }: EvidenceLine): Content {
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
