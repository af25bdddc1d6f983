import type { PackContents } from '../../../pack/contents.ts';
import { changesOfPack, contentsOfPack, digestOfPack } from '../../../questions/packs.ts';
import type { State } from '../../../state/state.ts';
import { citedStatesOf, stateCited } from '../../cite/cited-states.ts';
import { idIn, instantOf } from '../instants.ts';
import type { Resolvers } from '../resolver-types.ts';

/** A pack as its resolvers see it. */
export interface PackSource {
  readonly view: State;
  readonly contents: PackContents;
}

/** Packs of publications. */
export const packs: Resolvers = {
  Publication: {
    pack: async ({ view, id }, _, context) => {
      const { PACK_PAGES } = await import('../../pages/pack-preview.ts');
      const instant = instantOf(view) ?? new Date().toISOString();
      const wishes = { state: { instant, name: null }, pages: PACK_PAGES, photos: context.archive.photos };
      return { view, contents: await contentsOfPack(view, id, wishes, context.signal()) };
    },
  },
  Pack: {
    address: ({ view, contents }) =>
      `/publications/${contents.publication.id}/pack.zip${view.audience === 'desk' ? '?audience=desk' : ''}`,
    digest: ({ contents }) => digestOfPack(contents),
    files: ({ view, contents }) =>
      contents.files.map(({ path, mediaType, title, about }) => ({
        path,
        mediaType,
        title,
        sentences: about.map((id) => idIn(view, id)),
      })),
    leftOut: ({ view, contents }) => contents.leftOut.map(({ id, why }) => ({ id: idIn(view, id), why })),
    changes: async ({ view, contents }, { since }, context) => {
      const cited = (await citedStatesOf(context.archive)).read(since);
      const before = await stateCited(context.archive, cited, view.audience, context.signal());
      const instant = new Date(cited.at).toISOString();
      const { id } = contents.publication;
      const found = await changesOfPack(before, view, id, instant, context.signal());
      return found.map(({ sentence, kind, id: of, says, standing, changes, because }) => ({
        sentence: idIn(view, sentence),
        figure: kind === 'figure' ? Number(/\d+$/u.exec(of)?.[0]) : null,
        statement: says,
        isThere: standing !== 'cannot-be-checked',
        changes,
        because,
      }));
    },
  },
};
