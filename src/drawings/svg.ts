import { FACE } from '../charts/house-style.ts';
import { HATCHES, type Hatch } from './hatches.ts';
import type { Fill, Ink, Shape, Sheet, Spot, Stroke } from './shapes.ts';

// The writer of standalone SVG (SVG 1.1, W3C Recommendation 16 August 2011): no script, no style sheet, nothing loaded.

const GREYS: Readonly<Record<string, string>> = {
  ink: '#1a1a1a',
  faint: '#595959',
  pale: '#9a9a9a',
  paper: '#ffffff',
  board: '#f4f4f4',
  body: '#e2e2e2',
};

/** Colours of what is picked: those of Okabe and Ito that are dark enough on paper, blue first. */
export const PICKED = ['#0072B2', '#D55E00', '#009E73', '#CC79A7', '#E69F00', '#56B4E9'] as const;

/** Faces in the order of preference; the widths of the second are those of the first or more. */
const FACES = `${FACE}, Verdana, Geneva, sans-serif`;

const HATCH_INK = '#8c8c8c';

/** A sheet as SVG; equal sheets give equal bytes. */
export function svgOf({ title, description, width, height, shapes }: Sheet): string {
  const hatches = [...new Set(shapes.flatMap((shape) => hatchOf(shape) ?? []))].sort((a, b) => a - b);
  const key = keyOf(title, description, shapes.length);
  // SVG 1.1, section 5.7: pictures are named by XLink.
  const links = shapes.some(({ kind }) => kind === 'picture')
    ? ' xmlns:xlink="http://www.w3.org/1999/xlink"'
    : '';
  return [
    `<svg xmlns="http://www.w3.org/2000/svg"${links} width="${short(width)}mm" height="${short(height)}mm" viewBox="0 0 ${short(width)} ${short(height)}" role="img" aria-labelledby="${key}-title ${key}-desc" font-family="${escaped(FACES)}">`,
    `<title id="${key}-title">${escaped(title)}</title>`,
    `<desc id="${key}-desc">${escaped(description)}</desc>`,
    ...(hatches.length > 0
      ? [`<defs>${hatches.map((at) => pattern(`${key}-hatch-${at}`, HATCHES[at])).join('')}</defs>`]
      : []),
    `<rect width="${short(width)}" height="${short(height)}" fill="#ffffff"/>`,
    ...shapes.map((shape) => written(shape, key)),
    '</svg>',
    '',
  ].join('\n');
}

function hatchOf(shape: Shape): number | undefined {
  return 'fill' in shape ? shape.fill?.hatch : undefined;
}

function written(shape: Shape, key: string): string {
  const of = shape.of === undefined ? '' : ` data-of="${escaped(shape.of)}"`;
  switch (shape.kind) {
    case 'area': {
      const d = shape.rings.map((ring) => `M${path(ring)}Z`).join('');
      const base = `<path${of} d="${d}" fill-rule="evenodd"${filled(shape.fill)}${drawn(shape.stroke)}/>`;
      if (shape.fill?.hatch === undefined) return base;
      const plain = `<path${of} d="${d}" fill-rule="evenodd"${filled(shape.fill)}/>`;
      const over = `<path d="${d}" fill-rule="evenodd" fill="url(#${key}-hatch-${shape.fill.hatch})"${drawn(shape.stroke)}/>`;
      return `${plain}${over}`;
    }
    case 'line':
      return `<path${of} d="M${path(shape.points)}" fill="none"${drawn(shape.stroke)}/>`;
    case 'disc': {
      const [x, y] = shape.at;
      return `<circle${of} cx="${short(x)}" cy="${short(y)}" r="${short(shape.radius)}"${filled(shape.fill)}${drawn(shape.stroke)}/>`;
    }
    case 'text': {
      const [x, y] = shape.at;
      const rim =
        shape.rim === undefined
          ? ''
          : ` paint-order="stroke" stroke="#ffffff" stroke-width="${short(shape.rim)}" stroke-linejoin="round"`;
      return `<text${of} x="${short(x)}" y="${short(y)}" font-size="${short(shape.size)}"${shape.isBold ? ' font-weight="bold"' : ''} fill="${colourOf(shape.ink ?? 'ink')}"${rim}>${escaped(shape.text)}</text>`;
    }
    case 'picture': {
      const [x, y] = shape.at;
      return `<image${of} x="${short(x)}" y="${short(y)}" width="${short(shape.width)}" height="${short(shape.height)}" preserveAspectRatio="none" opacity="${short(shape.strength)}" xlink:href="${escaped(shape.href)}"/>`;
    }
    default:
      return shape satisfies never;
  }
}

function pattern(id: string, { tile, turn, marks, pen }: Hatch): string {
  const half = short(tile / 2);
  const line = (d: string) => `<path d="${d}" stroke="${HATCH_INK}" stroke-width="${pen}" fill="none"/>`;
  const inside =
    marks === 'dots'
      ? `<circle cx="${half}" cy="${half}" r="${short(pen / 2)}" fill="${HATCH_INK}"/>`
      : `${line(`M0 ${half}H${tile}`)}${marks === 'grid' ? line(`M${half} 0V${tile}`) : ''}`;
  return `<pattern id="${id}" width="${tile}" height="${tile}" patternUnits="userSpaceOnUse" patternTransform="rotate(${turn})">${inside}</pattern>`;
}

function filled(fill: Fill | undefined): string {
  return ` fill="${fill?.ink === undefined ? 'none' : colourOf(fill.ink)}"`;
}

function drawn(stroke: Stroke | undefined): string {
  if (!stroke) return '';
  const { ink, width, doubt = 'certain' } = stroke;
  const dashes = {
    certain: '',
    likely: ' stroke-dasharray="1.1 0.6"',
    unknown: ' stroke-dasharray="0.01 0.55" stroke-linecap="round"',
  }[doubt];
  // Dots need a broader pen to be seen beside lines.
  const pen = doubt === 'unknown' ? Math.max(width, 0.28) : width;
  return ` stroke="${colourOf(ink)}" stroke-width="${short(pen)}" stroke-linejoin="round"${dashes}`;
}

function colourOf(ink: Ink): string {
  const picked = /^picked-(\d+)$/u.exec(ink);
  return picked ? PICKED[Number(picked[1]) % PICKED.length] : GREYS[ink];
}

const path = (points: readonly Spot[]) => points.map(([x, y]) => `${short(x)} ${short(y)}`).join('L');

/** A length with at most three decimals. */
const short = (length: number) => String(Math.round(length * 1000) / 1000 || 0);

const ENTITIES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** A text as XML 1.0 takes it: characters that it forbids (section 2.2) become U+FFFD. */
export function escaped(text: string): string {
  return text
    .toWellFormed()
    .replace(/[^\t\n\r\u{20}-\u{d7ff}\u{e000}-\u{fffd}\u{10000}-\u{10ffff}]/gu, '\u{fffd}')
    .replace(/[&<>"']/gu, (sign) => ENTITIES[sign]);
}

/** Start of ids inside a drawing, from what it shows (FNV-1a, 32 bits), since several may stand on one page. */
function keyOf(...parts: readonly (string | number)[]): string {
  let hash = 0x811c9dc5;
  for (const character of parts.join('\u{0}'))
    hash = Math.imul(hash ^ (character.codePointAt(0) ?? 0), 0x01000193) >>> 0;
  return `d${hash.toString(36)}`;
}
