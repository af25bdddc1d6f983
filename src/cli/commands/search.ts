import { SEARCH_KINDS, type SearchKind } from '../../state/search/search-index.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { UsageError } from '../frame/exit.ts';
import { choice, whole } from '../frame/options.ts';

/** Hits that are looked at for one question; more are not counted. */
const MAX_HITS = 10_000;

const WORDS: Readonly<Record<string, SearchKind>> = Object.fromEntries(
  SEARCH_KINDS.map((kind) => [kind.toLowerCase().replaceAll('_', '-'), kind]),
);

export const command = defineCommand({
  name: 'search',
  about:
    'Full-text search over names, markings, remarks and what was seen, best hits first. Every word must begin a word of what is found.',
  arguments: [{ name: 'WORD', help: 'words, or beginnings of words', many: true }],
  options: {
    kind: choice('KIND', Object.keys(WORDS), { help: 'only these' }),
    first: whole('N', { help: 'how many to show', min: 1, max: MAX_HITS, default: 20 }),
  },
  uses: 'view',
  formats: ['table', 'csv', 'json', 'text'],
  examples: ['search sennit', 'search lid --kind observation', 'search QWR4T --format json'],

  async run(call) {
    const view = await call.view();
    const { kind, first } = call.options;
    const words = call.arguments.join(' ');
    if (words.trim() === '') throw new UsageError('WORD is empty; write words, or beginnings of words');
    const found: { kind: string; id: string; title: string }[] = [];
    let total = 0;
    for (const hit of view.search(words, kind ? new Set([WORDS[kind]]) : undefined)) {
      if (found.length < first)
        found.push({ kind: hit.kind.toLowerCase().replaceAll('_', '-'), id: hit.id, title: hit.title });
      if (++total === MAX_HITS) break;
    }
    const shown = found.length < total ? `; the first ${found.length} are shown (--first)` : '';
    return {
      table: () => found,
      heading: ['kind', 'id', 'title'],
      json: () => found,
      messages: [`${counted(total, 'hit')}${total === MAX_HITS ? ' or more' : ''}${shown}`],
    };
  },
});
