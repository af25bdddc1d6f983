import type { VNode } from 'preact';
import { percent, termInWords } from '../../parts/words.ts';
import type { Component } from './device.ts';

/** All components, what was seen of each apart from what is concluded. */
export function ComponentTable({
  components,
  picked,
  onPick,
}: {
  readonly components: readonly Component[];
  readonly picked: string | undefined;
  readonly onPick: (id: string | undefined) => void;
}): VNode {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by keyboard (axe: scrollable-region-focusable)
    <section class="scroll" tabIndex={0} aria-label="Table of components">
      <table>
        <thead>
          <tr>
            <th scope="col">Component</th>
            <th scope="col" class="seen">
              Seen
            </th>
            <th scope="col">Concluded</th>
            <th scope="col">Probability</th>
          </tr>
        </thead>
        <tbody>
          {components.map((one) => {
            const { words, probability } = concluded(one);
            return (
              <tr key={one.id} id={`row-${one.id}`} class={one.id === picked ? 'picked' : undefined}>
                <th scope="row">
                  <button
                    type="button"
                    class="pick"
                    aria-pressed={one.id === picked}
                    onClick={() => onPick(one.id === picked ? undefined : one.id)}
                  >
                    {one.designator}
                  </button>
                </th>
                <td class="seen">
                  {one.marking && <code>{one.marking}</code>} {one.package}
                </td>
                <td>{words}</td>
                <td class="number">{probability === undefined ? '' : percent(probability)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </section>
  );
}

/** What a component is concluded to be, likeliest first. */
function concluded({ identification, category }: Component): {
  words: string;
  probability: number | undefined;
} {
  const [first] = identification?.candidates ?? [];
  if (first?.part)
    return {
      words: [first.part.maker?.name, first.part.number].filter(Boolean).join(' '),
      probability: first.probability,
    };
  if (first?.category) return { words: termInWords(first.category), probability: first.probability };
  if (category) return { words: termInWords(category.term), probability: category.probability };
  return { words: 'unknown', probability: undefined };
}

/** A component in a line. */
export function sentenceOf(component: Component): string {
  const { words, probability } = concluded(component);
  return [component.designator, words, probability === undefined ? '' : percent(probability)]
    .filter(Boolean)
    .join(', ');
}
