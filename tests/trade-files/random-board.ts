import fc from 'fast-check';

// Random boards, and writers of them in every format. The writers know nothing of the readers: they put coordinates through
// matrices of their own, so that a reader that turns something the wrong way round is found out.

export interface BoardPin {
  readonly number: string;
  readonly name: string;
  /** In the part's own axes, seen from its own side, y up; mm. */
  readonly at: readonly [number, number];
  readonly net: string | undefined;
}

export interface BoardComponent {
  readonly designator: string;
  readonly side: 'top' | 'bottom';
  /** Origin of the footprint on the board, y up; mm. */
  readonly origin: readonly [number, number];
  /** Counter-clockwise, seen from above. */
  readonly rotation: number;
  /** Middle of the body in the part's own axes. */
  readonly offset: readonly [number, number];
  readonly body: readonly [number, number];
  readonly footprint: string;
  readonly value: string;
  readonly partNumber: string;
  readonly maker: string;
  readonly fitted: boolean;
  readonly pins: readonly BoardPin[];
}

export interface RandomBoard {
  readonly length: number;
  readonly width: number;
  /** Radius of its corners; 0 for sharp ones. */
  readonly corner: number;
  readonly hole: { readonly centre: readonly [number, number]; readonly diameter: number } | undefined;
  readonly components: readonly BoardComponent[];
}

const hundredths = (min: number, max: number) =>
  fc.integer({ min: min * 100, max: max * 100 }).map((n) => n / 100);
const LETTERS = ['R', 'C', 'U', 'L', 'J', 'LED', 'SW', 'Q'];
const NETS = [
  'GND',
  '+3V3',
  'VBAT',
  'SDA',
  'SCL',
  '/sense/INT1',
  'SWDIO',
  'Net-(U1-EN)',
  '/a/rather/long/name/of/a/net/A',
  '/a/rather/long/name/of/a/net/B',
];

const pins = fc.array(
  fc.record({
    at: fc.tuple(hundredths(-3, 3), hundredths(-3, 3)),
    net: fc.option(fc.constantFrom(...NETS), { nil: undefined }),
  }),
  { minLength: 1, maxLength: 5 },
);

const component = fc.record({
  letters: fc.constantFrom(...LETTERS),
  side: fc.constantFrom('top' as const, 'bottom' as const),
  origin: fc.tuple(hundredths(2, 18), hundredths(2, 8)),
  rotation: fc.oneof(
    fc.constantFrom(0, 90, 180, 270),
    fc.integer({ min: 0, max: 3599 }).map((n) => n / 10),
  ),
  offset: fc.tuple(hundredths(-1, 1), hundredths(-1, 1)),
  body: fc.tuple(hundredths(0.6, 5), hundredths(0.6, 5)),
  footprint: fc.constantFrom('R_0402', 'C_0603', 'LGA-14', 'QFN-32'),
  value: fc.constantFrom('4k7', '100n', '2.2uH', 'QX17'),
  partNumber: fc.constantFrom('QX17-A', 'ZR-0402-4K7', 'V.55'),
  maker: fc.constantFrom('Quistle', 'Ostrel "Parts", Ltd; Co'),
  fitted: fc.boolean(),
  pins,
});

/** A board of up to eight components; every value is invented. */
export const randomBoard: fc.Arbitrary<RandomBoard> = fc
  .record({
    length: hundredths(20, 45),
    width: hundredths(10, 30),
    corner: fc.constantFrom(0, 0.5, 2),
    hasHole: fc.boolean(),
    components: fc.array(component, { minLength: 1, maxLength: 8 }),
  })
  .map(({ length, width, corner, hasHole, components }) => ({
    length,
    width,
    corner,
    hole: hasHole ? { centre: [length / 2, width / 2] as const, diameter: 2.5 } : undefined,
    components: components.map(({ letters, ...one }, i) => ({
      ...one,
      designator: `${letters}${i + 1}`,
      pins: one.pins.map((pin, n) => ({ ...pin, number: String(n + 1), name: `P${n}` })),
    })),
  }));

