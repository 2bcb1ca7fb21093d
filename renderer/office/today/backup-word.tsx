import { WORD_AFTER_DAYS } from '../../../core/contract/backup-words.ts';
import { ButtonLink } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';

/** Said on the home page once changes have been in no good backup for three days, with the reason where there is one. */
export function BackupWord() {
  const state = useRequest('book.backupState', {}).data;
  if (state === undefined || state.daysWithout < WORD_AFTER_DAYS) return null;
  const why = !state.automatic
    ? 'Backups by themselves are switched off.'
    : (state.failure ?? 'Valvebook makes one by itself while it is in use.');
  return (
    <div className="caution backup-word" role="note">
      <p>
        <strong>{state.daysWithout} days of changes are in no backup.</strong> {why}
      </p>
      <ButtonLink href="#/company/book">See to it</ButtonLink>
    </div>
  );
}
