import { useState } from 'react';
import {
  Button,
  Dialog,
  ErrorNote,
  formatBytes,
  formatCount,
  formatLongDay,
  PathField,
  Progress,
  Section,
} from '../parts/index.ts';
import { countedWords } from '../parts/count-words.ts';
import { Said } from '../parts/said.tsx';
import { invalidate } from '../state/answers.ts';
import { useRequest } from '../state/use-request.ts';
import { toast } from '../state/toasts.ts';
import { BackupAge, BackupsSection } from './backups-section.tsx';
import { CheckResult } from './check-result.tsx';
import { OpenToOthers } from './open-to-others.tsx';
import { SealSection } from './seal-section.tsx';
import { useJob } from './use-job.ts';
import { currentReader, say, sayError } from '../state/say.ts';

/** The book itself: where it is, whether it is sound, copies of it, and the way out of it. */
export function BookPage() {
  const info = useRequest('book.info', {});
  const check = useJob('book.check');
  const backup = useJob('book.backup');
  const exported = useJob('export.book');
  const restore = useJob('book.restore');
  const [backupTo, setBackupTo] = useState('');
  const [exportTo, setExportTo] = useState('');
  const [restoreFrom, setRestoreFrom] = useState('');
  const [asking, setAsking] = useState(false);
  const busy = check.running || backup.running || exported.running || restore.running;
  const where = (text: string) => (text.trim() === '' ? {} : { toPath: text.trim() });
  const book = info.data;
  // A path that leads to no book at all is refused by whoever opens books, under that name.
  const atRestore = restore.failure?.field === 'fromPath' || restore.failure?.field === 'book';
  return (
    <>
      <h1>{say('company.book')}</h1>
      <Section title={say('company.whereItIs')} note={say('company.oneFile')}>
        {info.error === null ? null : <ErrorNote error={info.error} onRetry={info.reload} />}
        {book === undefined ? null : (
          <>
            <p className="book-path">
              <code>{book.path}</code>{' '}
              <Button onPress={() => void copyText(book.path, say('company.pathCopied'))}>
                {say('company.copyPath')}
              </Button>
            </p>
            {book.openToOthers === null ? null : <OpenToOthers open={book.openToOthers} />}
            <dl className="book-counts">
              <div>
                <dt>{say('company.size')}</dt>
                <dd>{formatBytes(book.bytes)}</dd>
              </div>
              {Object.entries(book.counts).map(([name, count]) => (
                <div key={name}>
                  <dt>{countedWords(name, count)}</dt>
                  <dd>{formatCount(count)}</dd>
                </div>
              ))}
              <div>
                <dt>{say('company.layoutVersion')}</dt>
                <dd>{book.schemaVersion}</dd>
              </div>
              <div>
                <dt>{say('company.today')}</dt>
                <dd className="words">{formatLongDay(book.today)}</dd>
              </div>
            </dl>
          </>
        )}
      </Section>
      <Section title={say('company.backUp')} note={say('company.backUpWhy')}>
        <BackupAge />
        <div className="book-act">
          <PathField
            choice="backup-to"
            label={say('company.toPath')}
            value={backupTo}
            onChange={setBackupTo}
            placeholder={say('company.besideFolder')}
            description={say('company.endingBook')}
            error={backup.failure?.field === 'toPath' ? sayError(backup.failure) : null}
          />
          <Button
            look="primary"
            isDisabled={busy}
            onPress={() =>
              void backup.run(where(backupTo)).then((done) => {
                if (done !== null) {
                  setRestoreFrom(done.path);
                  invalidate(['book']);
                  toast({ text: say('company.backedUpToast') });
                }
              })
            }
          >
            {say('company.backUpNow')}
          </Button>
        </div>
        {backup.running ? (
          <Progress progress={backup.progress} label={say('company.backingUp')} onCancel={backup.stop} />
        ) : null}
        {backup.failure === null || backup.failure.field === 'toPath' ? null : <ErrorNote error={backup.failure} />}
        {backup.answer === null ? null : (
          <p className="job-answer" role="status">
            <Said
              text={say('company.backedUpTo')}
              parts={{ path: <code>{backup.answer.path}</code>, size: formatBytes(backup.answer.bytes) }}
            />
          </p>
        )}
      </Section>
      <BackupsSection
        isBusy={busy}
        onRestore={(path) => {
          setRestoreFrom(path);
          setAsking(true);
        }}
      />
      <Section title={say('company.check')} note={say('company.checkWhy')}>
        <Button isDisabled={busy} onPress={() => void check.run({})}>
          {say('company.checkBook')}
        </Button>
        {check.running ? (
          <Progress progress={check.progress} label={say('company.checking')} onCancel={check.stop} />
        ) : null}
        {check.failure === null ? null : <ErrorNote error={check.failure} />}
        {check.answer === null ? null : <CheckResult answer={check.answer} />}
      </Section>
      <SealSection isBusy={busy} onCopy={(text, done) => void copyText(text, done)} />
      <Section title={say('company.export')} note={say('company.exportWhy')}>
        <div className="book-act">
          <PathField
            choice="export-to"
            label={say('company.toPath')}
            value={exportTo}
            onChange={setExportTo}
            placeholder={say('company.besideBook')}
            description={say('company.endingZip')}
            error={exported.failure?.field === 'toPath' ? sayError(exported.failure) : null}
          />
          <Button
            isDisabled={busy}
            onPress={() => void exported.run({ ...where(exportTo), language: currentReader().language })}
          >
            {say('company.exportAll')}
          </Button>
        </div>
        {exported.running ? (
          <Progress progress={exported.progress} label={say('company.exporting')} onCancel={exported.stop} />
        ) : null}
        {exported.failure === null || exported.failure.field === 'toPath' ? null : (
          <ErrorNote error={exported.failure} />
        )}
        {exported.answer === null ? null : (
          <div className="job-answer" role="status">
            <p>
              <Said
                text={say('company.exportedTo')}
                parts={{ path: <code>{exported.answer.path}</code>, size: formatBytes(exported.answer.bytes) }}
              />
            </p>
            <details>
              <summary>{say('company.tables', { count: exported.answer.tables.length })}</summary>
              <ul className="export-tables">
                {exported.answer.tables.map(({ name, rows }) => (
                  <li key={name}>
                    {countedWords(name, rows)}: {formatCount(rows)}
                  </li>
                ))}
              </ul>
            </details>
          </div>
        )}
      </Section>
      <Section title={say('company.restore')} note={say('company.restoreWhy')}>
        <div className="book-act">
          <PathField
            choice="restore-from"
            label={say('company.fromPath')}
            value={restoreFrom}
            onChange={setRestoreFrom}
            placeholder={say('company.pathOfBackup')}
            error={atRestore && restore.failure !== null ? sayError(restore.failure) : null}
          />
          <Button look="danger" isDisabled={busy || restoreFrom.trim() === ''} onPress={() => setAsking(true)}>
            {say('company.restoreMore')}
          </Button>
        </div>
        {restore.running ? (
          <Progress progress={restore.progress} label={say('company.restoring')} onCancel={restore.stop} />
        ) : null}
        {restore.failure === null || atRestore ? null : <ErrorNote error={restore.failure} />}
        {restore.answer === null ? null : (
          <p className="job-answer" role="status">
            <Said
              text={say('company.restoredFrom')}
              parts={{
                from: <code>{restore.answer.restoredFrom}</code>,
                kept: <code>{restore.answer.previousSavedAs}</code>,
              }}
            />{' '}
            {restore.answer.keptBackupChoices ? say('company.keptBackupChoices') : null}
          </p>
        )}
      </Section>
      <Dialog
        title={say('company.restoreThis')}
        isOpen={asking}
        onClose={() => setAsking(false)}
        size="small"
        footer={
          <>
            <Button onPress={() => setAsking(false)}>{say('company.keepBook')}</Button>
            <Button
              look="danger"
              onPress={() => {
                setAsking(false);
                void restore.run({ fromPath: restoreFrom.trim() });
              }}
            >
              {say('company.restoreBackup')}
            </Button>
          </>
        }
      >
        <p>{say('company.restoreMeans')}</p>
        <p className="book-path">
          <code>{restoreFrom.trim()}</code>
        </p>
      </Dialog>
    </>
  );
}

async function copyText(text: string, done: string): Promise<void> {
  try {
    await navigator.clipboard.writeText(text);
    toast({ text: done });
  } catch {
    toast({ text: say('company.clipboard'), tone: 'error' });
  }
}
