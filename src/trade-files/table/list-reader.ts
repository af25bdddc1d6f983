import {
  type DesignBoard,
  type DesignComponent,
  type Findings,
  type LengthUnit,
  quoted,
  type Side,
  type TradeReading,
  tidy,
  tidyAngle,
} from '../board-design.ts';
import { CellChecks } from './cell-checks.ts';
import {
  angleIn,
  inMillimetres,
  lengthIn,
  type NumberPlace,
  numberIn,
  valueAndFitted,
  valueWithUnit,
} from './cells.ts';
import type { Column, Columns } from './columns.ts';
import type { DecimalSigns } from './decimals.ts';
import { readDesignators } from './designators.ts';
import { type Field, type Place, saysNotFitted, sideNamed, yesOrNo } from './headings.ts';
import type { ListRows } from './rows.ts';
import type { Sheet, SheetRow } from './sheet.ts';

/** Furthest that coordinates without a unit may reach and still pass for mm: no wearable's board is longer, and in mil all are. */
const MAX_MM_REACH = 300;

/** Reads rows to components, by board. */
export class ListReader {
  readonly #sheet: Sheet;
  readonly #columns: ReadonlyMap<Field, Column>;
  readonly #findings: Findings;
  readonly #place: Place | undefined;
  readonly #unit: LengthUnit | undefined;
  readonly #decimals: DecimalSigns;
  readonly #rows: ListRows;
  readonly #checks: CellChecks;
  readonly #quantities: { readonly line: number; readonly said: number; readonly listed: number }[] = [];
  readonly #unitless: number[] = [];
  #nameless = 0;

  constructor(
    sheet: Sheet,
    columns: Columns,
    reading: TradeReading,
    findings: Findings,
    place: Place | undefined,
    { rows, decimals }: { readonly rows: ListRows; readonly decimals: DecimalSigns },
  ) {
    this.#sheet = sheet;
    this.#rows = rows;
    this.#decimals = decimals;
    this.#columns = columns.byField;
    this.#checks = new CellChecks(this.#columns, findings);
    this.#findings = findings;
    this.#place = place;
    this.#unit = sheet.unit ?? reading.unit;
  }

  boards(): readonly DesignBoard[] {
    const boards = new Map<string, Map<string, DesignComponent>>();
    for (const row of this.#rows.rows) {
      const name = this.#cell(row, 'board') ?? '';
      const components = boards.get(name) ?? new Map<string, DesignComponent>();
      boards.set(name, components);
      for (const component of this.#components(row)) this.#add(component, components);
    }
    this.#checks.tell();
    this.#tellQuantities();
    this.#tellUnit();
    this.#tellSides([...boards.values()].flatMap((components) => [...components.values()]));
    if (this.#nameless > 0) {
      this.#findings.understood.push(
        `${this.#nameless} ${this.#nameless === 1 ? 'row has' : 'rows have'} no designator (board, cables, screws) and ${this.#nameless === 1 ? 'is' : 'are'} left aside`,
      );
    }
    return [...boards].map(([name, components]) => ({
      ...(name === '' ? {} : { name }),
      components: [...components.values()],
      nets: [],
    }));
  }

