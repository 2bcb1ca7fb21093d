import { WORD_AFTER_DAYS } from '../../../core/contract/backup-words.ts';
import { ButtonLink } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { say, sayTold } from '../../state/say.ts';

/** Said on the home page once changes have been in no good backup for three days, with the reason where there is one. */
export function BackupWord() {
  const state = useRequest('book.backupState', {}).data;
  if (state === undefined || state.daysWithout < WORD_AFTER_DAYS) return null;
  const why = !state.automatic
    ? say('company.backupsOff')
    : state.failure === null
      ? say('office.backupByItself')
      : sayTold(state.failure);
  return (
    <div className="caution backup-word" role="note">
      <p>
        <strong>{say('office.daysWithoutBackup', { count: state.daysWithout })}</strong> {why}
      </p>
      <ButtonLink href="#/company/book">{say('office.seeToIt')}</ButtonLink>
    </div>
  );
}
