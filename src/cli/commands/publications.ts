import { type Claim, claimIdOf, type Publication } from '../../model/catalogue.ts';
import { resolved } from '../../state/resolve.ts';
import type { State } from '../../state/state.ts';
import { recallOf } from '../../state/visibility/audience.ts';
import { counted } from '../answers/figures.ts';
import { visibilityColumn, visibilityText } from '../answers/visibility-text.ts';
import { defineCommand } from '../frame/command.ts';

export const command = defineCommand({
  name: 'publications',
  about:
    'Lists articles, videos, newsletters and figures, or the sentences of one with what supports each. "audit" checks sentences against their evidence, "sheet" writes a checking sheet.',
  arguments: [{ name: 'ID', help: 'id of a publication, for its sentences', optional: true }],
  uses: 'view',
  formats: ['table', 'csv', 'json', 'text'],
  examples: ['publications', 'publications bench-letter-31', 'publications --format csv'],

  async run(call) {
    const view = await call.view();
    const [id] = call.arguments;
    if (id === undefined) {
      const all = view.publications();
      return {
        table: () => all.map((one) => publicationRow(view, one)),
        json: () => all,
        messages: [counted(all.length, 'publication')],
      };
    }
    const { thing } = resolved(view, id, ['Publication']);
    const visible = visibilityColumn(thing.claims);
    return {
      table: () => thing.claims.map((claim) => ({ ...claimRow(thing, claim), ...visible(claim) })),
      json: () => thing,
      messages: [`${thing.id}: ${thing.title}, ${counted(thing.claims.length, 'sentence')}`],
    };
  },
});

function publicationRow(view: State, publication: Publication) {
  const { id, kind, title, published, claims } = publication;
  return {
    publication: id,
    kind,
    published: published ?? '',
    sentences: String(claims.length),
    ...visibilityText(publication, view.audience === 'desk' ? recallOf(view.facts, id) : undefined),
    title,
  };
}

function claimRow(publication: Publication, claim: Claim) {
  return {
    claim: claimIdOf(publication, claim),
    sentence: claim.sentence,
    'supported by': claim.supportedBy.join(' '),
    figures: String(claim.figures?.length ?? 0),
  };
}
