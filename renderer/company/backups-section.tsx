import type { OutputOf } from '../../core/contract/index.ts';
import { BACKUP_KIND_WORDS, WORD_AFTER_DAYS } from '../../core/contract/backup-words.ts';
import { Button, ErrorNote, formatBytes, formatMoment, Section } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { BackupChoices } from './backup-choices.tsx';
import './backups.css';

type State = OutputOf<'book.backupState'>;

/** How old the last good backup is, and whether backups come by themselves. */
export function BackupAge() {
  const { data: state, error, reload } = useRequest('book.backupState', {});
  if (error !== null) return <ErrorNote error={error} onRetry={reload} />;
  if (state === undefined) return null;
  const late = state.daysWithout >= WORD_AFTER_DAYS || state.failure !== null;
  return (
    <div className={`backup-age${late ? ' late' : ''}`} role="status">
      <p>
        <strong>{ageWords(state)}</strong> {comesWords(state)}
      </p>
      {state.failure === null ? null : <p className="bad">The last try failed. {state.failure}</p>}
      {state.secondFailure === null ? null : <p className="bad">{state.secondFailure}</p>}
    </div>
  );
}

function ageWords({ lastGoodAt, daysWithout }: State): string {
  if (lastGoodAt === null) return 'There is no good backup beside the book yet.';
  const when = `The last good backup is from ${formatMoment(lastGoodAt)}`;
  if (daysWithout === 0) return `${when}.`;
  return `${when}; ${daysWithout === 1 ? 'a day' : `${daysWithout} days`} of changes are in no backup.`;
}

function comesWords({ automatic, runsHere, lastChangeAt }: State): string {
  if (!automatic) return 'Backups by themselves are switched off.';
  if (!runsHere) return 'Valvebook makes none by itself here; its window does.';
  return lastChangeAt === null
    ? 'The first comes by itself once something is entered.'
    : 'One comes by itself each day on which something was entered.';
}

/** Every backup of the book, with a way back to each, and what is chosen about them. */
export function BackupsSection({ isBusy, onRestore }: { isBusy: boolean; onRestore: (path: string) => void }) {
  const { data, error, reload } = useRequest('book.backups', {});
  return (
    <Section
      title="Backups"
      note="Made by itself once a day while Valvebook is in use, and before long imports, restores and upgrades."
    >
      {error === null ? null : <ErrorNote error={error} onRetry={reload} />}
      {data?.secondFailure ? <p className="bad">{data.secondFailure}</p> : null}
      {data === undefined ? (
        <p className="waiting" role="status">
          Looking for backups…
        </p>
      ) : data.backups.length === 0 ? (
        <p className="quiet">There is none yet.</p>
      ) : (
        <div className="backup-list">
          <table className="data">
            <caption className="visually-hidden">Backups, newest first</caption>
            <thead>
              <tr>
                <th scope="col">Made</th>
                <th scope="col">Why</th>
                <th scope="col">Where</th>
                <th scope="col" className="figure">
                  Size
                </th>
                <th scope="col">
                  <span className="visually-hidden">Actions</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {data.backups.map((backup) => (
                <tr key={backup.path}>
                  <th scope="row" title={backup.path}>
                    {formatMoment(backup.at)}
                  </th>
                  <td>
                    {BACKUP_KIND_WORDS[backup.kind]}
                    {backup.verified ? null : <span className="quiet"> (not looked at)</span>}
                  </td>
                  <td>{backup.where === 'beside' ? 'beside the book' : 'second place'}</td>
                  <td className="figure">{formatBytes(backup.bytes)}</td>
                  <td>
                    <Button
                      isDisabled={isBusy}
                      aria-label={`Restore the backup of ${formatMoment(backup.at)}`}
                      onPress={() => onRestore(backup.path)}
                    >
                      Restore…
                    </Button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      <BackupChoices />
    </Section>
  );
}
