import { capacitorLetter, capacitorThreeDigit } from './capacitor.ts';
import { pouchCellSize, roundCellSize } from './cells.ts';
import { dateLetters, dateYearWeekWeek, dateYearYearWeekWeek } from './dates.ts';
import { eia96 } from './eia96.ts';
import { inductorThreePlace } from './inductor.ts';
import type { CodeContext, CodeReading, CodeRule } from './reading.ts';
import { resistorFourDigit, resistorLetter, resistorThreeDigit } from './resistor.ts';

/** Every rule, resistors first since they are the most common. */
export const CODE_RULES: readonly CodeRule[] = Object.freeze([
  resistorThreeDigit,
  resistorFourDigit,
  resistorLetter,
  eia96,
  capacitorThreeDigit,
  capacitorLetter,
  inductorThreePlace,
  dateYearYearWeekWeek,
  dateYearWeekWeek,
  dateLetters,
  pouchCellSize,
  roundCellSize,
]);

/** All readings of one line of marking by all rules; rivals stand side by side, those in doubt behind the others. */
export function readCode(line: string, context: CodeContext): readonly CodeReading[] {
  const readings = CODE_RULES.flatMap((rule) => rule(line, context));
  return [
    ...readings.filter(({ doubt }) => doubt === undefined),
    ...readings.filter(({ doubt }) => doubt !== undefined),
  ];
}
