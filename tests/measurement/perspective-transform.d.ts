declare module 'perspective-transform' {
  /** @param from corners x, y, x, y …; @param to likewise */
  export default function PerspT(
    from: readonly number[],
    to: readonly number[],
  ): { transform(x: number, y: number): [number, number] };
}
