import type { OutputOf } from '../../core/contract/index.ts';
import { Button, ErrorNote } from '../parts/index.ts';
import { toast } from '../state/toasts.ts';
import { useJob } from './use-job.ts';

/** Says that others of this machine can reach the book's files, with a press that ends it. */
export function OpenToOthers({ open }: { open: NonNullable<OutputOf<'book.info'>['openToOthers']> }) {
  const close = useJob('book.makePrivate');
  const mend = async () => {
    const done = await close.run({});
    if (done !== null && done.openToOthers === null) toast({ text: 'The book is yours alone on this machine.' });
  };
  return (
    <div className="caution open-to-others" role="note">
      <div>
        <p>
          <strong>Other users of this machine can reach the book.</strong> It holds gate codes and addresses.{' '}
          {open.canMend
            ? 'If that is not meant, make it private: only you may then open these files.'
            : 'Some of these files belong to another user of this machine; that user or an administrator can make them private.'}
        </p>
        <ul className="findings">
          {open.paths.map(({ path, mode, others }) => (
            <li key={path}>
              <code>{path}</code>{' '}
              <span className="quiet">
                others may {others} it (mode {mode})
              </span>
            </li>
          ))}
        </ul>
        {open.canMend ? (
          <Button isDisabled={close.running} onPress={() => void mend()}>
            Make it private
          </Button>
        ) : null}
        {close.failure === null ? null : <ErrorNote error={close.failure} />}
      </div>
    </div>
  );
}
