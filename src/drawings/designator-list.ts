import { compareDesignators, designatorOf } from '../model/designator.ts';

/** Longest list in a drawing, in items after runs were drawn together. */
const MOST_ITEMS = 60;

/** Designators in order, runs of numbers drawn together: `C1 to C4, R2, U1`. */
export function designatorList(ids: readonly string[], most = MOST_ITEMS): string {
  const names = ids.map(designatorOf).sort(compareDesignators);
  const runs: { readonly first: string; last: string; count: number }[] = [];
  for (const name of names) {
    const run = runs.at(-1);
    if (run && follows(run.last, name)) {
      run.last = name;
      run.count++;
    } else runs.push({ first: name, last: name, count: 1 });
  }
  const items = runs.flatMap(({ first, last, count }) => {
    if (count === 1) return [{ text: first, count: 1 }];
    if (count === 2)
      return [
        { text: first, count: 1 },
        { text: last, count: 1 },
      ];
    return [{ text: `${first} to ${last}`, count }];
  });
  const left = items.slice(most).reduce((sum, { count }) => sum + count, 0);
  const shown = items
    .slice(0, most)
    .map(({ text }) => text)
    .join(', ');
  return left > 0 ? `${shown} and ${left} more` : shown;
}

function follows(before: string, name: string): boolean {
  const [a, b] = [/^(\D+)(\d+)$/u.exec(before), /^(\D+)(\d+)$/u.exec(name)];
  return (
    a !== null && b !== null && a[1] === b[1] && Number(b[2]) === Number(a[2]) + 1 && !b[2].startsWith('0')
  );
}
