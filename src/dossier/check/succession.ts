import type { ArchiveRule, DossierDocument } from './context.ts';

/** No device succeeds itself, directly or through others. */
export const successionHasNoCircle: ArchiveRule = (documents, held, report) => {
  const declaring = new Map<string, DossierDocument>();
  for (const document of documents) {
    if (document.kind === 'dossier' && typeof document.dossier.device !== 'string') {
      declaring.set(document.dossier.device.id, document);
    }
  }
  const predecessors = (id: string): readonly string[] => {
    const device = declaring.get(id)?.dossier.device;
    return (typeof device === 'object' ? device : held.device(id))?.succeeds ?? [];
  };
  for (const [id, document] of declaring) {
    const circle = circleFrom(id, predecessors);
    if (circle) {
      report(
        document,
        ['device', 'succeeds'],
        `succession goes in a circle: ${circle.join(' > ')}`,
        'leave one of the steps out',
      );
    }
  }
};

/** The way from an id back to itself, or undefined; a depth-first walk that enters nothing twice. */
function circleFrom(start: string, next: (id: string) => readonly string[]): readonly string[] | undefined {
  const stack: (readonly string[])[] = next(start).map((id) => [start, id]);
  const entered = new Set<string>();
  for (let path = stack.pop(); path; path = stack.pop()) {
    const at = path[path.length - 1];
    if (at === start) return path;
    if (entered.has(at)) continue;
    entered.add(at);
    for (const id of next(at)) stack.push([...path, id]);
  }
  return undefined;
}
