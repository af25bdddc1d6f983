import { readersSentences } from '../answers/readers-text.ts';
import { defineCommand } from '../frame/command.ts';

export const command = defineCommand({
  name: 'recall',
  about:
    'Takes back what readers see: of a device with its specimens, a specimen, a publication, or any other record or correction they see no version that was filed before, as of no earlier instant either. The desk keeps everything, and a version filed afterwards is seen as it says. To hide one sentence or one identification, file it with "visibility: draft".',
  arguments: [
    { name: 'ID', help: 'id of a device, specimen, publication, part, source, pattern or correction' },
  ],
  uses: 'change',
  formats: ['text', 'json'],
  examples: ['recall bench-letter-31 --reason "the maker disputes two sentences"'],

  async run(call) {
    const [id] = call.arguments;
    const by = call.authorship();
    const archive = await call.changing();
    const report = await archive.recallRecord(id, by);
    return {
      json: () => report,
      messages: [
        `${report.ids.join(', ')} recalled, journaled as entry ${report.entry.sequence}`,
        ...readersSentences(report.readers),
      ],
    };
  },
});
