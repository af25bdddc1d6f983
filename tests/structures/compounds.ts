/**
 * Five chemical compounds as labelled graphs, from the open example data `graph.data.5` that is published with the MIT
 * licensed implementation of gSpan by the user betterenvi: a line is a compound, first the labels of its atoms, then
 * its bonds as first atom, second atom and label.
 */
const TEXT = `
2 2 2 3 2 4 2 3 3 3 2 2 2 2 2 2 2 2 2|0 1 2,0 2 2,2 3 3,2 4 2,3 5 2,4 6 2,5 7 2,5 8 2,5 9 2,6 10 2,6 9 3,7 11 3,8 12 3,10 13 2,11 14 2,11 15 2,12 16 2,12 15 2,14 17 2,16 18 2
2 2 6 6 3 3 3 3 3 3|0 1 2,0 2 2,1 3 2,2 4 3,2 5 3,2 6 2,3 7 3,3 8 3,3 9 2
6 6 2 2 2 2 2 2 2 2 2 2 2 2 3 3 2 3 3 2|0 1 2,0 2 2,1 3 2,2 4 5,2 5 5,3 6 5,3 7 5,4 8 2,4 9 5,5 10 5,6 11 2,6 12 5,7 13 5,8 14 3,8 15 2,9 16 5,10 16 5,11 17 3,11 18 2,12 19 5,13 19 5
6 6 2 2 2 2 2 2 2 2 2 2 2 2 5 5 2 2 2 3 2 3 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2|0 1 2,0 2 2,1 3 2,2 4 5,2 5 5,3 6 5,3 7 5,4 8 5,5 9 5,6 10 5,7 11 5,8 12 5,9 12 5,10 13 5,11 13 5,12 14 2,13 15 2,14 16 2,15 17 2,16 18 2,16 19 3,17 20 2,17 21 3,18 22 2,20 23 2,22 24 2,23 25 2,24 26 2,25 27 2,26 28 2,27 29 2,28 30 2,29 31 2,30 32 2,31 33 2,32 34 2,33 35 2,34 36 2,35 37 2,36 38 2,37 39 2,38 40 2,39 41 2
7 3 5 3 2 7 2 2 2 2 5 3 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2 2 5 2 3 3 5 3 3|0 1 2,0 2 2,0 3 3,0 4 2,1 5 2,2 6 2,2 7 2,4 8 5,4 9 5,5 10 2,5 11 3,5 12 2,6 13 2,6 14 2,7 15 2,7 16 2,8 17 5,9 18 5,10 19 2,10 20 2,12 21 5,12 22 5,17 23 5,18 23 5,19 24 2,19 25 2,20 26 2,20 27 2,21 28 5,22 29 5,23 30 2,28 31 5,29 31 5,30 32 3,30 33 2,31 34 2,34 35 3,34 36 2
`;

export const COMPOUNDS = TEXT.trim()
  .split('\n')
  .map((line, group) => {
    const [atoms, bonds] = line.split('|');
    return {
      group,
      labels: atoms.split(' ').map((label) => [Number(label)]),
      edges: bonds.split(',').map((bond) => {
        const [a, b, label] = bond.split(' ').map(Number);
        return [a, b, label] as const;
      }),
    };
  });
