import { createHash } from 'node:crypto';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Resvg } from '@resvg/resvg-js';
import sharp from 'sharp';
import { readFiles } from '../../src/dossier/read-files.ts';
import type { Board } from '../../src/model/board.ts';
import { cornersOfBody } from '../../src/model/body.ts';
import type { Component, Dossier } from '../../src/model/dossier.ts';
import { specimenIdOf } from '../../src/model/dossier.ts';
import { cornersOf, holesOf, type Point } from '../../src/model/outline.ts';
import { seededRandom } from '../bench/generate.ts';

// Renders the photos of the invented demo from its own records, writes them beside the dossiers in small, and puts their digests, known
// points and regions into the dossiers. Boards lie on a grey mat between four printed targets, seen by a camera that is held a little
// askew. Run after a change of the demo: npm run demo:photos

const SEED = fileURLToPath(new URL('../../seed-data/dossiers', import.meta.url));
const FONT = fileURLToPath(import.meta.resolve('dejavu-fonts-ttf/ttf/DejaVuSansMono.ttf'));
/** Longer side of a photo, pixels. */
const LONGER = 880;
/** The scene is drawn this much finer before the camera looks at it. */
const FINER = 1.6;
/** Least share of the shorter side. */
const LEAST_SHARE = 0.36;

type Side = 'top' | 'bottom';
/** x' = (a x + b y + c) / (g x + h y + 1), likewise y'. */
type Projection = readonly [number, number, number, number, number, number, number, number];

interface Photo {
  readonly content: Buffer;
  readonly points: readonly { readonly at: Point; readonly mm: Point }[];
  readonly regions: readonly { readonly of: string; readonly xywh: readonly number[] }[];
}

const project = ([a, b, c, d, e, f, g, h]: Projection, [x, y]: Point): Point => {
  const w = g * x + h * y + 1;
  return [(a * x + b * y + c) / w, (d * x + e * y + f) / w];
};

async function render(dossier: Dossier, board: Board, side: Side): Promise<Photo> {
  const random = seededRandom(seedOf(`${specimenIdOf(dossier)}/${board.id}/${side}`));
  const on = dossier.components.filter((one) => one.board === board.id && one.at && one.fitted !== false);
  const here = on.filter((one) => (one.side ?? (board.sides.length === 1 ? board.sides[0] : 'top')) === side);
  const ring = board.outline ? cornersOf(board.outline) : undefined;
  const all = [...(ring ?? []), ...on.flatMap((one) => cornersOfBody(one) ?? [])];
  const [xs, ys] = [all.map(([x]) => x), all.map(([, y]) => y)];
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const [length, width] = [right - left, high - low];
  const rim = Math.max(1.6, 0.1 * Math.max(length, width));
  const target = rim * 0.42;
  const [sceneLength, sceneWidth] = [length + 2 * rim, width + 2 * rim];
  const isWide = length >= width;
  // Turned over the long edge, as on the bench.
  const onScene = ([x, y]: Point): Point => [
    side === 'bottom' && !isWide ? right - x + rim : x - left + rim,
    side === 'bottom' && isWide ? y - low + rim : high - y + rim,
  ];
  const share = Math.max(LEAST_SHARE, Math.min(sceneLength, sceneWidth) / Math.max(sceneLength, sceneWidth));
  const [photoWidth, photoHeight] = isWide
    ? [LONGER, Math.round(LONGER * share)]
    : [Math.round(LONGER * share), LONGER];
  // The mat goes on where the scene is narrower than the photo.
  const scale = Math.min(photoWidth / sceneLength, photoHeight / sceneWidth);
  const [beside, above] = [(photoWidth - scale * sceneLength) / 2, (photoHeight - scale * sceneWidth) / 2];
  const flat = ([x, y]: Point): Point => [beside + scale * x, above + scale * y];

  const targets = [
    [left - rim / 2, low - rim / 2],
    [right + rim / 2, low - rim / 2],
    [right + rim / 2, high + rim / 2],
    [left - rim / 2, high + rim / 2],
  ].map(([x, y]): Point => [round(x, 2), round(y, 2)]);
  const colour = MASKS[Math.floor(random() * MASKS.length)];
  const svg = sceneOf(
    { photoWidth, photoHeight, colour, scale, target, random },
    {
      ring: ring?.map((point) => flat(onScene(point))),
      holes: board.outline
        ? holesOf(board.outline).map((hole) => hole.map((point) => flat(onScene(point))))
        : [],
      targets: targets.map((point) => flat(onScene(point))),
      bodies: here
        .toSorted((a, b) => areaOf(b) - areaOf(a))
        .map((component) => ({
          component,
          corners: (cornersOfBody({ ...component, side }) as readonly Point[]).map((point) =>
            flat(onScene(point)),
          ),
        })),
    },
  );
  const scene = new Resvg(svg, {
    font: { loadSystemFonts: false, fontFiles: [FONT], defaultFontFamily: 'DejaVu Sans Mono' },
    fitTo: { mode: 'zoom', value: FINER },
  }).render();

  const view = askew(photoWidth, photoHeight, random);
  const content = await photograph(scene, view, photoWidth, photoHeight, random);
  const seen = (point: Point): Point => project(view, flat(onScene(point)));
  const percent = ([x, y]: Point): Point => [(100 * x) / photoWidth, (100 * y) / photoHeight];
  const listed = dossier.photos.find((one) => one.id === `photo-${board.id}-${side}`);
  const regions = (listed?.regions ?? []).flatMap(({ of }) => {
    const component = here.find((one) => one.id === of || `${one.board}.${one.id}` === of);
    // Of one without a size there is nothing to draw round.
    if (!component?.body) return [];
    const corners = (cornersOfBody({ ...component, side }) as readonly Point[]).map((one) =>
      percent(seen(one)),
    );
    const [u, v] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
    const [x, y] = [Math.min(...u), Math.min(...v)];
    return [{ of, xywh: [x, y, Math.max(...u) - x, Math.max(...v) - y].map((one) => round(one, 2)) }];
  });
  return {
    content,
    points: targets.map((mm) => ({
      at: percent(seen(mm)).map((one) => round(one, 2)) as unknown as Point,
      mm,
    })),
    regions,
  };
}

