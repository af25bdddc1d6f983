import { anchorOf, readAnchor, signAnchor } from '../../journal/anchor.ts';
import { defineCommand } from '../frame/command.ts';
import { readText } from '../frame/files.ts';
import { text } from '../frame/options.ts';

export const command = defineCommand({
  name: 'anchor',
  about:
    'Prints an anchor: JSON that fixes every entry so far, to be published or given to somebody else. It has the archive\'s identity, the number of entries, the hash of the last, and the Merkle tree head over all of them (RFC 9162, section 2.1; each leaf is an entry\'s hash). Later, verify --anchor tells whether the archive still begins with the very same entries. It says nothing of what they hold, but of how many there are. With --consistent-with it also has the proof that it extends an earlier anchor (section 2.1.4), which anybody with both can check with "verify-anchors", without the archive.',
  options: {
    consistentWith: text('FILE', 'an earlier anchor; the new one has the proof that it extends it'),
    sign: text(
      'KEY',
      'a file with a private Ed25519 key in PEM, or - for standard input; the anchor is signed with it',
    ),
  },
  uses: 'folder',
  formats: ['json'],
  examples: ['anchor', 'anchor --sign key.pem', 'anchor --consistent-with monday.json'],

  async run(call) {
    const { sign } = call.options;
    const key = sign === undefined ? undefined : readText(sign, call.terminal);
    const { consistentWith: file } = call.options;
    const earlier = file === undefined ? undefined : readAnchor(readText(file, call.terminal), file);
    const anchor = await anchorOf(call.journal(), new Date(), earlier);
    return { json: () => (key === undefined ? anchor : signAnchor(anchor, key)) };
  },
});
