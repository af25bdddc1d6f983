/** A share or probability in percent, as every surface prints it. */
export { percentText as percent } from '../../text/rounding.ts';

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
