import { pinOf } from '../../model/ids.ts';
import { stepName, stepNumber } from '../../model/photo-region.ts';
import { didYouMean } from '../../text/near.ts';
import { recordedId } from '../component-ids.ts';
import type { Path } from '../document/document.ts';
import type { DossierRule } from './context.ts';
import { type LocalKind, localIds } from './local-ids.ts';

/** Every local id that a dossier names is declared in it, and is of the kind that the place asks for. */
export const localReferencesAreKnown: DossierRule = (document, report) => {
  const { dossier } = document;
  // An id given twice is reported elsewhere; here it refers to both.
  const kinds = new Map<string, readonly LocalKind[]>();
  for (const { id, kind } of localIds(dossier)) kinds.set(id, [...(kinds.get(id) ?? []), kind]);
  const need = (id: string | undefined, allowed: readonly LocalKind[], path: Path) => {
    if (id === undefined) return;
    const found = kinds.get(id);
    if (found?.some((kind) => allowed.includes(kind))) return;
    const recorded = allowed.includes('component') ? recordedId(dossier.components, id) : id;
    if (typeof recorded !== 'string') {
      const choices = some(recorded.choices);
      report(document, path, `"${id}" may be ${either(recorded.choices)}`, `write one of ${choices}`);
      return;
    }
    if (!found && kinds.get(recorded)?.includes('component')) return;
    const fitting = [...kinds].flatMap(([name, own]) =>
      own.some((one) => allowed.includes(one)) ? [name] : [],
    );
    const wanted = either(allowed);
    const what = found
      ? `"${id}" is the id of ${withArticle(found[0])}, and this asks for ${withArticle(wanted)}`
      : `no ${wanted} is called "${id}" in this dossier`;
    report(
      document,
      path,
      what,
      didYouMean(id, fitting) ?? (fitting.length > 0 ? `there are ${some(fitting)}` : `declare one`),
    );
  };

  dossier.teardown.steps.forEach(({ photo }, i) => need(photo, ['photo'], ['teardown', 'steps', i, 'photo']));
  dossier.boards.forEach(({ stackedOn }, i) => need(stackedOn, ['board'], ['boards', i, 'stackedOn']));
  dossier.components.forEach(({ board, subsystem, inside }, i) => {
    need(board, ['board'], ['components', i, 'board']);
    need(subsystem, ['subsystem'], ['components', i, 'subsystem']);
    need(inside, ['component'], ['components', i, 'inside']);
  });
  dossier.connections.forEach(({ between, basis }, i) => {
    between.forEach((end, j) => need(end, ['component', 'board'], ['connections', i, 'between', j]));
    basis.forEach((id, j) => need(id, ['observation'], ['connections', i, 'basis', j]));
  });
  dossier.nets?.forEach(({ pins, basis }, i) => {
    pins.forEach((pin, j) => need(pinOf(pin).component, ['component'], ['nets', i, 'pins', j]));
    basis.forEach((id, j) => need(id, ['observation'], ['nets', i, 'basis', j]));
  });
  dossier.observations.forEach(({ about, leadsTo = [], photo, corrects }, i) => {
    // A whole specimen or the teardown may be what an observation is about.
    const about_ = about.filter((id) => id !== dossier.specimen.id && id !== 'teardown');
    about_.forEach((id) =>
      need(
        id,
        ['component', 'board', 'subsystem', 'net', 'photo'],
        ['observations', i, 'about', about.indexOf(id)],
      ),
    );
    leadsTo.forEach((id, j) => need(id, ['component', 'board'], ['observations', i, 'leadsTo', j]));
    need(photo, ['photo'], ['observations', i, 'photo']);
    need(corrects, ['observation'], ['observations', i, 'corrects']);
  });
  dossier.identifications.forEach(({ component, basis }, i) => {
    need(component, ['component'], ['identifications', i, 'component']);
    basis.forEach((id, j) => need(id, ['observation'], ['identifications', i, 'basis', j]));
  });
  dossier.judgements?.forEach(({ component }, i) =>
    need(component, ['component'], ['judgements', i, 'component']),
  );
  dossier.photos.forEach(({ regions }, i) => {
    regions.forEach(({ of }, j) => {
      const path = ['photos', i, 'regions', j, 'of'];
      const step = kinds.has(of) ? undefined : stepNumber(of);
      const { steps } = dossier.teardown;
      if (step === undefined) need(of, ['component', 'board', 'subsystem'], path);
      else if (step > steps.length)
        report(
          document,
          path,
          `there is no step ${step} in this teardown`,
          steps.length > 0
            ? `its steps are ${stepName(1)} to ${stepName(steps.length)}`
            : 'write the steps of the teardown first',
        );
    });
  });
};

/** `component, board or photo` */
function either(words: readonly string[]): string {
  return words.length < 2 ? words.join() : `${words.slice(0, -1).join(', ')} or ${words.at(-1)}`;
}

function withArticle(word: string): string {
  return `${/^[aeiou]/u.test(word) ? 'an' : 'a'} ${word}`;
}

function some(ids: readonly string[]): string {
  return ids.length > 8 ? `${ids.slice(0, 8).join(', ')} …` : ids.join(', ');
}
