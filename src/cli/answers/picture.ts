import type { Chart, ChartSource } from '../../charts/chart.ts';
import type { ChartSize } from '../../charts/house-style.ts';
import { chartSourceOf, drawnChart, pictureOf } from '../../questions/charts.ts';
import type { State } from '../../state/state.ts';
import type { Call } from '../frame/call.ts';
import { EXIT, UsageError } from '../frame/exit.ts';
import { writeText } from '../frame/files.ts';
import { choice, text, whole } from '../frame/options.ts';

/** Formats of a command whose answer has a chart. */
export const PICTURE_FORMATS = ['svg', 'png', 'vega-lite'] as const;

/** Options that go with these formats. */
export const PICTURE_OPTIONS = {
  size: choice('SIZE', ['page', 'column'] as const satisfies readonly ChartSize[], {
    help: 'of a chart: page, 169 mm wide, or column, 85 mm',
    default: 'page',
  }),
  dpi: whole('N', { help: 'of a PNG: dots an inch', default: 300, min: 48, max: 600 }),
  out: text('FILE', 'file that the chart is written to (default: standard output)'),
};

type PictureCall = Call<typeof PICTURE_OPTIONS>;

/**
 * Whether the call asks for a chart.
 * @throws UsageError for options of charts without one, and for a PNG without a file
 */
export function isPicture({ format, given, options }: PictureCall): boolean {
  const isOne = PICTURE_FORMATS.some((one) => one === format);
  const stray = isOne ? [] : ['size', 'out'].filter((name) => given.has(name));
  if (stray.length > 0) throw new UsageError(`--${stray[0]} goes with --format svg, png or vega-lite`);
  if (given.has('dpi') && format !== 'png') throw new UsageError('--dpi goes with --format png');
  if (format === 'png' && options.out === undefined)
    throw new UsageError('--format png needs --out FILE; a picture is not written to standard output');
  return isOne;
}

/**
 * Writes the chart of a state in the format asked for, with its cautions as messages. Answers the exit code.
 * @throws CasebackError BAD_FILE when the file cannot be written; OUT_OF_BUDGET for too many dots
 */
export async function writePicture(
  { format, options: { size, dpi, out }, asOf, terminal }: PictureCall,
  state: State,
  chartOf: (source: ChartSource, size: ChartSize) => Promise<Chart>,
): Promise<number> {
  const day = (asOf ?? new Date().toISOString()).slice(0, 10);
  const { document, cautions } = await chartOf(chartSourceOf(state, day), size);
  const content =
    format === 'vega-lite' ? `${JSON.stringify(document, null, 2)}\n` : await drawnChart(document);
  if (format === 'png') writeText(out as string, await pictureOf(content, dpi));
  else if (out === undefined) terminal.out(content);
  else writeText(out, content);
  for (const caution of cautions) terminal.message(`caution: ${caution}\n`);
  return EXIT.fine;
}
