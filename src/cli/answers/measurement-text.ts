import type { Row } from '../../export/rows.ts';
import { toTable } from '../../export/table.ts';
import type { Agreement } from '../../measurement/agreement.ts';
import type { Measured } from '../../measurement/measuring.ts';
import type { FoundBody, PhotoMeasurement } from '../../questions/measurement.ts';
import { fixed, significant } from '../../text/rounding.ts';
import { counted } from './figures.ts';

/** Digits of a length that its uncertainty leaves, and of its interval. */
function mm({ value, low, high }: Measured): string {
  return withInterval(value, low, high, ' mm');
}

function withInterval(value: number, low: number, high: number, unit: string): string {
  const half = (high - low) / 2;
  const digits = half > 0 ? Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(half)))) : 3;
  return `${fixed(value, digits)}${unit} (${fixed(low, digits)} to ${fixed(high, digits)})`;
}

const degrees = ({ value, low, high }: Measured) => withInterval(value, low, high, '°');

const KINDS: Readonly<Record<PhotoMeasurement['calibration']['kind'], string>> = {
  scale: 'scale alone, as if from straight above',
  parallel: 'scale and tilt, as if from far away',
  perspective: 'scale, tilt and perspective',
};

/** What a measurement says, a thing a row, for tables and CSV. */
export function measurementRows({ places, lengths, bodies, components }: PhotoMeasurement): readonly Row[] {
  return [
    ...places.map((one, i) => row(`place ${i + 1}`, { x: one.x, y: one.y })),
    ...lengths.map(({ measured, agreement }, i) =>
      row(`length ${i + 1}`, { length: measured }, { length: agreement }),
    ),
    ...bodies.map((one, i) => row(`body ${i + 1}`, partsOf(one), {}, one.problem)),
    ...components.map((one) =>
      row(
        one.component.id,
        partsOf(one),
        { position: one.position, length: one.length, width: one.width },
        one.problem,
      ),
    ),
  ];
}

const partsOf = ({ body }: FoundBody) =>
  body ? { x: body.x, y: body.y, length: body.length, width: body.width, rotation: body.rotation } : {};

const COLUMNS = ['x', 'y', 'length', 'width', 'rotation'] as const;
const UNITS = { x: 'mm', y: 'mm', length: 'mm', width: 'mm', rotation: 'degrees' } as const;

function row(
  what: string,
  numbers: Readonly<Partial<Record<(typeof COLUMNS)[number], Measured | undefined>>>,
  agreements: Readonly<Record<string, Agreement | undefined>> = {},
  problem = '',
): Row {
  const cell = (value: number | undefined) => (value === undefined ? '' : String(significant(value, 6)));
  return Object.fromEntries([
    ['what', what],
    ...COLUMNS.flatMap((name) => {
      const number = numbers[name];
      return [
        [`${name}, ${UNITS[name]}`, cell(number?.value)],
        [`${name} low`, cell(number?.low)],
        [`${name} high`, cell(number?.high)],
      ];
    }),
    ...['position', 'length', 'width'].map((name) => [
      `${name} against the record`,
      agreements[name]?.sentence ?? '',
    ]),
    ['problem', problem],
  ]);
}

