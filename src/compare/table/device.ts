import { type Quantity, valueIn } from '../../model/quantity.ts';
import { CERTAIN, POSSIBLE } from '../../state/labels.ts';
import { type Cell, count, figure, NOT_OBSERVED_CELL, type RowCell, withNote } from './cell.ts';
import type { Column } from './column.ts';

/** The device as a whole: mass, size, price, and how many components were listed and named. */
export function deviceRows({ device, specimen }: Column): readonly RowCell[] {
  const { mass, dimensions, price } = device;
  const side = (quantity: Quantity | undefined) => measured(quantity, 'mm');
  const sides = [dimensions?.length, dimensions?.width, dimensions?.height];
  const box = sides.every((one) => one !== undefined)
    ? figure(sides.reduce((product, one) => product * valueIn(one, 'cm'), 1))
    : NOT_OBSERVED_CELL;
  const named = specimen.counted.map(({ id }) => {
    const candidates = specimen.identified.get(id)?.candidates ?? [];
    return candidates.reduce(
      (most, { part, probability }) => (part === undefined ? most : Math.max(most, probability)),
      0,
    );
  });
  const size = specimen.counted.length;
  const row = (key: string, label: string, unit: string, is: string, cell: Cell): RowCell => ({
    key: `device.${key}`,
    label,
    unit,
    is,
    cell,
  });
  return [
    row('mass', 'Mass', 'g', 'Mass with its cell, without strap or case.', measured(mass, 'g')),
    row('length', 'Length', 'mm', 'Longest side.', side(dimensions?.length)),
    row('width', 'Width', 'mm', 'Second side.', side(dimensions?.width)),
    row('height', 'Height', 'mm', 'Thickness.', side(dimensions?.height)),
    row('volume', 'Volume of the box', 'cm3', 'Length by width by height: the box around it.', box),
    ...(price
      ? [
          row(
            `price.${price.currency}`,
            `Price, ${price.currency}`,
            price.currency,
            'Price at release.',
            figure(price.amount),
          ),
        ]
      : []),
    row(
      'components',
      'Components',
      '1',
      'Components that the dossier lists.',
      size === 0 ? withNote(NOT_OBSERVED_CELL, 'the dossier lists no components') : count(size, size, size),
    ),
    row(
      'named',
      'Components named',
      '1',
      'Components whose catalogue part is named; expected: by the probability of the likeliest part.',
      size === 0
        ? NOT_OBSERVED_CELL
        : count(
            named.filter((p) => p >= CERTAIN).length,
            named.reduce((sum, p) => sum + p, 0),
            named.filter((p) => p >= POSSIBLE).length,
          ),
    ),
  ];
}

function measured(quantity: Quantity | undefined, unit: string): Cell {
  return quantity === undefined ? NOT_OBSERVED_CELL : figure(valueIn(quantity, unit));
}
