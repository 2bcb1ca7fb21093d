import { useState } from 'react';
import type { LedgerEntry } from '../../../core/ledger/entry-contract.ts';
import { Button, Dialog, EmptyState, ErrorNote, formatDate, Section, wordsOf } from '../../parts/index.ts';
import { findingWords } from '../../parts/finding-words.ts';
import { useRequest } from '../../state/use-request.ts';
import { say, sayStored, sayTold } from '../../state/say.ts';
import { CorrectDialog } from './log/correct-dialog.tsx';
import type { OpenProperty } from './use-property-editor.ts';

/** What was done here, as it is now known to be true; what was corrected is one press away. */
export function LedgerSection({ data, onLog }: { data: OpenProperty; onLog: () => void }) {
  const [count, setCount] = useState(0);
  const [correcting, setCorrecting] = useState<LedgerEntry | null>(null);
  const [historyOf, setHistoryOf] = useState<LedgerEntry | null>(null);
  const longer = useRequest('ledger.list', count === 0 ? null : { propertyId: data.property.id, limit: count });
  const entries = count > 0 && longer.data !== undefined ? longer.data.entries : data.ledger;
  const total = longer.data?.total ?? data.ledgerTotal;
  return (
    <Section
      title={say('property.ledger')}
      note={total === 0 ? null : say('property.entries', { count: total })}
      actions={
        <Button look="quiet" onPress={onLog}>
          {say('property.logWork')}
        </Button>
      }
    >
      {entries.length === 0 ? (
        <EmptyState
          title={say('property.nothingLogged')}
          action={<Button onPress={onLog}>{say('property.logWork')}</Button>}
        >
          {say('property.nothingLoggedWhy')}
        </EmptyState>
      ) : (
        <table className="data ledger">
          <caption className="visually-hidden">{say('property.ledgerOfWork')}</caption>
          <thead>
            <tr>
              <th scope="col">{say('property.done')}</th>
              <th scope="col">{say('property.work')}</th>
              <th scope="col">{say('property.who')}</th>
              <th scope="col">
                <span className="visually-hidden">{say('office.actions')}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {entries.map((entry) => (
              <tr key={entry.id}>
                <td className="nowrap">{formatDate(entry.doneOn)}</td>
                <td>
                  <Summary text={sayTold(entry.summary)} />
                  {findingWords(entry) === null ? null : <span className="block quiet">{findingWords(entry)}</span>}
                  {entry.note === '' ? null : <span className="block quiet">{entry.note}</span>}
                  {entry.historyLength > 0 ? (
                    <Button look="quiet" className="inline-button" onPress={() => setHistoryOf(entry)}>
                      {say('property.correctedHistory')}
                    </Button>
                  ) : null}
                </td>
                <td className="nowrap">{entry.technicianName ?? say('stored.office')}</td>
                <td className="row-actions">
                  <Button
                    look="quiet"
                    aria-label={say('property.correctOf', { work: wordsOf(entry.kind), date: entry.doneOn })}
                    onPress={() => setCorrecting(entry)}
                  >
                    {say('property.correct')}
                  </Button>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {total > entries.length ? (
        <Button look="quiet" onPress={() => setCount(Math.min(500, entries.length + 50))}>
          {say('property.showMoreEntries', { count: total })}
        </Button>
      ) : null}
      {correcting === null ? null : (
        <CorrectDialog data={data} entry={correcting} onClose={() => setCorrecting(null)} />
      )}
      {historyOf === null ? null : <EntryHistory entry={historyOf} onClose={() => setHistoryOf(null)} />}
    </Section>
  );
}

/** What it was stands out from how it was. */
function Summary({ text }: { text: string }) {
  const colon = text.indexOf(':');
  if (colon === -1 || colon > 32) return <span>{text}</span>;
  return (
    <span>
      <strong>{text.slice(0, colon)}</strong>
      {text.slice(colon)}
    </span>
  );
}

function EntryHistory({ entry, onClose }: { entry: LedgerEntry; onClose: () => void }) {
  const { data, error, reload } = useRequest('ledger.list', { historyOfId: entry.id, includeVoid: true });
  return (
    <Dialog title={say('property.historyOf', { work: wordsOf(entry.kind) })} isOpen onClose={onClose}>
      {error === null ? null : <ErrorNote error={error} onRetry={reload} />}
      <ol className="entry-history">
        {data?.entries.map((version, index) => (
          <li key={version.id} className={version.supersededById === null ? 'standing' : 'corrected'}>
            <p>
              <strong>
                {index === 0
                  ? say('property.firstLogged')
                  : version.correction === 'void'
                    ? say('property.declaredVoid')
                    : say('property.corrected')}
              </strong>{' '}
              <span className="quiet">
                {formatDate(version.recordedAt.slice(0, 10))}, {version.technicianName ?? say('stored.office')}
              </span>
            </p>
            {version.correction === 'void' ? null : (
              <p>
                {version.supersededById === null ? sayTold(version.summary) : <s>{sayTold(version.summary)}</s>}{' '}
                <span className="quiet">{say('property.doneOn', { date: version.doneOn })}</span>
              </p>
            )}
            {version.correctionReason === '' ? null : (
              <p className="quiet">{say('property.because', { reason: sayStored(version.correctionReason) })}</p>
            )}
          </li>
        ))}
      </ol>
    </Dialog>
  );
}
