import { readAnchor, type SignatureVerdict, signatureOf, whyNotExtended } from '../../journal/anchor.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT } from '../frame/exit.ts';
import { readText } from '../frame/files.ts';
import { text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'verify-anchors',
  about:
    'Tells whether a later anchor extends an earlier one: whether the archive that the later one was made of began with the very entries of the earlier one. It needs no archive, but the proof that "anchor --consistent-with" puts into the later one (RFC 9162, section 2.1.4). Exit code 3 where it does not, or where a signature does not hold.',
  arguments: [
    { name: 'EARLIER', help: 'an anchor' },
    { name: 'LATER', help: 'an anchor with the proof that it extends the earlier one' },
  ],
  options: {
    publicKey: text('FILE', 'a public Ed25519 key in PEM that both must be signed with'),
  },
  uses: 'nothing',
  formats: ['text', 'json'],
  examples: [
    'verify-anchors monday.json tuesday.json',
    'verify-anchors monday.json tuesday.json --public-key key.pub',
  ],

  async run(call) {
    const { publicKey } = call.options;
    const key = publicKey === undefined ? undefined : readText(publicKey, call.terminal);
    const [earlier, later] = call.arguments.map((file) => readAnchor(readText(file, call.terminal), file));
    const signatures = [earlier, later].map((anchor) => signatureOf(anchor, key));
    const isSigned = (verdict: SignatureVerdict) => verdict === 'good' || (!key && verdict !== 'bad');
    const unsigned = signatures.findIndex((verdict) => !isSigned(verdict));
    const why =
      unsigned < 0
        ? whyNotExtended(earlier, later)
        : `the signature of the ${unsigned === 0 ? 'earlier' : 'later'} anchor: ${signatures[unsigned]}`;
    const extended = why === undefined;
    return {
      text: () =>
        extended
          ? `consistent: the archive of ${counted(later.entries, 'entry', 'entries')} (${later.madeOn}) begins with the ${counted(earlier.entries, 'entry', 'entries')} of ${earlier.madeOn}; signatures: ${signatures.join(', ')}\n`
          : `not shown: ${why}\n`,
      json: () => ({ consistent: extended, ...(extended ? {} : { why }), signatures }),
      exit: extended ? EXIT.fine : EXIT.damaged,
    };
  },
});
