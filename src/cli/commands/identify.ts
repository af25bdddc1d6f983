import { IDENTIFICATION_STATES, identificationSchema } from '../../model/dossier.ts';
import { lastOfId, specimenOfId } from '../../model/ids.ts';
import { resolved } from '../../state/resolve.ts';
import { candidatesIn } from '../arguments/change.ts';
import { checkedRecord } from '../arguments/record.ts';
import { VISIBILITY_OPTIONS, visibilityFrom } from '../arguments/visibility.ts';
import { defineCommand } from '../frame/command.ts';
import { choice, list } from '../frame/options.ts';

export const command = defineCommand({
  name: 'identify',
  about:
    'Records what a component is identified as: rival parts (maker/number) or kinds (a term of the taxonomy), each with its probability; what they leave to 1 stays unknown. Name the observations that support it (--basis). It is for a component that nobody has identified yet, and confirms or replaces what an import proposed; to replace an identification use "correct identify", which names every sentence that the change touches. It is as public as its specimen unless --visibility or --embargo-until says less. "candidates" gives the odds by the evidence.',
  arguments: [
    { name: 'COMPONENT', help: 'id of the component, device/specimen/local' },
    { name: 'CANDIDATE', help: 'PART=PROBABILITY or TERM=PROBABILITY', many: true },
  ],
  options: {
    basis: list('ID,...', 'local ids of the observations that support it'),
    cites: list('ID,...', 'sentences (publication/claim) or sources that support it'),
    state: choice('STATE', IDENTIFICATION_STATES, { help: 'how far it is settled', default: 'proposed' }),
    ...VISIBILITY_OPTIONS,
  },
  uses: 'change',
  formats: ['text', 'json'],
  examples: [
    'identify dunmarrow-leadline-1/a/U10 quistle/QWR4T10=0.7 quistle/QWR4T16=0.2 --basis o3 --reason "lid and place"',
    'identify dunmarrow-leadline-1/a/U10 Regulator=0.8 --reason "an inductor beside it"',
  ],

  async run(call) {
    const [id, ...written] = call.arguments;
    const { basis, cites, state } = call.options;
    const by = call.authorship();
    const candidates = candidatesIn(written);
    const visible = visibilityFrom(call.options);
    const archive = await call.changing();
    resolved(archive.state('desk'), id, ['Component']);
    const identification = checkedRecord(identificationSchema, 'identification', {
      component: lastOfId(id),
      candidates,
      state,
      ...(basis ? { basis } : {}),
      ...(cites ? { cites } : {}),
      ...visible,
    });
    const entry = await archive.setIdentification(specimenOfId(id), identification, by, 'desk', {
      mayReplace: false,
    });
    return {
      json: () => entry,
      messages: [
        `${id} identified as ${written.join(', ')}, journaled as entry ${entry.sequence}`,
        ...(basis ? [] : ['caution: no observation supports it yet; --basis names them']),
      ],
    };
  },
});