/** Where a point of a part lies on the board, y up. */
export function onBoard(
  { side, origin, rotation }: BoardComponent,
  [x, y]: readonly [number, number],
): readonly [number, number] {
  const own = side === 'top' ? y : -y;
  const angle = (rotation * Math.PI) / 180;
  return [
    origin[0] + x * Math.cos(angle) - own * Math.sin(angle),
    origin[1] + x * Math.sin(angle) + own * Math.cos(angle),
  ];
}

/** Area by hand: the rectangle without its corners' remains and without the hole, mm². */
export function areaByHand({ length, width, corner, hole }: RandomBoard): number {
  return length * width - (4 - Math.PI) * corner ** 2 - (hole ? (Math.PI / 4) * hole.diameter ** 2 : 0);
}

/** Straight and round pieces of the outline with y up: start, end, and for a corner its centre. */
function pieces({ length, width, corner: r }: RandomBoard): readonly {
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  readonly centre?: readonly [number, number];
}[] {
  const straight = [
    { from: [r, 0], to: [length - r, 0] },
    { from: [length, r], to: [length, width - r] },
    { from: [length - r, width], to: [r, width] },
    { from: [0, width - r], to: [0, r] },
  ] as const;
  if (r === 0) return straight;
  const round = [
    { from: [length - r, 0], to: [length, r], centre: [length - r, r] },
    { from: [length, width - r], to: [length - r, width], centre: [length - r, width - r] },
    { from: [r, width], to: [0, width - r], centre: [r, width - r] },
    { from: [0, r], to: [r, 0], centre: [r, r] },
  ] as const;
  return straight.flatMap((one, i) => [one, round[i]]);
}

const n = (value: number) => String(Number(value.toFixed(6)));

