/** The way from an id back to itself, or undefined; a depth-first walk that enters nothing twice. */
export function circleFrom(
  start: string,
  next: (id: string) => readonly string[],
): readonly string[] | undefined {
  const stack: (readonly string[])[] = next(start).map((id) => [start, id]);
  const entered = new Set<string>();
  for (let path = stack.pop(); path; path = stack.pop()) {
    const at = path[path.length - 1];
    if (at === start) return path;
    if (entered.has(at)) continue;
    entered.add(at);
    for (const id of next(at)) stack.push([...path, id]);
  }
  return undefined;
}
