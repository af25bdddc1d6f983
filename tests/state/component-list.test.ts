import { expect, test, vi } from 'vitest';
import { COLUMN, COLUMNS } from '../../src/state/lists/component-columns.ts';
import { listComponents } from '../../src/state/lists/component-list.ts';
import { Names } from '../../src/state/names.ts';
import { DEVICE, dossierChange, entriesOf, liveOf, SMALL_CATALOGUE } from './archive-of.ts';

const components = ['U10', 'R2', 'U9', 'C1', 'U1'].map((id) => ({ id }));
const specimens = ['a', 'b', 'c'];
const live = liveOf([
  ...SMALL_CATALOGUE,
  ...specimens.map((id, at) =>
    dossierChange({ device: at === 0 ? DEVICE : DEVICE.id, specimen: { id }, components }),
  ),
]);
const now = '2027-01-01T00:00:00.000Z';

test('components of specimens that stayed as they were are not sorted again', () => {
  const textOf = vi.spyOn(Names.prototype, 'textOf');
  const list = () => {
    textOf.mockClear();
    const state = live.state('desk', now);
    const found = listComponents(state, {}, 'DEVICE');
    const asked = textOf.mock.calls.length;
    const idOf = (columns: Uint32Array, row: number) =>
      state.shared.names.textOf(columns[row * COLUMNS + COLUMN.designator]);
    return { asked, ids: found.map(({ specimen, row }) => `${specimen.id} ${idOf(specimen.columns, row)}`) };
  };
  const first = list();
  const ids = (specimen: string, of: readonly string[]) => of.map((id) => `${DEVICE.id}/${specimen} ${id}`);
  // By letters, and by numbers as numbers.
  const sorted = ['C1', 'R2', 'U1', 'U9', 'U10'];
  expect(first.ids).toEqual(specimens.flatMap((id) => ids(id, sorted)));
  expect(first.asked).toBeGreaterThan(0);
  const again = list();
  expect(again).toEqual({ asked: 0, ids: first.ids });
  // One of the three is filed anew.
  const anew = dossierChange({
    device: DEVICE.id,
    specimen: { id: 'b' },
    components: components.toReversed(),
  });
  live.apply(entriesOf([anew], live.sequence + 1));
  const after = list();
  expect(after.ids).toEqual(first.ids);
  expect(after.asked).toBeGreaterThan(0);
  expect(after.asked).toBeLessThanOrEqual(first.asked / 2);
});

test('a list of some is in the same order, whether all were listed before or not', () => {
  const listed = () =>
    listComponents(live.state('desk', now), { counted: true, package: null }, 'DEVICE').map(
      ({ specimen, row }) => [specimen.id, row],
    );
  const before = listed();
  listComponents(live.state('desk', now), {}, 'DEVICE');
  expect(listed()).toEqual(before);
});
