import { certainlyBefore, yearOf } from '../../model/dates.ts';
import type { Path } from '../document/document.ts';
import type { ArchiveRule, Severity } from './context.ts';
import { devicesDescribed } from './described.ts';

/** Years ahead that a release or first delivery may be announced without a second look (chosen). */
const ANNOUNCED = 2;
/** Before this hardly anything electronic was worn but hearing aids with valves, of which a museum may have one (chosen). */
const EARLIEST = 1950;
/** Before this there were no electronics at all, so that a date is a slip or of another calendar; the first valve is of 1904 (from memory). */
const NEVER = 1900;

/** Nothing was bought, opened or seen after today, or before there were electronics; releases are announced a little ahead. */
export const nothingWasSeenTomorrow: ArchiveRule = (documents, held, report) => {
  const today = held.today ?? latestDay(new Date());
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    const { specimen, teardown, observations, identifications, judgements = [] } = document.dossier;
    const past = (date: string | undefined, path: Path, what: string) => {
      if (date === undefined) return;
      if (certainlyBefore(today, date))
        report(document, path, `${what} on ${date}, which is still to come`, 'check the date');
      const off = howFarBack(date);
      if (off) report(document, path, `${what} on ${date}, ${off.says}`, FIX, off.severity);
    };
    past(specimen.bought, ['specimen', 'bought'], 'bought');
    past(teardown.on, ['teardown', 'on'], 'opened');
    observations.forEach(({ id, on, withdrawn }, i) => {
      past(on, ['observations', i, 'on'], `"${id}" was seen`);
      past(withdrawn?.on.slice(0, 10), ['observations', i, 'withdrawn', 'on'], `"${id}" was withdrawn`);
    });
    identifications.forEach(({ component, on }, i) =>
      past(on, ['identifications', i, 'on'], `${component} was identified`),
    );
    judgements.forEach(({ component, on }, i) =>
      past(on, ['judgements', i, 'on'], `${component} was judged`),
    );
  }
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.parts.forEach(({ number, introduced }, i) => {
      const off = introduced === undefined ? undefined : howFarOff(introduced);
      if (off !== undefined)
        report(
          document,
          ['parts', i, 'introduced'],
          `${number} is first delivered ${introduced}, ${off.says}`,
          FIX,
          off.severity,
        );
    });
  }
  for (const { device, document, path } of devicesDescribed(documents).values()) {
    const off = howFarOff(device.released);
    if (off !== undefined)
      report(
        document,
        [...path, 'released'],
        `${device.id} is released ${device.released}, ${off.says}`,
        FIX,
        off.severity,
      );
  }

  function howFarOff(date: string): Off | undefined {
    if (yearOf(date) > yearOf(today) + ANNOUNCED) return { says: 'years from now', severity: 'caution' };
    return howFarBack(date);
  }
};

/** What is said of a date that is hardly right, and whether it may stand. */
interface Off {
  readonly says: string;
  readonly severity: Severity;
}

function howFarBack(date: string): Off | undefined {
  const year = yearOf(date);
  if (year < NEVER) return { says: 'before there were any electronics', severity: 'error' };
  return year < EARLIEST ? { says: 'before anything electronic was worn', severity: 'caution' } : undefined;
}

const FIX = 'check the date: the year with its four digits, of the calendar of ISO 8601';

/** When this release was made: no clock that shows an earlier day is right. */
const MADE = '2026-11-30';

/**
 * The latest day that it may be anywhere on earth by a clock, YYYY-MM-DD; where the clock is behind the release of this program,
 * the day of that.
 */
export function latestDay(clock: Date): string {
  const ahead = new Date(clock.getTime() + 14 * 3_600_000).toISOString().slice(0, 10);
  return ahead < MADE ? MADE : ahead;
}
