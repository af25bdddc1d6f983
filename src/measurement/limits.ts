/** Most that is asked in one question; more takes several. */
export const MOST_MEASURED = { points: 100, places: 200, lengths: 50, bodies: 100, corners: 200 } as const;
