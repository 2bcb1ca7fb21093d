import type { OutputOf } from '../../core/contract/index.ts';
import { Button, ErrorNote } from '../parts/index.ts';
import { toast } from '../state/toasts.ts';
import { useJob } from './use-job.ts';
import { say } from '../state/say.ts';

/** Says that others of this machine can reach the book's files, with a press that ends it. */
export function OpenToOthers({ open }: { open: NonNullable<OutputOf<'book.info'>['openToOthers']> }) {
  const close = useJob('book.makePrivate');
  const mend = async () => {
    const done = await close.run({});
    if (done !== null && done.openToOthers === null) toast({ text: say('company.yoursAlone') });
  };
  return (
    <div className="caution open-to-others" role="note">
      <div>
        <p>
          <strong>{say('company.othersReach')}</strong> {say('company.holdsCodes')}{' '}
          {open.canMend ? say('company.ifNotMeant') : say('company.someBelong')}
        </p>
        <ul className="findings">
          {open.paths.map(({ path, mode, others }) => (
            <li key={path}>
              <code>{path}</code> <span className="quiet">{say('company.othersMay', { others, mode })}</span>
            </li>
          ))}
        </ul>
        {open.canMend ? (
          <Button isDisabled={close.running} onPress={() => void mend()}>
            {say('company.makePrivate')}
          </Button>
        ) : null}
        {close.failure === null ? null : <ErrorNote error={close.failure} />}
      </div>
    </div>
  );
}
