import { certainlyBefore, yearOf } from '../../model/dates.ts';
import type { Path } from '../document/document.ts';
import type { ArchiveRule } from './context.ts';
import { devicesDescribed } from './described.ts';

/** Years ahead that a release or first delivery may be announced without a second look (chosen). */
const ANNOUNCED = 2;
/** Before this nothing electronic was worn (chosen). */
const EARLIEST = 1950;

/** Nothing was bought, opened or seen after today; releases are announced a little ahead. */
export const nothingWasSeenTomorrow: ArchiveRule = (documents, held, report) => {
  const today = held.today ?? latestDay(new Date());
  for (const document of documents) {
    if (document.kind !== 'dossier') continue;
    const { specimen, teardown, observations, identifications, judgements = [] } = document.dossier;
    const past = (date: string | undefined, path: Path, what: string) => {
      if (date === undefined || !certainlyBefore(today, date)) return;
      report(document, path, `${what} on ${date}, which is still to come`, 'check the date');
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
          `${number} is first delivered ${introduced}, ${off}`,
          'check the date',
          'caution',
        );
    });
  }
  for (const { device, document, path } of devicesDescribed(documents).values()) {
    const off = howFarOff(device.released);
    if (off !== undefined)
      report(
        document,
        [...path, 'released'],
        `${device.id} is released ${device.released}, ${off}`,
        'check the date',
        'caution',
      );
  }

  function howFarOff(date: string): string | undefined {
    if (yearOf(date) > yearOf(today) + ANNOUNCED) return 'years from now';
    return yearOf(date) < EARLIEST ? 'before anything electronic was worn' : undefined;
  }
};

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
