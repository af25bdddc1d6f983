import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { parentPort } from 'node:worker_threads';
import { createWorker, OEM, PSM } from 'tesseract.js';
import type { Answered, Asked } from '../charts/task-thread.ts';
import type { ReadSymbol, ReadText } from './read-text.ts';

// Runs in a thread of its own (reader.ts), and the reader in a thread below this one: what breaks there ends this thread and not the
// process. Language data and program lie among the packages; nothing is fetched, and nothing is written.

globalThis.fetch = () => Promise.reject(new Error('markings are read without a network'));

/** Characters that markings are made of, capitals alone (identification/confusion.ts). */
const CHARACTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789.-+/';

const data = dirname(createRequire(import.meta.url).resolve('@tesseract.js-data/eng/package.json'));
const reading = createWorker(
  'eng',
  OEM.LSTM_ONLY,
  // The smaller of the two sets: the other one holds an older method besides.
  { langPath: join(data, '4.0.0_best_int'), cacheMethod: 'none', gzip: true, errorHandler: () => {} },
  // A marking is no word of a language.
  {
    load_system_dawg: '0',
    load_freq_dawg: '0',
    load_unambig_dawg: '0',
    load_punc_dawg: '0',
    load_number_dawg: '0',
    load_bigram_dawg: '0',
  },
).then(async (reader) => {
  await reader.setParameters({
    tessedit_pageseg_mode: PSM.SINGLE_BLOCK,
    tessedit_char_whitelist: CHARACTERS,
    user_defined_dpi: '300',
  });
  return reader;
});

async function textOf(png: Uint8Array): Promise<ReadText> {
  const reader = await reading;
  const { data: page } = await reader.recognize(Buffer.from(png), {}, { text: false, blocks: true });
  return (page.blocks ?? [])
    .flatMap(({ paragraphs }) => paragraphs)
    .flatMap(({ lines }) => lines)
    .map(({ words }) =>
      words.flatMap(({ symbols }) =>
        symbols.map(({ text, confidence }): ReadSymbol => ({ text, confidence })),
      ),
    );
}

parentPort?.on('message', async ({ number, task }: Asked<Uint8Array>) => {
  let answered: Answered<ReadText>;
  try {
    answered = { number, result: await textOf(task) };
  } catch (error) {
    answered = { number, failed: error instanceof Error ? error.message : String(error) };
  }
  parentPort?.postMessage(answered);
});