  #add(component: DesignComponent, components: Map<string, DesignComponent>): void {
    const { designator, line } = component;
    const before = components.get(designator);
    if (before) {
      this.#findings.problem(
        line,
        `${designator} is also in ${this.#findings.placeOf(before.line, this.#columns.get('designator')?.heading)}`,
        'keep one, or give the rows of several boards a column "board"',
        this.#columns.get('designator')?.heading,
      );
    } else components.set(designator, component);
  }

  #components(row: SheetRow): readonly DesignComponent[] {
    const cell = this.#cell(row, 'designator');
    if (cell === undefined) {
      this.#nameless++;
      this.#rows.skipped.push({ line: row.line, why: 'no designator' });
      return [];
    }
    const heading = this.#columns.get('designator')?.heading;
    const { designators, others, problems, cautions } = readDesignators(cell);
    for (const { what, fix } of problems) this.#findings.problem(row.line, what, fix, heading);
    for (const { what, fix } of cautions) this.#findings.caution(row.line, what, fix, heading);
    if (others.length > 0) {
      this.#findings.caution(
        row.line,
        `${quoted(others.join(' '))} is not a designator and is left out`,
        'write letters and a number, such as C12, with commas between several',
        heading,
      );
    }
    const distinct = [...new Set(designators)];
    if (distinct.length < designators.length)
      this.#findings.caution(row.line, `${quoted(cell)} names a component twice`, 'it counts once', heading);
    if (distinct.length === 0) {
      if (problems.length === 0)
        this.#rows.skipped.push({ line: row.line, why: `${quoted(cell)} is not a designator` });
      return [];
    }
    if (this.#place && distinct.length > 1 && this.#placed(row)) {
      this.#findings.problem(
        row.line,
        `gives one place to ${distinct.length} components`,
        'give each a row of its own',
        heading,
      );
      return [];
    }
    const shared = this.#fields(row, distinct.length);
    const listed = this.#place ? {} : { listed: true };
    return distinct.map((designator) => ({ designator, ...shared, ...listed, pins: [], line: row.line }));
  }

  #placed(row: SheetRow): boolean {
    return this.#place !== undefined && this.#cell(row, this.#place[0]) !== undefined;
  }

  /** What a row says of each of its components. */
  #fields(row: SheetRow, listed: number): Omit<DesignComponent, 'designator' | 'pins' | 'line'> {
    const text = (field: Field) => this.#cell(row, field);
    const valued = valueAndFitted(text('value') ?? '');
    const value =
      valued.value === undefined
        ? undefined
        : valueWithUnit(
            valued.value,
            this.#columns.get('value')?.valueUnit,
            this.#where(row, 'value'),
            this.#findings,
          );
    const fitted = this.#fitted(row, listed, valued.fitted);
    const side = this.#side(row);
    const at = this.#at(row);
    const angle = text('rotation');
    const rotation =
      angle === undefined ? undefined : angleIn(angle, this.#where(row, 'rotation'), this.#findings);
    const [length, width, height] = [
      this.#length(row, 'length'),
      this.#length(row, 'width'),
      this.#length(row, 'height'),
    ];
    const pins = text('pins');
    const count = pins === undefined ? undefined : numberIn(pins, this.#where(row, 'pins'))?.value;
    return {
      ...(side ? { side } : {}),
      ...(at && this.#place ? { at, atIs: this.#place[2] } : {}),
      ...(rotation === undefined ? {} : { rotation: tidyAngle(rotation) }),
      ...(length !== undefined && width !== undefined && length > 0 && width > 0
        ? { body: { length, width, ...(height !== undefined && height > 0 ? { height } : {}) } }
        : {}),
      ...named('footprint', text('footprint')),
      ...named('value', value),
      ...named('partNumber', text('partNumber')),
      ...named('maker', text('maker')),
      ...named('description', text('description')),
      ...named('marking', text('marking')),
      ...named('note', text('note')),
      ...(count !== undefined && Number.isInteger(count) && count > 0 ? { pinCount: count } : {}),
      ...(fitted === undefined ? {} : { fitted }),
    };
  }

  /** Whether it is fitted, by the columns that say so, the quantity, and words in the value. */
  #fitted(row: SheetRow, listed: number, byValue: false | undefined): boolean | undefined {
    const said: boolean[] = byValue === undefined ? [] : [byValue];
    for (const [field, means] of [
      ['fitted', true],
      ['notFitted', false],
    ] as const) {
      const cell = this.#cell(row, field);
      if (cell === undefined) continue;
      const yes = yesOrNo(cell);
      if (field === 'notFitted' && saysNotFitted(cell)) {
        // In a column "DNP" the word DNP itself says yes.
        said.push(false);
      } else if (yes !== undefined) said.push(yes === means);
      else {
        this.#findings.caution(
          row.line,
          `${quoted(cell)} does not say whether it is fitted`,
          'write yes or no',
          this.#columns.get(field)?.heading,
        );
      }
    }
    if (saysNotFitted(this.#cell(row, 'note') ?? '')) said.push(false);
    const quantity = this.#cell(row, 'quantity');
    const read = quantity === undefined ? undefined : numberIn(quantity, this.#where(row, 'quantity'));
    if (quantity !== undefined && !read) {
      if (yesOrNo(quantity) === false) said.push(false);
      else
        this.#findings.caution(
          row.line,
          `${quoted(quantity)} is not a quantity`,
          'write a number',
          this.#columns.get('quantity')?.heading,
        );
    } else if (read?.value === 0) said.push(false);
    else if (read) this.#quantities.push({ line: row.line, said: read.value, listed });
    if (said.length === 0) return undefined;
    return said.every((one) => one);
  }

  #side(row: SheetRow): Side | undefined {
    const cell = this.#cell(row, 'side');
    if (cell === undefined) return undefined;
    const side = sideNamed(cell);
    if (!side) {
      this.#findings.problem(
        row.line,
        `${quoted(cell)} is not a side`,
        'write top or bottom, or add the word to schema/trade-file-headings.yaml',
        this.#columns.get('side')?.heading,
      );
    }
    return side;
  }

  #at(row: SheetRow): readonly [number, number] | undefined {
    if (!this.#place) return undefined;
    const [x, y] = [this.#length(row, this.#place[0]), this.#length(row, this.#place[1])];
    if (
      (x === undefined) !== (y === undefined) &&
      this.#cell(row, this.#place[0]) !== this.#cell(row, this.#place[1])
    )
      this.#findings.caution(row.line, 'has one coordinate and not the other', 'give both; neither is taken');
    return x === undefined || y === undefined ? undefined : [x, y];
  }

  /** Length of a cell in mm; in a column without a unit, as if it were mm, which {@link #tellUnit} judges. */
  #length(row: SheetRow, field: Field): number | undefined {
    const cell = this.#cell(row, field);
    if (cell === undefined) return undefined;
    const own = this.#columns.get(field)?.unit;
    const unit = { of: own ?? this.#unit, isStated: own !== undefined };
    const read = lengthIn(cell, this.#where(row, field), unit, this.#findings);
    if (!read) return undefined;
    if (read.unit === undefined) this.#unitless.push(read.value);
    return tidy(inMillimetres(read.value, read.unit ?? 'mm'));
  }

  #where(row: SheetRow, field: Field): NumberPlace {
    const column = this.#columns.get(field);
    return {
      line: row.line,
      column: column?.heading ?? field,
      decimal: this.#decimals.get(field),
      fact: column && row.facts?.get(column.at),
    };
  }

  /** What a cell says; nothing, and once a problem, where a spreadsheet could not say it. */
  #cell(row: SheetRow, field: Field): string | undefined {
    return this.#checks.cell(row, field);
  }

  /** Lists for ten devices multiply every quantity; one caution says so. Else each row that does not agree is told. */
  #tellQuantities(): void {
    const wrong = this.#quantities.filter(({ said, listed }) => said !== listed);
    const [first] = this.#quantities;
    if (wrong.length === 0 || !first) return;
    const factor = first.said / first.listed;
    const heading = this.#columns.get('quantity')?.heading;
    if (
      Number.isInteger(factor) &&
      this.#quantities.length > 1 &&
      this.#quantities.every(({ said, listed }) => said === factor * listed)
    ) {
      this.#findings.caution(
        this.#sheet.line,
        `every quantity is ${factor} times the designators listed`,
        'nothing, if the list is for that many devices',
        heading,
      );
      return;
    }
    for (const { line, said, listed } of wrong) {
      this.#findings.caution(
        line,
        `says ${said} and lists ${listed} ${listed === 1 ? 'designator' : 'designators'}`,
        'look which is right; the designators count here',
        heading,
      );
    }
  }

  #tellUnit(): void {
    if (this.#unitless.length === 0) {
      if (this.#place) {
        const unit = this.#columns.get(this.#place[0])?.unit ?? this.#unit;
        this.#findings.understood.push(
          `coordinates in ${unit ?? 'the unit of each cell'}, of the ${placeWords(this.#place)}`,
        );
      }
      return;
    }
    const [least, greatest] = this.#unitless.reduce(
      ([a, b], one) => [Math.min(a, one), Math.max(b, one)],
      [Infinity, -Infinity],
    );
    if (greatest - least > MAX_MM_REACH) {
      this.#findings.problem(
        this.#sheet.line,
        `does not say the unit of its lengths, which reach over ${Math.round(greatest - least)}: too far for mm`,
        'say which: --unit mil, --unit inch or --unit mm',
      );
      return;
    }
    this.#findings.caution(
      this.#sheet.line,
      'does not say the unit of its lengths; they are taken as mm',
      'say so if they are not: --unit mil or --unit inch',
    );
  }

  #tellSides(components: readonly DesignComponent[]): void {
    if (!this.#place) return;
    if (!this.#columns.has('side')) {
      this.#findings.caution(
        this.#sheet.line,
        'does not say the side of the board',
        'export it with the side, or add a column "Side" with top or bottom',
      );
      return;
    }
    const below = components.filter(({ side }) => side === 'bottom');
    if (below.length === 0) return;
    if (below.some(({ rotation }) => rotation !== undefined && rotation !== 0)) {
      this.#findings.caution(
        this.#sheet.line,
        'has rotated components below; tools differ in how they count there, and it is read as seen from above',
        'compare one of them with the board',
        this.#columns.get('rotation')?.heading,
      );
    }
    const above = components.filter(({ side }) => side === 'top');
    const xs = (of: readonly DesignComponent[]) => of.flatMap(({ at }) => (at ? [at[0]] : []));
    if (
      xs(below).length > 0 &&
      xs(above).length > 0 &&
      xs(below).every((x) => x < 0) &&
      xs(above).every((x) => x >= 0)
    ) {
      this.#findings.problem(
        this.#sheet.line,
        'has its bottom side mirrored: every x there is negative, none above is',
        'export both sides seen from above',
      );
    }
  }
}

function placeWords([, , what]: Place): string {
  return what === 'not said'
    ? 'body or the origin, which the headings do not say'
    : what === 'body centre'
      ? 'middle of bodies'
      : what;
}

function named<K extends string>(field: K, text: string | undefined): { readonly [P in K]?: string } {
  return (text === undefined || text === '' || text === '~' ? {} : { [field]: text }) as {
    readonly [P in K]?: string;
  };
}
