import { pastInstant } from './instant.ts';
import { choice, flag, readBy, text } from './options.ts';

// Options that several commands share, each declared once.

export const HELP_OPTION = { help: flag('this text') };

export const DATA_OPTION = {
  data: text(
    'FOLDER',
    'data folder of an archive (default: the database of DATABASE_URL where that is set; DATA_DIR, else data/ here where it has one, else data/ of Caseback; without an archive there, the demo)',
  ),
  demo: flag('the invented demo archive (DEMO_DIR, else demo-data/ of Caseback)'),
};

export const AUDIENCES = ['desk', 'reader'] as const;
export const AUDIENCES_HELP = 'desk sees drafts and embargoed records too, reader what is published';

/** Who asks: at the command line, everybody has the files and so is at the desk. */
export const AUDIENCE_OPTION = {
  audience: choice('AUDIENCE', AUDIENCES, { help: AUDIENCES_HELP, default: 'desk' }),
};

/** For whom a service answers: whoever reaches its address. */
export const SERVICE_AUDIENCE_OPTION = {
  audience: choice('AUDIENCE', AUDIENCES, { help: AUDIENCES_HELP, default: 'reader' }),
};

export const AS_OF_OPTION = {
  asOf: readBy(
    'WHEN',
    'the archive as it was at an instant (2026-03-01T09:00:00Z) or at the end of a day in UTC (2026-03-01)',
    (written, option) => pastInstant(written, option, new Date()),
  ),
};

export const WHOLE_OPTION = {
  whatIsWhole: flag(
    'reads a damaged archive as far as it is whole: what stands before the first entry that is damaged or missing',
  ),
};

export const AUTHOR_OPTIONS = {
  actor: text(
    'NAME',
    'who makes the change; the first name written is that of this machine from then on, and no other is accepted (default: that name, else your login name)',
  ),
  reason: text('TEXT', 'why; kept in the journal'),
  key: text(
    'KEY',
    'an idempotency key, such as a UUID: whoever does not know whether a change was made asks again under the same one, and it is made once',
  ),
  allowClockLeap: flag(
    'writes although the clock is over a year past the last entry (CASEBACK_ALLOW_CLOCK_LEAP=1)',
  ),
};

export const CONFUSION_OPTION = {
  confusion: text(
    'FILE',
    'how eyes confuse characters, in the form of schema/confusions.yaml (default: confusion.yaml in the data folder, else the table that ships with Caseback)',
  ),
};