/** Solder masks. */
const MASKS = ['#1d3b2c', '#20262b', '#1e3048', '#3a2424', '#2b2b2e'] as const;

interface Look {
  readonly photoWidth: number;
  readonly photoHeight: number;
  readonly colour: string;
  /** Pixels a millimetre. */
  readonly scale: number;
  readonly target: number;
  readonly random: () => number;
}

interface Scene {
  readonly ring: readonly Point[] | undefined;
  readonly holes: readonly (readonly Point[])[];
  readonly targets: readonly Point[];
  readonly bodies: readonly { readonly component: Component; readonly corners: readonly Point[] }[];
}

function sceneOf(look: Look, { ring, holes, targets, bodies }: Scene): string {
  const { photoWidth: w, photoHeight: h, colour, scale, target } = look;
  const path = (points: readonly Point[]) =>
    `M${points.map(([x, y]) => `${round(x, 2)} ${round(y, 2)}`).join('L')}Z`;
  const board = ring
    ? `<path d="${path(ring)}${holes.map(path).join('')}" fill-rule="evenodd" fill="${colour}" stroke="#c9b26a" stroke-width="${round(0.12 * scale, 2)}"/>`
    : '';
  const marks = targets.map(([x, y]) => {
    const r = target * scale;
    return `<circle cx="${x}" cy="${y}" r="${r}" fill="#f4f4f0"/><path d="M${x} ${y}h${r}a${r} ${r} 0 0 1 ${-r} ${r}z M${x} ${y}h${-r}a${r} ${r} 0 0 1 ${r} ${-r}z" fill="#111"/>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${w}" height="${h}"><defs><radialGradient id="mat" r="0.8"><stop offset="0" stop-color="#8d9196"/><stop offset="1" stop-color="#64686d"/></radialGradient></defs><rect x="${-w}" y="${-h}" width="${3 * w}" height="${3 * h}" fill="#64686d"/><rect width="${w}" height="${h}" fill="url(#mat)"/>${board}${marks.join('')}${bodies.map((one) => bodyOf(one, look)).join('')}<text x="${w / 2}" y="${h - 7}" text-anchor="middle" font-size="12" fill="#d5d7d9" font-family="DejaVu Sans Mono">rendered, invented</text></svg>`;
}

/** Faces of bodies by the beginning of a package or designator, else black mould compound. */
const FACES: readonly (readonly [RegExp, string, string])[] = [
  [/^(?:C|FB)\d/u, '#a98d66', '#d9d2c4'],
  [/^R\d/u, '#26262a', '#d9d2c4'],
  [/^L\d/u, '#4a4a4e', '#c8b27a'],
  [/^(?:J|P|X)\d/u, '#cfc8b6', '#e8dcae'],
  [/^Y\d/u, '#b9bcc0', '#8f9296'],
  [/^(?:MP|E|TP|W)\d/u, '#d8c078', '#f0dc9a'],
  [/^(?:D|LED)\d/u, '#dfe3e0', '#f5f5ef'],
  [/^(?:BT|B)\d/u, '#9aa0a8', '#7a8088'],
];

function bodyOf({ component, corners }: Scene['bodies'][number], { scale }: Look): string {
  const designator = component.id.split('.').at(-1) ?? component.id;
  const [, face = '#1b1c1e', ink = '#b9b9b4'] = FACES.find(([form]) => form.test(designator)) ?? [];
  const d = `M${corners.map(([x, y]) => `${round(x, 2)} ${round(y, 2)}`).join('L')}Z`;
  const shadow = `<path d="${d}" transform="translate(${round(0.08 * scale, 2)} ${round(0.1 * scale, 2)})" fill="#000" opacity="0.35"/>`;
  const body = `<path d="${d}" fill="${face}" stroke="#0a0a0a" stroke-opacity="0.5" stroke-width="${round(0.05 * scale, 2)}"/>`;
  if (!component.marking || corners.length < 4) return shadow + body;
  const lines = component.marking.split('\n');
  const [[x0, y0], [x1, y1], , [x3, y3]] = corners;
  const [long, short] = [Math.hypot(x1 - x0, y1 - y0), Math.hypot(x3 - x0, y3 - y0)];
  const size = Math.min(
    (0.8 * long) / (0.62 * Math.max(...lines.map((one) => one.length))),
    (0.78 * short) / (1.2 * lines.length),
  );
  if (size < 3) return shadow + body;
  let turn = (Math.atan2(y1 - y0, x1 - x0) * 180) / Math.PI;
  // Read from below or from the right, however the body is turned.
  if (turn > 91 || turn <= -89) turn += 180;
  const [cx, cy] = [(x0 + corners[2][0]) / 2, (y0 + corners[2][1]) / 2];
  const texts = lines.map(
    (line, i) =>
      `<text x="0" y="${round((i - (lines.length - 1) / 2) * 1.2 * size + 0.36 * size, 2)}" text-anchor="middle">${escaped(line)}</text>`,
  );
  return `${shadow}${body}<g transform="translate(${round(cx, 2)} ${round(cy, 2)}) rotate(${round(turn, 2)})" font-family="DejaVu Sans Mono" font-size="${round(size, 2)}" fill="${ink}">${texts.join('')}</g>`;
}

/** How a camera that is held a little askew sees the scene: turned by up to 2 degrees, tilted by up to 9. */
function askew(width: number, height: number, random: () => number): Projection {
  const degrees = (most: number) => ((random() * 2 - 1) * most * Math.PI) / 180;
  const [turn, pitch, yaw] = [degrees(2), degrees(9), degrees(9)];
  const distance = 2.2 * Math.max(width, height);
  const shrink = 0.95;
  const [cz, sz] = [Math.cos(turn), Math.sin(turn)];
  // About the middle of the photo: x to the right, y down, z away from the camera (rotations in the order turn, pitch, yaw).
  const rows = (x: number, y: number) => {
    const [u, v] = [x * cz - y * sz, x * sz + y * cz];
    const [v2, z1] = [v * Math.cos(pitch), v * Math.sin(pitch)];
    return { u: u * Math.cos(yaw) + z1 * Math.sin(yaw), v: v2, z: -u * Math.sin(yaw) + z1 * Math.cos(yaw) };
  };
  const [ex, ey] = [rows(1, 0), rows(0, 1)];
  const [mx, my] = [width / 2, height / 2];
  // u, v and z are linear in x - mx and y - my; the picture is shrink * distance * u / (distance + z), about the middle.
  const k = shrink * distance;
  const w0 = distance - ex.z * mx - ey.z * my;
  const linear = (a: number, b: number, middle: number) => [
    (k * a + middle * ex.z) / w0,
    (k * b + middle * ey.z) / w0,
    (-k * (a * mx + b * my) + middle * w0) / w0,
  ];
  const [a, b, c] = linear(ex.u, ey.u, mx);
  const [d, e, f] = linear(ex.v, ey.v, my);
  return [a, b, c, d, e, f, ex.z / w0, ey.z / w0];
}

/** Each pixel of the photo is what the camera sees of the scene there, with the shade of a lens and the noise of a sensor. */
async function photograph(
  scene: { readonly pixels: Buffer; readonly width: number; readonly height: number },
  view: Projection,
  width: number,
  height: number,
  random: () => number,
): Promise<Buffer> {
  const back = inverse(view);
  const data = Buffer.alloc(width * height * 3);
  const { pixels } = scene;
  const stride = scene.width * 4;
  let bits = Math.floor(random() * 2 ** 31) + 1;
  // Marsaglia, "Xorshift RNGs" (2003): noise need not be better.
  const uniform = () => {
    bits ^= bits << 13;
    bits ^= bits >>> 17;
    bits ^= bits << 5;
    return (bits >>> 0) / 2 ** 32;
  };
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [u, v] = project(back, [x + 0.5, y + 0.5]);
      const sx = Math.max(0, Math.min(scene.width - 1.001, u * FINER - 0.5));
      const sy = Math.max(0, Math.min(scene.height - 1.001, v * FINER - 0.5));
      const [x0, y0] = [Math.floor(sx), Math.floor(sy)];
      const [fx, fy] = [sx - x0, sy - y0];
      const corner = y0 * stride + x0 * 4;
      const off = (x / width - 0.5) ** 2 + (y / height - 0.5) ** 2;
      const light = 1.06 - 0.34 * off;
      const noise = (uniform() + uniform() + uniform() - 1.5) * 5;
      const at = (y * width + x) * 3;
      for (let channel = 0; channel < 3; channel++) {
        const i = corner + channel;
        const above = pixels[i] * (1 - fx) + pixels[i + 4] * fx;
        const below = pixels[i + stride] * (1 - fx) + pixels[i + stride + 4] * fx;
        data[at + channel] = Math.max(0, Math.min(255, (above * (1 - fy) + below * fy) * light + noise));
      }
    }
  return sharp(data, { raw: { width, height, channels: 3 } })
    .blur(0.6)
    .webp({ quality: 58, effort: 6, smartSubsample: true })
    .toBuffer();
}

/** @throws Error for a view from the side, in which a plane is a line */
function inverse([a, b, c, d, e, f, g, h]: Projection): Projection {
  const all = [
    e - f * h,
    c * h - b,
    b * f - c * e,
    f * g - d,
    a - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ];
  const last = all[8];
  if (Math.abs(last) < 1e-9) throw new Error('the scene is seen from the side');
  return all.slice(0, 8).map((one) => one / last) as unknown as Projection;
}

const round = (value: number, digits: number) => Number(value.toFixed(digits));
const areaOf = ({ body }: Component) => (body ? body.length * body.width : 0);
const seedOf = (text: string) => createHash('sha256').update(text).digest().readUInt32BE(0);
const escaped = (text: string) =>
  text.replace(/[&<>]/gu, (one) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;' })[one] ?? one);

/** A dossier with what was rendered of a photo in place of what it said of it; all else stays as it is written. */
function written(text: string, id: string, file: string, photo: Photo, board: string, side: Side): string {
  const start = text.indexOf(`\n  - id: ${id}\n`);
  if (start < 0) throw new Error(`no photo ${id}`);
  const next = text.slice(start + 1).search(/\n(?: {2}- |\S|\n)/u);
  const end = next < 0 ? text.length : start + 1 + next;
  const sha256 = createHash('sha256').update(photo.content).digest('hex');
  const block = text
    .slice(start, end)
    .replace(/\n {4}sha256: .*/u, `\n    sha256: ${sha256}`)
    .replace(/\n {4}file: .*/u, `\n    file: ${file}`)
    .replace(/\n {4}(?:board|side): .*/gu, '')
    .replace(/\n {4}(?:points|regions):(?:\n {6}- .*)*/gu, '');
  const points = photo.points.map(
    ({ at, mm }) => `\n      - { at: [${at.join(', ')}], mm: [${mm.join(', ')}] }`,
  );
  const regions = photo.regions.map(({ of, xywh }) => `\n      - { of: ${of}, xywh: [${xywh.join(', ')}] }`);
  const made = `${block}\n    board: ${board}\n    side: ${side}\n    points:${points.join('')}${regions.length > 0 ? `\n    regions:${regions.join('')}` : ''}`;
  return text.slice(0, start) + made + text.slice(end);
}

const folder = join(SEED, 'photos');
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });
let [count, bytes] = [0, 0];
for (const document of readFiles([SEED]).documents) {
  if (document.kind !== 'dossier') continue;
  const { dossier, file } = document;
  let text = readFileSync(file, 'utf8');
  for (const { id } of dossier.photos) {
    const [, boardId, side] = /^photo-(.+)-(top|bottom)$/u.exec(id) ?? [];
    const board = dossier.boards.find((one) => one.id === boardId);
    if (!board) throw new Error(`${file}: photo ${id} shows no board of it`);
    const photo = await render(dossier, board, side as Side);
    const name = `${basename(file, '.yaml')}-${boardId}-${side}.webp`;
    writeFileSync(join(folder, name), photo.content);
    text = written(text, id, `photos/${name}`, photo, boardId, side as Side);
    count++;
    bytes += photo.content.length;
  }
  writeFileSync(file, text);
}
console.log(`${count} photos, ${Math.round(bytes / 1024)} KiB, in ${dirname(folder)}/photos`);
