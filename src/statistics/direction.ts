/** Direction of a series. Whether chance alone explains it is the test's p. */
export type Direction = 'rising' | 'falling' | 'level';

/** Direction of a slope, a z or a difference. */
export function directionOf(value: number): Direction {
  if (value > 0) return 'rising';
  return value < 0 ? 'falling' : 'level';
}
