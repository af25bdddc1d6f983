import { type DesignBoard, type DesignComponent, type Findings, quoted } from '../board-design.ts';
import { valueAndFitted } from '../table/cells.ts';
import { headingMeaning } from '../table/headings.ts';
import { attribute, childOf, childrenOf, type Element } from './xml.ts';

/** What the bill of materials of a file says of one component. */
type Listed = Pick<
  DesignComponent,
  'value' | 'partNumber' | 'maker' | 'description' | 'fitted' | 'footprint'
> & {
  readonly line: number;
};

/** Bill of materials and list of approved parts of an IPC-2581 file. */
export class BillOfMaterials {
  readonly #listed = new Map<string, Listed>();

  constructor(root: Element, findings: Findings) {
    const makers = makersOf(root);
    const approved = approvedParts(root, makers);
    for (const list of childrenOf(root, 'Bom')) {
      for (const item of childrenOf(list, 'BomItem')) this.#take(item, approved, findings);
    }
    if (approved.size > 0)
      findings.understood.push(`${approved.size} approved parts give part numbers and makers`);
  }

  get isEmpty(): boolean {
    return this.#listed.size === 0;
  }

  /** A board with what the list says of its components. @param isOnly whether the file has no other board */
  describing(board: DesignBoard, isOnly: boolean): DesignBoard {
    if (this.isEmpty) return board;
    const placed = new Set(board.components.map(({ designator }) => designator));
    const unplaced = isOnly
      ? this.alone().components.filter(({ designator }) => !placed.has(designator))
      : [];
    const components = board.components.map((one): DesignComponent => {
      const said = this.#listed.get(one.designator);
      if (!said) return { ...one, listed: false };
      return { ...said, ...one, ...saidOf(said), listed: true };
    });
    return { ...board, components: [...components, ...unplaced] };
  }

  /** The list as a board without places. */
  alone(): DesignBoard {
    return {
      components: [...this.#listed].map(([designator, said]) => ({
        designator,
        ...said,
        listed: true,
        pins: [],
      })),
      nets: [],
    };
  }

  #take(item: Element, approved: ReadonlyMap<string, Approved>, findings: Findings): void {
    const number = attribute(item, 'OEMDesignNumberRef') ?? attribute(item, 'OEMDesignNumber');
    const part = number === undefined ? undefined : approved.get(number);
    const description = attribute(item, 'description') ?? number;
    const said = characteristicsOf(item);
    const references = childrenOf(item, 'RefDes');
    const quantity = Number(attribute(item, 'quantity') ?? Number.NaN);
    if (Number.isFinite(quantity) && quantity !== references.length && references.length > 0) {
      findings.caution(
        item.line,
        `says ${quantity} and lists ${references.length} ${references.length === 1 ? 'designator' : 'designators'}`,
        'look which is right; the designators count here',
        'quantity',
      );
    }
    for (const reference of references) {
      const designator = attribute(reference, 'name');
      if (designator === undefined) continue;
      const populate = attribute(reference, 'populate')?.toLowerCase();
      const footprint = attribute(reference, 'packageRef');
      const before = this.#listed.get(designator);
      if (before) {
        findings.problem(
          reference.line,
          `${quoted(designator)} is also in line ${before.line}`,
          'keep one, or export one variant',
          'RefDes',
        );
        continue;
      }
      this.#listed.set(designator, {
        ...said,
        ...(part?.partNumber ? { partNumber: part.partNumber } : {}),
        ...(part?.maker ? { maker: part.maker } : {}),
        ...(description ? { description } : {}),
        ...(footprint ? { footprint } : {}),
        ...(populate === 'false' ? { fitted: false } : populate === 'true' ? { fitted: true } : {}),
        line: reference.line,
      });
    }
  }
}

/** What a list knows better than the layout. */
function saidOf({ value, partNumber, maker, description, fitted }: Listed): Partial<DesignComponent> {
  return {
    ...(value === undefined ? {} : { value }),
    ...(partNumber === undefined ? {} : { partNumber }),
    ...(maker === undefined ? {} : { maker }),
    ...(description === undefined ? {} : { description }),
    ...(fitted === undefined ? {} : { fitted }),
  };
}

interface Approved {
  readonly partNumber?: string;
  readonly maker?: string;
}

/** Names of companies by the id under which the list of approved parts speaks of them. */
function makersOf(root: Element): ReadonlyMap<string, string> {
  return new Map(
    childrenOf(childOf(root, 'LogisticHeader'), 'Enterprise').flatMap((one) => {
      const id = attribute(one, 'id');
      const name = attribute(one, 'name') ?? attribute(one, 'code');
      return id && name && !/^unknown$/iu.test(name) ? [[id, name] as const] : [];
    }),
  );
}

/** The first approved part of each item of the design, or the one marked as chosen. */
function approvedParts(root: Element, makers: ReadonlyMap<string, string>): ReadonlyMap<string, Approved> {
  const approved = new Map<string, Approved>();
  for (const list of childrenOf(root, 'Avl')) {
    for (const item of childrenOf(list, 'AvlItem')) {
      const number = attribute(item, 'OEMDesignNumber') ?? attribute(item, 'OEMDesignNumberRef');
      const choices = childrenOf(item, 'AvlVmpn');
      const choice = choices.find((one) => attribute(one, 'chosen')?.toLowerCase() === 'true') ?? choices[0];
      if (number === undefined || !choice) continue;
      const partNumber = attribute(childOf(choice, 'AvlMpn'), 'name');
      const maker = makers.get(attribute(childOf(choice, 'AvlVendor'), 'enterpriseRef') ?? '');
      if (partNumber || maker)
        approved.set(number, { ...(partNumber ? { partNumber } : {}), ...(maker ? { maker } : {}) });
    }
  }
  return approved;
}

/** Value and what else the characteristics of an item say, under the headings that lists have. */
function characteristicsOf(item: Element): Pick<Listed, 'value' | 'partNumber' | 'maker' | 'description'> {
  const said: Record<string, string> = {};
  for (const group of childrenOf(item, 'Characteristics')) {
    for (const one of group.children) {
      const kind = one.name.toLowerCase();
      const name = attribute(one, `${kind}CharacteristicName`);
      const value = attribute(one, `${kind}CharacteristicValue`);
      if (name === undefined || value === undefined) continue;
      const meaning = headingMeaning(name);
      const unit = attribute(one, 'engineeringUnitOfMeasure');
      const text = unit && kind === 'measured' ? `${value} ${unit}` : value;
      if (meaning.kind === 'field' && ['value', 'partNumber', 'maker', 'description'].includes(meaning.field))
        said[meaning.field] ??= text;
      else if (kind === 'measured' && /resistance|capacitance|inductance/iu.test(name)) said.value ??= text;
    }
  }
  const { value, ...rest } = said;
  return { ...rest, ...valueAndFitted(value ?? '') };
}
