import type { InputOf } from '../../core/contract/index.ts';
import type { Failure } from '../../core/errors.ts';
import { toast } from '../state/toasts.ts';
import { newId, write } from '../state/write.ts';
import { say, sayError } from '../state/say.ts';

type People = Omit<InputOf<'people.save'>, 'writeId'>;

/** Saves one technician, truck or route; with what it was before, the save can be taken back. */
export async function savePeople(change: People, text: string, before: People | null): Promise<Failure | null> {
  const reply = await write('people.save', { writeId: newId(), ...change }, { quiet: true });
  if (!reply.ok) return reply.error;
  toast(
    before === null
      ? { text }
      : {
          text,
          undo: () =>
            void savePeople(before, say('company.putBackAsWas'), null).then((failure) => {
              if (failure !== null) toast({ text: sayError(failure), tone: 'error' });
            }),
        },
  );
  return null;
}
