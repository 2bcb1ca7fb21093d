import type { OutputOf } from '../../core/contract/index.ts';
import { WORD_AFTER_DAYS } from '../../core/contract/backup-words.ts';
import { Button, ErrorNote, formatBytes, formatMoment, Section } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { BackupChoices } from './backup-choices.tsx';
import './backups.css';
import { say, sayTold } from '../state/say.ts';

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
      {state.failure === null ? null : (
        <p className="bad">{say('company.lastTryFailed', { why: sayTold(state.failure) })}</p>
      )}
      {state.secondFailure === null ? null : <p className="bad">{sayTold(state.secondFailure)}</p>}
    </div>
  );
}

function ageWords({ lastGoodAt, daysWithout }: State): string {
  if (lastGoodAt === null) return say('company.noGoodBackup');
  return say('company.lastGood', { moment: formatMoment(lastGoodAt), daysWithout });
}

function comesWords({ automatic, runsHere, lastChangeAt }: State): string {
  if (!automatic) return say('company.backupsOff');
  if (!runsHere) return say('company.noneHere');
  return lastChangeAt === null ? say('company.firstComes') : say('company.oneADay');
}

/** Every backup of the book, with a way back to each, and what is chosen about them. */
export function BackupsSection({ isBusy, onRestore }: { isBusy: boolean; onRestore: (path: string) => void }) {
  const { data, error, reload } = useRequest('book.backups', {});
  return (
    <Section title={say('company.backups')} note={say('company.backupsWhy')}>
      {error === null ? null : <ErrorNote error={error} onRetry={reload} />}
      {data?.secondFailure ? <p className="bad">{sayTold(data.secondFailure)}</p> : null}
      {data === undefined ? (
        <p className="waiting" role="status">
          {say('company.lookingBackups')}
        </p>
      ) : data.backups.length === 0 ? (
        <p className="quiet">{say('company.noneYet')}</p>
      ) : (
        <div className="backup-list">
          <table className="data">
            <caption className="visually-hidden">{say('company.newestFirst')}</caption>
            <thead>
              <tr>
                <th scope="col">{say('company.made')}</th>
                <th scope="col">{say('company.why')}</th>
                <th scope="col">{say('company.where')}</th>
                <th scope="col" className="figure">
                  {say('company.sizeHead')}
                </th>
                <th scope="col">
                  <span className="visually-hidden">{say('company.actions')}</span>
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
                    {say(`company.backupKind.${backup.kind}`)}
                    {backup.verified ? null : <span className="quiet">{say('company.keptAsItWas')}</span>}
                  </td>
                  <td>{backup.where === 'beside' ? say('company.besideBook') : say('company.secondPlaceSmall')}</td>
                  <td className="figure">{formatBytes(backup.bytes)}</td>
                  <td>
                    <Button
                      isDisabled={isBusy}
                      aria-label={say('company.restoreOf', { moment: formatMoment(backup.at) })}
                      onPress={() => onRestore(backup.path)}
                    >
                      {say('company.restoreMore')}
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
