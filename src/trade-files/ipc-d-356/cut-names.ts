import { type Findings, quoted } from '../board-design.ts';

/** Characters that the format has for the name of a net, and for a designator. */
export const NET_CHARACTERS = 14;
export const DESIGNATOR_CHARACTERS = 6;

/**
 * Tells of names that fill their field: longer ones are cut, and two nets cut alike count as one.
 * @param names long names by their alias
 * @param nets long names by what stands for them in records
 */
export function tellCutNames(
  pads: readonly { readonly designator: string; readonly net: string | undefined; readonly line: number }[],
  names: ReadonlyMap<string, string>,
  nets: ReadonlyMap<string, string>,
  findings: Findings,
): void {
  const full = new Map<string, number>();
  for (const { net, line } of pads)
    if (net?.length === NET_CHARACTERS && !nets.has(net) && !full.has(net)) full.set(net, line);
  if (full.size > 0) {
    const shown = [...full.keys()].slice(0, 5).map(quoted).join(', ');
    findings.caution(
      [...full.values()][0],
      `${full.size} net ${full.size === 1 ? 'name fills' : 'names fill'} the ${NET_CHARACTERS} characters that the format has (${shown}${full.size > 5 ? ' …' : ''}); longer names are cut, and nets that are then alike count here as one`,
      'export with a table of long names (IPC-D-356A, NNAME), or compare with another file',
    );
  }
  const beginnings = Map.groupBy(new Set(names.values()), (name) => name.slice(0, NET_CHARACTERS));
  for (const [beginning, alike] of beginnings) {
    if (alike.length > 1 && full.has(beginning))
      findings.problem(
        full.get(beginning),
        `${quoted(beginning)} may be ${alike.map(quoted).join(' or ')}`,
        'use the name NNAMEn of the table in every record of these nets',
      );
  }
  const long = new Set(
    pads.flatMap(({ designator }) => (designator.length === DESIGNATOR_CHARACTERS ? designator : [])),
  );
  if (long.size > 0) {
    findings.caution(
      undefined,
      `${long.size} ${long.size === 1 ? 'designator fills' : 'designators fill'} the ${DESIGNATOR_CHARACTERS} characters that the format has (${[...long].slice(0, 5).join(', ')}); longer ones are cut`,
      'compare them with the bill of materials',
    );
  }
}
