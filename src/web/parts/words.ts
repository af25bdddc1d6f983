/** `RIGID_FLEX` as `rigid flex`. */
export const inWords = (name: string): string => name.toLowerCase().replaceAll('_', ' ');

/** `AmbientLightSensor` as `ambient light sensor`; initials such as in `PMIC` stay. */
export function termInWords(term: string): string {
  return term
    .replaceAll(/([a-z\d])([A-Z])/gu, '$1 $2')
    .replaceAll(/([A-Z]+)([A-Z][a-z])/gu, '$1 $2')
    .split(' ')
    .map((word) => (/^[A-Z][a-z]/u.test(word) ? word.toLowerCase() : word))
    .join(' ');
}

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** A probability in percent, never 0 or 100 for what is neither impossible nor certain. */
export function percent(share: number): string {
  if (share > 0 && share < 0.01) return '< 1 %';
  if (share > 0.99 && share < 1) return '> 99 %';
  return `${Math.round(share * 100)} %`;
}