/** A KiCad board file. @param version 5 writes modules, arcs by centre and angle; 6 and 7 footprints; 8 properties for texts */
export function asKicad(
  board: RandomBoard,
  version: 5 | 7 | 8,
  at: readonly [number, number] = [100, 60],
): string {
  const nets = [...new Set(board.components.flatMap(({ pins: all }) => all.flatMap(({ net }) => net ?? [])))];
  // Down there is up here.
  const page = ([x, y]: readonly [number, number]) => `${n(at[0] + x)} ${n(at[1] - y)}`;
  const edge = pieces(board).map(({ from, to, centre }, i) => {
    const turned = i % 2 === 0;
    const [start, end] = turned ? [to, from] : [from, to];
    if (!centre) return `(gr_line (start ${page(start)}) (end ${page(end)}) (layer "Edge.Cuts") (width 0.1))`;
    // Corners run counter-clockwise with y up, and so on the screen; version 5 counts clockwise.
    if (version === 5)
      return `(gr_arc (start ${page(centre)}) (end ${page(from)}) (angle -90) (layer Edge.Cuts) (width 0.1))`;
    const middle = [0, 1].map((k) => centre[k] + (from[k] + to[k] - 2 * centre[k]) * Math.SQRT1_2) as [
      number,
      number,
    ];
    return `(gr_arc (start ${page(start)}) (mid ${page(middle)}) (end ${page(end)}) (layer "Edge.Cuts"))`;
  });
  const hole = board.hole
    ? `(gr_circle (center ${page(board.hole.centre)}) (end ${page([board.hole.centre[0] + board.hole.diameter / 2, board.hole.centre[1]])}) (layer "Edge.Cuts"))`
    : '';
  const footprint = (one: BoardComponent) => {
    const layer = one.side === 'top' ? 'F' : 'B';
    // Local coordinates are as the footprint lies, turned over where it lies below; y down.
    const local = ([x, y]: readonly [number, number]) => `${n(x)} ${n(one.side === 'top' ? -y : y)}`;
    const [hx, hy] = [one.body[0] / 2, one.body[1] / 2];
    const box = [
      [-hx, -hy],
      [hx, -hy],
      [hx, hy],
      [-hx, hy],
    ].map(([x, y]) => [x + one.offset[0], y + one.offset[1]] as const);
    const fab = box.map(
      (corner, i) =>
        `(fp_line (start ${local(corner)}) (end ${local(box[(i + 1) % 4])}) (layer "${layer}.Fab"))`,
    );
    const texts =
      version === 8
        ? `(property "Reference" ${q(one.designator)} (at 0 0 0) (layer "${layer}.SilkS")) (property "Value" ${q(one.value)} (at 0 0 0))`
        : `(fp_text reference ${q(one.designator)} (at 0 0) (layer "${layer}.SilkS")) (fp_text value ${q(one.value)} (at 0 0) (layer "${layer}.Fab"))`;
    const pads = one.pins.map(
      ({ number, name, at: place, net }) =>
        `(pad ${q(number)} smd rect (at ${local(place)} ${n(one.rotation)}) (size 0.3 0.3) (layers "${layer}.Cu")${net === undefined ? '' : ` (net ${nets.indexOf(net) + 1} ${q(net)})`} (pinfunction ${q(name)}) (pintype "passive"))`,
    );
    return `(${version === 5 ? 'module' : 'footprint'} ${q(`lib:${one.footprint}`)} (layer "${layer}.Cu")
      (at ${page(one.origin)}${one.rotation === 0 ? '' : ` ${n(one.rotation)}`})
      ${one.fitted ? '(attr smd)' : version === 5 ? '(attr smd) (property "DNP" "yes")' : '(attr smd dnp)'} ${texts}
      (property "MPN" ${q(one.partNumber)}) (property "Manufacturer" ${q(one.maker)})
      ${fab.join(' ')} ${pads.join('\n      ')})`;
  };
  return `(kicad_pcb (version ${{ 5: 20171130, 7: 20221018, 8: 20240108 }[version]}) (host pcbnew "x")
  (layers (0 "F.Cu" signal) (31 "B.Cu" signal))
  (net 0 "") ${nets.map((net, i) => `(net ${i + 1} ${q(net)})`).join(' ')}
  ${board.components.map(footprint).join('\n  ')}
  ${edge.join('\n  ')}
  ${hole}
  (segment (start 1 1) (end 2 2) (width 0.2) (layer "F.Cu") (net 1))
)
`;
}

function q(text: string): string {
  return `"${text.replace(/[\\"]/gu, '\\$&')}"`;
}

const IPC_UNITS = { MILLIMETER: 1, MICRON: 0.001, INCH: 25.4 } as const;

