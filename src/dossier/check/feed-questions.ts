import { mistakesOfQuestion } from '../../api-schema/question.ts';
import type { ArchiveRule } from './context.ts';

/** A feed asks one query that the schema knows, with values for its variables. */
export const feedsAskTheSchema: ArchiveRule = (documents, _held, report) => {
  for (const document of documents) {
    if (document.kind !== 'catalogue') continue;
    document.catalogue.feeds.forEach(({ question, variables }, i) => {
      for (const { in: field, what, line, column } of mistakesOfQuestion(question, variables)) {
        const place = line === undefined ? '' : ` (line ${line}, column ${column} of the question)`;
        report(document, ['feeds', i, field], `${what}${place}`, 'try the question in the explorer first');
      }
    });
  }
};
