/** Which way a series goes. It says nothing about whether chance alone could have done it; the test's p does. */
export type Direction = 'rising' | 'falling' | 'level';

/** Direction of a slope, a z or a difference. */
export function directionOf(value: number): Direction {
  if (value > 0) return 'rising';
  return value < 0 ? 'falling' : 'level';
}