/** An IPC-2581 file in full mode. */
export function asIpc2581(
  board: RandomBoard,
  units: keyof typeof IPC_UNITS,
  revision: 'A' | 'B' | 'C',
): string {
  const u = (mm: number) => String(Number((mm / IPC_UNITS[units]).toFixed(9)));
  const xy = ([x, y]: readonly [number, number]) => `x="${u(x)}" y="${u(y)}"`;
  const run = pieces(board);
  const steps = run.map(({ to, centre }) =>
    centre
      ? `<PolyStepCurve ${xy(to)} centerX="${u(centre[0])}" centerY="${u(centre[1])}" clockwise="false"/>`
      : `<PolyStepSegment ${xy(to)}/>`,
  );
  const { hole } = board;
  const left: readonly [number, number] = hole
    ? [hole.centre[0] - hole.diameter / 2, hole.centre[1]]
    : [0, 0];
  const right: readonly [number, number] = hole
    ? [hole.centre[0] + hole.diameter / 2, hole.centre[1]]
    : [0, 0];
  const cutout = hole
    ? `<Cutout><PolyBegin ${xy(left)}/>${[right, left].map((to) => `<PolyStepCurve ${xy(to)} centerX="${u(hole.centre[0])}" centerY="${u(hole.centre[1])}" clockwise="true"/>`).join('')}</Cutout>`
    : '';
  const packages = board.components.map((one) => {
    const [hx, hy] = [one.body[0] / 2, one.body[1] / 2];
    const box = [
      [-hx, -hy],
      [hx, -hy],
      [hx, hy],
      [-hx, hy],
      [-hx, -hy],
    ].map(([x, y]) => [x + one.offset[0], y + one.offset[1]] as const);
    return `<Package name="${one.footprint}_${one.designator}" type="OTHER" pinOne="1" pinOneOrientation="OTHER"><Outline><Polygon><PolyBegin ${xy(box[0])}/>${box
      .slice(1)
      .map((to) => `<PolyStepSegment ${xy(to)}/>`)
      .join('')}</Polygon><LineDescRef id="l"/></Outline>
      ${one.pins.map(({ number, name, at }) => `<Pin number="${number}" name="${name}" type="SURFACE" electricalType="ELECTRICAL"><Location ${xy(at)}/><StandardPrimitiveRef id="p"/></Pin>`).join('')}</Package>`;
  });
  const components = board.components.map((one) => {
    const below = one.side === 'bottom';
    // A component below is turned as seen from there, then turned over with its x.
    const angle = below ? (540 - one.rotation) % 360 : one.rotation;
    return `<Component refDes="${one.designator}" packageRef="${one.footprint}_${one.designator}" part="D-${one.designator}" layerRef="${below ? 'BOTTOM' : 'TOP'}" mountType="SMT"><Xform rotation="${n(angle)}"${below ? ' mirror="true"' : ''}/><Location ${xy(one.origin)}/></Component>`;
  });
  const nets = new Map<string, string[]>();
  for (const one of board.components)
    for (const pin of one.pins)
      if (pin.net !== undefined)
        nets.set(pin.net, [
          ...(nets.get(pin.net) ?? []),
          `<PinRef componentRef="${one.designator}" pin="${pin.number}"/>`,
        ]);
  const items = board.components.map(
    (one) =>
      `<BomItem OEMDesignNumberRef="D-${one.designator}" quantity="1" category="ELECTRICAL"><RefDes name="${one.designator}" packageRef="${one.footprint}_${one.designator}" populate="${one.fitted}" layerRef="TOP"/><Characteristics category="ELECTRICAL"><Textual textualCharacteristicName="Value" textualCharacteristicValue="${x(one.value)}"/></Characteristics></BomItem>`,
  );
  const approved = board.components.map(
    (one) =>
      `<AvlItem OEMDesignNumber="D-${one.designator}"><AvlVmpn qualified="true" chosen="true"><AvlMpn name="${x(one.partNumber)}" rank="0"/><AvlVendor enterpriseRef="${x(one.maker)}"/></AvlVmpn></AvlItem>`,
  );
  const makers = [...new Set(board.components.map(({ maker }) => maker))];
  return `<?xml version="1.0" encoding="UTF-8"?>
<IPC-2581 revision="${revision}" xmlns="http://webstds.ipc.org/2581">
<Content roleRef="Owner"><FunctionMode mode="USERDEF"/><StepRef name="board"/></Content>
<LogisticHeader>${makers.map((maker) => `<Enterprise id="${x(maker)}" code="c" name="${x(maker)}"/>`).join('')}</LogisticHeader>
<Bom name="list"><BomHeader assembly="board" revision="1"/>${items.join('\n')}</Bom>
<Avl name="list">${approved.join('\n')}</Avl>
<Ecad name="design"><CadHeader units="${units}"/><CadData>
<Layer name="TOP" layerFunction="CONDUCTOR" side="TOP" polarity="POSITIVE"/><Layer name="BOTTOM" layerFunction="CONDUCTOR" side="BOTTOM" polarity="POSITIVE"/>
<Step name="board"${revision === 'C' ? ' type="BOARD"' : ''}><Datum x="0" y="0"/>
<Profile><Polygon><PolyBegin ${xy(run[0].from)}/>${steps.join('')}</Polygon>${cutout}</Profile>
${packages.join('\n')}
${components.join('\n')}
${[...nets].map(([name, refs]) => `<LogicalNet name="${x(name)}">${refs.join('')}</LogicalNet>`).join('\n')}
<LayerFeature layerRef="TOP"><Set net="GND"><Features><Polygon><PolyBegin x="0" y="0"/></Polygon></Features></Set></LayerFeature>
</Step></CadData></Ecad></IPC-2581>
`;
}