/** A measurement to be read. */
export function measurementText(found: PhotoMeasurement): string {
  const { photo, width, height, side, calibration, places, lengths, bodies, components } = found;
  const { viewpoint, mmPerPx, degreesOfFreedom, residualPx, residualMm, fits, bending } = calibration;
  const board = photo?.photo.board;
  const what = [
    board === undefined ? undefined : `board ${board}`,
    `${side} side`,
    `${width} × ${height} px`,
  ];
  const [fine, coarse] = mmPerPx.map((one) => significant(one, 3));
  const facts: readonly (readonly [string, string | undefined])[] = [
    ['known points', `${calibration.points.length}: ${KINDS[calibration.kind]}`],
    [
      'left over',
      residualPx === undefined || residualMm === undefined
        ? 'nothing that would check them'
        : `${fixed(residualPx, 2)} px, ${significant(residualMm, 2)} mm (root mean square, ${counted(degreesOfFreedom, 'degree')} of freedom); as much or more by chance in ${fixed(100 * (fits ?? 1), 1)} % of cases`,
    ],
    ['in the middle', `${fine === coarse ? fine : `${fine} to ${coarse}`} mm a pixel`],
    ['tilt of the view', viewpoint ? degrees(viewpoint.tilt) : 'not known'],
    ['camera away by', viewpoint?.distance ? mm(viewpoint.distance) : undefined],
    ['known lengths', found.scale?.sentence],
    [
      'lens',
      bending &&
        (bending.kind === 'not-seen'
          ? `no bend is seen (${fixed(bending.percent.low, 2)} to ${fixed(bending.percent.high, 2)} % in the corners)`
          : `${bending.kind}, ${withInterval(bending.percent.value, bending.percent.low, bending.percent.high, ' %')} in the corners`),
    ],
  ];
  return [
    `${photo?.id ?? 'picture'}: ${what.filter((one) => one !== undefined).join(', ')}\n`,
    toTable(facts.flatMap(([name, value]) => (value === undefined ? [] : [{ Photo: name, '': value }]))),
    degreesOfFreedom > 0 ? toTable(pointRows(found)) : '',
    tableOf(
      places.map(
        ({ x, y, isOutside }, i): Row => ({
          Place: String(i + 1),
          x: mm(x),
          y: mm(y),
          '': isOutside ? 'outside of the known points' : '',
        }),
      ),
    ),
    tableOf(
      lengths.map(
        ({ measured, known, agreement }, i): Row => ({
          Length: String(i + 1),
          measured: mm(measured),
          known: known === undefined ? '' : `${known} mm`,
          '': agreement?.sentence ?? '',
        }),
      ),
    ),
    tableOf(bodies.map((one, i) => bodyRow('Body', String(i + 1), one))),
    tableOf(components.map((one) => bodyRow('Component', one.component.id, one))),
    tableOf(
      components.flatMap((one): readonly Row[] => {
        const { position, length, width, part, component } = one;
        if (!position && !length && !part) return [];
        return [
          {
            'Against the record': component.id,
            position: told(position),
            length: told(length),
            width: told(width),
            'of its part': part ? part.id : '',
            'length ': told(part?.length),
            'width ': told(part?.width),
          },
        ];
      }),
    ),
  ]
    .filter((one) => one !== '')
    .join('\n');
}

/** `agrees: 0.04 mm, 0.8 u` */
function told(agreement: Agreement | undefined): string {
  if (!agreement) return '';
  const { verdict, difference, inUncertainties } = agreement;
  return `${verdict}: ${fixed(difference, 2)} mm, ${fixed(inUncertainties, 1)} u`;
}

const tableOf = (rows: readonly Row[]) => (rows.length === 0 ? '' : toTable(rows));

function pointRows({ calibration, points }: PhotoMeasurement): readonly Row[] {
  return calibration.points.map(
    ({ px, mm: off, standsOut }, i): Row => ({
      'Known point': String(i + 1),
      at: points[i].mm.join(', '),
      'off by': `${fixed(px[0], 1)}, ${fixed(px[1], 1)} px; ${fixed(off[0], 3)}, ${fixed(off[1], 3)} mm`,
      '':
        standsOut === undefined
          ? ''
          : `stands out: ${significant(standsOut, 2)} mm from where the others put it`,
    }),
  );
}

function bodyRow(heading: string, name: string, { body, problem }: FoundBody): Row {
  if (!body) return { [heading]: name, x: '', y: '', length: problem ?? '', width: '', rotation: '' };
  return {
    [heading]: name,
    x: mm(body.x),
    y: mm(body.y),
    length: mm(body.length),
    width: mm(body.width),
    rotation: body.rotation ? degrees(body.rotation) : 'not measured',
  };
}
