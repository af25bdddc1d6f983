/** A syntax tree without its places, for comparison; keys whose value is undefined are dropped too. */
export function withoutSpans(node: unknown): unknown {
  if (Array.isArray(node)) return node.map(withoutSpans);
  if (typeof node !== 'object' || node === null) return node;
  return Object.fromEntries(
    Object.entries(node)
      .filter(([key, value]) => key !== 'span' && key !== 'nameSpan' && value !== undefined)
      .map(([key, value]) => [key, withoutSpans(value)]),
  );
}
