import { basename, dirname, extname, join } from 'node:path';
import { pngOf } from '../../charts/render.ts';
import type { Drawing } from '../../drawings/shapes.ts';
import { SIDES } from '../../model/board.ts';
import { CasebackError } from '../../model/problems.ts';
import { drawBoard, drawDiagram, drawSideBySide } from '../../questions/drawings.ts';
import { resolved } from '../../state/resolve.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT, UsageError } from '../frame/exit.ts';
import { writeText } from '../frame/files.ts';
import { choice, decimal, flag, list, text } from '../frame/options.ts';
import type { Terminal } from '../frame/terminal.ts';

const FILES = ['svg', 'png'] as const;
const PICTURES = ['embedded', 'linked'] as const;

export const command = defineCommand({
  name: 'draw',
  about:
    'Boards to scale, for print: outline and cut-outs, components at their places with designators, subsystems by hatch, scale bar, legend, credits. One board: both sides, turned over its long edge, with what --lit names picked out; nets as the shortest tree between the middles of their components, which is not their copper. Several ids, devices, specimens or a product line: side by side at one scale. What has no recorded place is listed beside the drawing. With --diagram: the block diagram of a device, specimen or board, components in their subsystems and boards with supplies and signals between them; dashed lines are concluded, via parts that are not drawn, and what is not drawn is counted.',
  arguments: [{ name: 'ID', help: 'a board; or devices, specimens, boards, a product line', many: true }],
  options: {
    diagram: flag('the block diagram of a device, a specimen or one board of it'),
    passives: flag('resistors, capacitors and the like as boxes of the block diagram, too'),
    side: choice('SIDE', SIDES, { help: 'one side alone: top or bottom' }),
    lit: list('ID,...', 'components, nets and subsystems to pick out of one board or block diagram'),
    plain: flag('one side of a board without labels, legend and credits, to be shown small'),
    width: decimal('MM', { help: 'width of the sheet in mm, 80 to 420 (default: 170)' }),
    photoStrength: decimal('PERCENT', {
      help: 'strength of a photo of each side beneath one board, 0 to 100 (default: none)',
    }),
    photos: list(
      'ID,...',
      'photos of which these are taken (default: of each side that with most known points)',
    ),
    pictures: choice('FORM', PICTURES, {
      help: 'photos in the drawing itself, or linked as files beside it',
      default: 'embedded',
    }),
    format: choice('FORMAT', FILES, {
      help: 'svg, or png at 300 dots an inch, 200 or 150 where the sheet is too large for that',
      default: 'svg',
    }),
    out: text('FILE', 'where to write it (default: standard output, svg only)'),
  },
  uses: 'view',
  examples: [
    'draw tarn-sennit-3/a/main --out board.svg',
    'draw tarn-sennit-3/a/main --side top --lit tarn-sennit-3/a/U1 --format png --out board.png',
    'draw tarn-sennit-3/a/main --photo-strength 60 --out board.svg',
    'draw tarn-sennit --out line.svg',
    'draw tarn-sennit-3/a --diagram --out blocks.svg',
  ],

  async run(call) {
    const ids = call.arguments;
    const { diagram, passives, side, lit, plain, width, photoStrength, photos, pictures, format, out } =
      call.options;
    if (format === 'png' && out === undefined)
      throw new UsageError('a PNG needs a file; name it, such as --out board.png');
    if (diagram && ids.length > 1)
      throw new UsageError('--diagram goes with a single device, specimen or board');
    if (diagram && side) throw new UsageError('--side goes with boards, not with --diagram');
    if (passives && !diagram) throw new UsageError('--passives goes with --diagram');
    const view = await call.view();
    const [first] = ids;
    const isBoard =
      !diagram &&
      ids.length === 1 &&
      resolved(view, first, ['Board', 'Device', 'Specimen', 'ProductLine']).kind === 'Board';
    if (lit && !isBoard && !diagram)
      throw new UsageError('--lit goes with a single board, or with --diagram');
    if (plain && !isBoard) throw new UsageError('--plain goes with a single board');
    if ((photoStrength !== undefined || photos) && !isBoard)
      throw new UsageError('--photo-strength and --photos go with a single board');
    const isLinked = pictures === 'linked';
    if (isLinked && (out === undefined || format !== 'svg'))
      throw new UsageError(
        '--pictures linked puts photos beside an SVG; name its file, such as --out board.svg',
      );
    if (isBoard) {
      const question = { side, lit, width, plain, photoStrength, photos };
      const { photos: files } = await call.archive();
      const linkOf = (photo: { readonly side: string }) => `${stemOf(out ?? '')}.${photo.side}.jpg`;
      const drawing = await drawBoard(view, first, question, {
        photos: files,
        ...(isLinked ? { linkOf } : {}),
      });
      for (const { href, content } of drawing.linked) writeText(join(dirname(out ?? ''), href), content);
      return written(drawing, call);
    }
    const drawing: Drawing = diagram
      ? await drawDiagram(view, first, { passives, lit, width })
      : await drawSideBySide(view, ids, { side, width });
    return written(drawing, call);
  },
});

const stemOf = (file: string) => basename(file, extname(file));

/** Writes a drawing where it was asked for. */
async function written(
  drawing: Drawing,
  {
    options: { format, out },
    terminal,
  }: {
    readonly options: { readonly format: string; readonly out?: string | undefined };
    readonly terminal: Terminal;
  },
): Promise<number> {
  if (out === undefined) {
    terminal.out(drawing.svg);
    return EXIT.fine;
  }
  if (format === 'svg') {
    writeText(out, drawing.svg);
    terminal.message(`${drawing.title}: written to ${out}\n`);
    return EXIT.fine;
  }
  const { png, dpi } = await densest(drawing.svg);
  writeText(out, png);
  terminal.message(
    `${drawing.title}: written to ${out}${dpi < DENSITIES[0] ? `, ${dpi} dots an inch` : ''}\n`,
  );
  return EXIT.fine;
}

/** Dots an inch, in the order of preference. */
const DENSITIES: readonly [number, ...number[]] = [300, 200, 150];

/** A drawing as PNG at the first density for which it has not too many pixels. */
async function densest(
  svg: string,
  [dpi, next, ...more]: readonly [number, ...number[]] = DENSITIES,
): Promise<{ readonly png: Uint8Array; readonly dpi: number }> {
  try {
    return { png: await pngOf(svg, dpi), dpi };
  } catch (error) {
    const isTooLarge = error instanceof CasebackError && error.code === 'OUT_OF_BUDGET';
    if (!isTooLarge || next === undefined) throw error;
    return densest(svg, [next, ...more]);
  }
}
