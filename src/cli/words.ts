/** `1 file`, `3 files`, `no files`. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count === 0 ? 'no' : count.toLocaleString('en')} ${count === 1 ? one : many}`;
}
