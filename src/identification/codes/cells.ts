import type { CodeRule } from './reading.ts';

const SOURCE = 'common practice, no source';

/** Pouch cells, six digits: thickness in 0.1 mm, width and length in mm. `402030` is 4.0 × 20 × 30 mm. */
export const pouchCellSize: CodeRule = (line) => {
  const match = /^(?:LP|PL)?(\d\d)(\d\d)(\d\d)$/u.exec(line);
  if (!match) return [];
  const [thicknessMm, widthMm, lengthMm] = [Number(match[1]) / 10, Number(match[2]), Number(match[3])];
  if (thicknessMm === 0 || widthMm === 0 || lengthMm === 0) return [];
  // Tabs, seal and foil alone take some millimetres.
  const tiny = widthMm < 4 || lengthMm < 4 || thicknessMm >= widthMm;
  const description = `pouch cell, ${thicknessMm} mm thick, ${widthMm} mm by ${lengthMm} mm`;
  return [
    {
      rule: 'pouch-cell-size',
      source: SOURCE,
      description,
      meaning: { kind: 'cell', thicknessMm, widthMm, lengthMm },
      ...(tiny ? { doubt: 'no pouch cell has such a shape (common practice, no source)' } : {}),
    },
  ];
};

/** Round chargeable cells, four digits: diameter in mm, height in 0.1 mm. `1254` is 12 mm by 5.4 mm. */
export const roundCellSize: CodeRule = (line) => {
  const match = /^(\d\d)(\d\d)$/u.exec(line);
  if (!match) return [];
  const [diameterMm, heightMm] = [Number(match[1]), Number(match[2]) / 10];
  // A disc: flatter than wide, and of a size that is made.
  if (diameterMm < 5 || diameterMm > 30 || heightMm < 1 || heightMm >= diameterMm) return [];
  const description = `round cell, ${diameterMm} mm across, ${heightMm} mm high`;
  return [
    {
      rule: 'round-cell-size',
      source: SOURCE,
      description,
      meaning: { kind: 'round-cell', diameterMm, heightMm },
    },
  ];
};
