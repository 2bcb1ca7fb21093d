import type { Restriction, ThumbRule } from '../../core/settings/contract.ts';
import type { Failure } from '../../core/errors.ts';
import { toast } from '../state/toasts.ts';
import { newId, write } from '../state/write.ts';
import { say, sayError } from '../state/say.ts';

const tell = (failure: Failure | null) => {
  if (failure !== null) toast({ text: sayError(failure), tone: 'error' });
};

/** Saves a restriction; with what it was before, the save can be taken back. */
export async function saveRestriction(
  restriction: Restriction,
  text: string,
  before: Restriction | null,
): Promise<Failure | null> {
  const reply = await write('rules.save', { writeId: newId(), restrictions: [restriction] }, { quiet: true });
  if (!reply.ok) return reply.error;
  toast(
    before === null
      ? { text }
      : {
          text,
          undo: () =>
            void saveRestriction(before, say('company.asBeforeNamed', { name: before.name }), null).then(tell),
        },
  );
  return null;
}

/** Saves the whole table of thumb rules. */
export async function saveThumbRules(
  thumbRules: ThumbRule[],
  text: string,
  before: ThumbRule[] | null,
): Promise<Failure | null> {
  const reply = await write('rules.save', { writeId: newId(), thumbRules }, { quiet: true });
  if (!reply.ok) return reply.error;
  toast(
    before === null
      ? { text }
      : { text, undo: () => void saveThumbRules(before, say('company.thumbAsBefore'), null).then(tell) },
  );
  return null;
}
