import { recordOfId } from '../model/ids.ts';
import type { OpenedSpecimen } from '../state/specimen.ts';
import type { State } from '../state/state.ts';

/** Most names in a line of credits. */
const MOST_CREDITS = 6;

/** Whom a drawing of some specimens owes what it shows: who opened them, whose photos they were seen on, and whether they exist. */
export function creditsOf(state: State, specimens: readonly OpenedSpecimen[]): readonly string[] {
  const opened = specimens.map(({ id, dossier: { teardown } }) =>
    teardown.recordedFrom === 'design-files'
      ? `${id}: from design files, read by ${teardown.by}, ${teardown.on}`
      : `${id}: opened by ${teardown.by}, ${teardown.on}`,
  );
  const photos = specimens.flatMap(({ dossier }) =>
    dossier.photos.map(({ credit, licence }) => `${credit} (${licence})`),
  );
  const devices = specimens.map(({ id }) => state.device(recordOfId(id)));
  return [
    ...(opened.length > 0 ? [`${listed(opened, '; ')}. Drawn by Caseback.`] : []),
    ...(photos.length > 0 ? [`Photos: ${listed([...new Set(photos)], ', ')}.`] : []),
    ...(devices.some((device) => device?.invented) ? ['Demo data: invented, no such device exists.'] : []),
  ];
}

function listed(items: readonly string[], joint: string): string {
  const more = items.length - MOST_CREDITS;
  return more > 0 ? `${items.slice(0, MOST_CREDITS).join(joint)} and ${more} more` : items.join(joint);
}
