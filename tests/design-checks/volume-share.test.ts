import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { massShare } from '../../src/design-checks/mass-share.ts';
import { volumeShare } from '../../src/design-checks/volume-share.ts';
import { expectToAskForEachInput, inputs } from './quantities.ts';

// Balance of volume. Sizes of pouch cells by their code: common practice, no source (reference file).
const codes = JSON.parse(
  readFileSync(new URL('../reference/marking_codes.json', import.meta.url), 'utf8'),
) as {
  pouch_cell_size: {
    examples: { code: string; thickness_mm: number; width_mm: number; length_mm: number }[];
  };
};
const device = { deviceVolume: '9.6 cm3' };
const run = (given: Record<string, string>) => volumeShare.run(inputs({ ...device, ...given }));

describe('share in the volume', () => {
  test('of a cell of 4.0 × 20 × 30 mm in a device of 9.6 cm³', () => {
    const cell = codes.pouch_cell_size.examples.find(({ code }) => code === '402030');
    if (!cell) throw new Error('the example has gone');
    const volume = cell.thickness_mm * cell.width_mm * cell.length_mm;
    const { values, verdict } = run({ volume: `${volume} mm3`, energy: '0.888 Wh' });
    expect(values.volumeShare.value).toBeCloseTo(25, 9);
    // 240 mAh at 3.7 V in 2.4 cm³: 370 Wh/l, inside the 200 to 700 Wh/l of such cells (common practice, no source).
    expect(values.energyPerVolume).toMatchObject({ unit: 'W.h/L', value: expect.closeTo(370, 9) });
    expect(verdict).toBe('supports');
  });

  test('is the same as mass share says of volume', () => {
    const { values } = massShare.run(
      inputs({ mass: '5 g', deviceMass: '20 g', volume: '2.4 cm3', deviceVolume: '9.6 cm3' }),
    );
    expect(values.volumeShare.value).toBeCloseTo(run({ volume: '2.4 cm3' }).values.volumeShare.value, 12);
  });

  test('judges small parts and parts larger than the device', () => {
    expect(run({ volume: '0.4 cm3' }).verdict).toBe('speaks-against');
    expect(run({ volume: '1 cm3' }).verdict).toBe('neutral');
    expect(() => run({ volume: '11 cm3' })).toThrow(
      'a part is no larger than the whole: one of the two is wrong',
    );
  });

  test('asks for what is missing', () =>
    expectToAskForEachInput(volumeShare, inputs({ ...device, volume: '1 cm3' })));
});
