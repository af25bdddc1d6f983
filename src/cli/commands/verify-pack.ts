import { CasebackError } from '../../model/problems.ts';
import type { Standing } from '../../pack/compare.ts';
import type { Verification, Verified } from '../../pack/verify.ts';
import { verifyPackAt } from '../../questions/packs.ts';
import { CitedStates, stateCited } from '../../service/cite/cited-states.ts';
import { plainText } from '../../text/plain-text.ts';
import { counted } from '../answers/figures.ts';
import { defineCommand } from '../frame/command.ts';
import { EXIT } from '../frame/exit.ts';

export const command = defineCommand({
  name: 'verify-pack',
  about:
    'A pack that "pack" wrote, a folder or ZIP: whether its files are as they were made (those that are damaged, missing or not of it are named), then each sentence and figure calculated again from the archive: unchanged, which says nothing of whether its wording fits ("audit" does), or changed, with what it was, what it is, and the corrections that changed it; and whether it was so in the state that the pack names. It is asked as whoever the pack was made for sees the archive. What is hidden cannot be checked, like what never was. Exit code 1 when a file is not whole or anything changed or cannot be checked.',
  arguments: [{ name: 'PACK', help: 'the folder, or the ZIP' }],
  uses: 'view',
  formats: ['text', 'json'],
  examples: ['verify-pack altitude-pack', 'verify-pack pulse.zip --format json'],

  async run(call) {
    const [place] = call.arguments;
    const isAsked = call.given.has('audience');
    const archive = await call.archive();
    const secret = await archive.secret();
    const found = await verifyPackAt(archive, place, {
      audience: isAsked ? call.audience : undefined,
      // Whoever sits here has the archive; readers' eyes are asked for what goes out.
      tellsEntries: !isAsked || call.audience === 'desk',
      stateNamed: async (name, audience) => {
        if (!secret) return undefined;
        try {
          return await stateCited(archive, new CitedStates(secret).read(name), audience);
        } catch (error) {
          // Of another archive, or from before there was anything to see.
          if (error instanceof CasebackError && error.code === 'BAD_INPUT') return undefined;
          throw error;
        }
      },
    });
    return {
      text: () => plainText(verificationText(found)),
      json: () => found,
      exit: isStillSo(found) ? EXIT.fine : EXIT.problems,
    };
  },
});

/** Whether every file is whole and everything is still so. */
function isStillSo({ faults, things, publication }: Verification): boolean {
  return (
    publication !== null && faults.length === 0 && things.every(({ standing }) => standing === 'still-so')
  );
}

const STANDING: Readonly<Record<Standing, string>> = {
  'still-so': 'unchanged',
  'no-longer-so': 'changed',
  'cannot-be-checked': 'cannot be checked: the archive shows no such thing',
};

function verificationText(found: Verification): string {
  const { publication, state, faults, isAsWritten, things, added } = found;
  const files = faults.map(({ path, fault, message }) => `  ${fault}: ${path}: ${message}\n`);
  const head = [
    publication ? `${publication.title} (${publication.id}), ` : '',
    state
      ? `made ${state.instant.slice(0, 16).replace('T', ' ')} UTC from what ${state.audience === 'reader' ? 'readers see' : 'the desk sees'}\n`
      : '',
    faults.length === 0 ? 'Files: whole\n' : `Files: ${counted(faults.length, 'fault')}\n`,
    ...files,
    isAsWritten === false
      ? 'The ZIP is not byte for byte as Caseback writes it; another program packed it, or it was changed between its files.\n'
      : '',
  ].join('');
  if (!publication) return `${head}Nothing could be calculated again.\n`;
  const count = (standing: Standing) => things.filter((one) => one.standing === standing).length;
  const told = things.map(thingText).join('');
  const news = added
    .map((id) => `The publication has a sentence now that the pack has not: ${id}\n`)
    .join('');
  return `${head}\n${told}\n${news}${counted(count('still-so'), 'sentence or figure', 'sentences and figures')} unchanged, ${count('no-longer-so')} changed, ${count('cannot-be-checked')} not checked.\n`;
}

function thingText({ id, says, standing, changes, because, stoodThen }: Verified): string {
  const past =
    stoodThen === null
      ? '; how the archive stood then cannot be told'
      : stoodThen === 'still-so'
        ? ''
        : stoodThen === 'no-longer-so'
          ? '; in the state that the pack names the archive gave something else already'
          : '; in the state that the pack names it cannot be checked';
  return [
    `${id}: ${STANDING[standing]}${past}\n  “${says}”\n`,
    ...changes.map(({ what, was, is }) => `  ${what}: was ${was}; is ${is}\n`),
    ...because.map((reason) => `  because of ${reason}\n`),
  ].join('');
}
