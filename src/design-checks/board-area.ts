import type { CheckedValue } from './box.ts';
import { type CheckVerdict, defineCheck } from './check.ts';
import { formatValue } from './format-value.ts';

export const boardArea = defineCheck({
  name: 'board-area',
  title: 'Components per area, use of the board, and whether one board fits the shell',
  required: {
    components: {
      unit: '1',
      min: 1,
      whole: true,
      meaning: 'Number of components on the boards.',
      typical: { low: 20, high: 300, note: 'common practice, no source' },
    },
    boardArea: {
      unit: 'cm2',
      above: 0,
      meaning: 'Area of the boards, each side that carries parts counted.',
      typical: { low: 2, high: 25, note: 'common practice, no source' },
    },
    boards: {
      unit: '1',
      min: 1,
      whole: true,
      meaning: 'Number of boards the circuit is spread over.',
      typical: { low: 1, high: 4, note: 'common practice, no source' },
    },
    sides: {
      unit: '1',
      min: 1,
      max: 2,
      whole: true,
      meaning: 'Sides that a single board could carry parts on.',
      typical: { low: 1, high: 2, note: 'common practice, no source' },
    },
    shellArea: {
      unit: 'cm2',
      above: 0,
      meaning: 'Flat area inside the shell that one board could have.',
      typical: { low: 3, high: 15, note: 'common practice, no source' },
    },
  },
  optional: {
    componentArea: { unit: 'cm2', above: 0, meaning: 'Area that the components cover together.' },
  },
  outputs: {
    density: { unit: '1/cm2', meaning: 'Components per area of board side.' },
    boardOverShell: {
      unit: '1',
      meaning: 'Board sides in use over the sides one board in the shell would have.',
    },
  },
  furtherOutputs: {
    use: {
      unit: '%',
      meaning: 'Share of the board sides that components cover.',
      plausible: {
        high: 100,
        note: 'components lie over one another, as under a shield, or an area is wrong',
      },
    },
  },
  formula: 'density = N/A; use = component area/A; board over shell = A/(sides × shell area)',
  source: 'Area balance; component density as used in the electronics trade (common practice, no source)',
  limits:
    'Areas as seen; height, keep-out zones and room for the battery are left out. The verdict is on the number of boards ' +
    'seen and a rule of this check. Several boards: supports when a single one would not hold the circuit, speaks against ' +
    'when the circuit would fill at most half of it. One board: supports when it holds the circuit.',
  compute({ components, boardArea: area, shellArea, sides, componentArea }) {
    return {
      density: components / area,
      boardOverShell: area / (sides * shellArea),
      use: componentArea === undefined ? undefined : (100 * componentArea) / area,
    };
  },
  judge({ density, boardOverShell, use }, { boards }) {
    const covered = use ? `, ${formatValue(use)} of it covered` : '';
    return {
      verdict: boards.value === 1 ? onOneBoard(boardOverShell) : onSeveralBoards(boardOverShell),
      sentence:
        `The boards carry ${formatValue(density)}${covered}; they need ${formatValue(boardOverShell)} times ` +
        'the area that a single board in the shell would offer.',
    };
  },
});

function onOneBoard(boardOverShell: CheckedValue): CheckVerdict {
  if (boardOverShell.high <= 1) return 'supports';
  return boardOverShell.low > 1 ? 'speaks-against' : 'neutral';
}

function onSeveralBoards(boardOverShell: CheckedValue): CheckVerdict {
  if (boardOverShell.low > 1) return 'supports';
  return boardOverShell.high <= 0.5 ? 'speaks-against' : 'neutral';
}