function x(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');
}

/** A bill of materials, one row a component. */
export function asBillOfMaterials(board: RandomBoard, separator: ',' | ';' | '\t'): string {
  const rows = board.components.map((one) => [
    one.designator,
    '1',
    one.value,
    one.footprint,
    one.partNumber,
    one.maker,
    one.fitted ? '' : 'DNP',
  ]);
  return csv(
    [['Ref Des', 'Qty', 'Value', 'Footprint', 'Manufacturer P/N', 'Mfr.', 'DNP'], ...rows],
    separator,
  );
}

const PLACEMENT_UNITS = { mm: 1, mil: 0.0254, inch: 25.4 } as const;

/** A placement list by the middles of bodies, fitted or not. */
export function asPlacement(
  board: RandomBoard,
  unit: keyof typeof PLACEMENT_UNITS,
  form: 'csv' | 'blanks' | 'suffix',
): string {
  const rows = board.components.map((one) => {
    const [cx, cy] = onBoard(one, one.offset).map((mm) => (mm / PLACEMENT_UNITS[unit]).toFixed(7));
    const [px, py] = form === 'suffix' ? [`${cx}${unit}`, `${cy}${unit}`] : [cx, cy];
    return [
      one.designator,
      one.footprint,
      px,
      py,
      n(one.rotation),
      one.side === 'top' ? 'TopLayer' : 'BottomLayer',
    ];
  });
  if (form === 'blanks') {
    const head = ['Designator', 'Package', 'Mid X', 'Mid Y', 'Rotation', 'Layer'];
    return `Units used: ${unit}\n\n${[head, ...rows].map((row) => row.map((cell) => cell.padEnd(20)).join('')).join('\n')}\n`;
  }
  const named = form === 'csv' ? [`Center-X(${unit})`, `Center-Y(${unit})`] : ['Mid X', 'Mid Y'];
  return csv([['Designator', 'Footprint', ...named, 'Rotation', 'Layer'], ...rows], ',');
}

function csv(rows: readonly (readonly string[])[], separator: string): string {
  return rows
    .map((row) =>
      row.map((cell) => (/[",;\t]/u.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell)).join(separator),
    )
    .join('\r\n');
}

/** An IPC-D-356A netlist, long names by a table. */
export function asNetlist356(board: RandomBoard, units: 'CUST 0' | 'CUST 1'): string {
  const step = units === 'CUST 1' ? 0.001 : 0.00254;
  const long = [
    ...new Set(board.components.flatMap(({ pins: all }) => all.flatMap(({ net }) => net ?? []))),
  ].filter(({ length }) => length > 14);
  const coordinate = (mm: number) => {
    const steps = Math.round(mm / step);
    return `${steps < 0 ? '-' : '+'}${String(Math.abs(steps)).padStart(6, '0')}`;
  };
  const records = board.components.flatMap((one) =>
    one.pins.map(({ number, at, net }) => {
      const [px, py] = onBoard(one, at);
      const name = net === undefined ? 'N/C' : long.includes(net) ? `NNAME${long.indexOf(net) + 1}` : net;
      const access = one.side === 'top' ? '01' : '02';
      return `327${name.padEnd(14)}   ${one.designator.padEnd(6)}-${number.padEnd(4)}       A${access}X${coordinate(px)}Y${coordinate(py)}X0012Y0012R000S1`;
    }),
  );
  return [
    'C  invented',
    'P  JOB   board',
    'P  VER   IPC-D-356A',
    `P  UNITS ${units}`,
    ...long.map((name, i) => `P  NNAME${String(i + 1).padEnd(5)}${name}`),
    ...records,
    '999',
    '',
  ].join('\n');
}
