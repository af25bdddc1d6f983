import type { Row } from '../../export/rows.ts';
import { type AlikePair, alikeTo, allAlike, LIKENESS_WORDS } from '../../questions/alike.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';

export const command = defineCommand({
  name: 'alike',
  about:
    'Photos that are copies or near copies of one another: the same file, the same picture in another file, or one that is likely the other scaled, compressed or brightened. Of one photo, or all pairs of the archive. A picture that was turned or cropped is not found.',
  arguments: [
    { name: 'PHOTO', help: 'id of a photo, device/specimen/photo; all pairs when left out', optional: true },
  ],
  uses: 'view',
  formats: ['table', 'csv', 'json'],
  examples: ['alike', 'alike nolvey-ferrule-3/a/photo-strip-top'],

  async run(call) {
    const view = await call.view();
    const [id] = call.arguments;
    const pairs: readonly AlikePair[] =
      id === undefined ? allAlike(view) : alikeTo(view, id).map((other) => ({ one: id, other }));
    const rows = () =>
      pairs.map(
        ({ one, other }): Row => ({
          photo: one,
          is: LIKENESS_WORDS[other.likeness],
          other: other.id,
          'bits apart': String(other.bits),
        }),
      );
    return {
      table: rows,
      csv: rows,
      heading: ['photo', 'is', 'other', 'bits apart'],
      json: () =>
        pairs.map(({ one, other: { id: other, likeness, bits } }) => ({ photo: one, other, likeness, bits })),
      messages: [
        id === undefined
          ? `${counted(pairs.length, 'pair')} of photos alike`
          : `${counted(pairs.length, 'photo')} like ${id}`,
      ],
    };
  },
});
