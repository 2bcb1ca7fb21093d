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
import { countedWords, countWords } from '../parts/count-words.ts';
import { invalidate } from '../state/answers.ts';
import { useRequest } from '../state/use-request.ts';
import { toast } from '../state/toasts.ts';
import { BackupAge, BackupsSection } from './backups-section.tsx';
import { CheckResult } from './check-result.tsx';
import { OpenToOthers } from './open-to-others.tsx';
import { SealSection } from './seal-section.tsx';
import { useJob } from './use-job.ts';

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
      <h1>The book</h1>
      <Section title="Where it is" note="One file holds everything. It stays on this machine.">
        {info.error === null ? null : <ErrorNote error={info.error} onRetry={info.reload} />}
        {book === undefined ? null : (
          <>
            <p className="book-path">
              <code>{book.path}</code>{' '}
              <Button onPress={() => void copyText(book.path, 'Path copied.')}>Copy path</Button>
            </p>
            {book.openToOthers === null ? null : <OpenToOthers open={book.openToOthers} />}
            <dl className="book-counts">
              <div>
                <dt>size</dt>
                <dd>{formatBytes(book.bytes)}</dd>
              </div>
              {Object.entries(book.counts).map(([name, count]) => (
                <div key={name}>
                  <dt>{countedWords(name, count)}</dt>
                  <dd>{formatCount(count)}</dd>
                </div>
              ))}
              <div>
                <dt>layout version</dt>
                <dd>{book.schemaVersion}</dd>
              </div>
              <div>
                <dt>today</dt>
                <dd className="words">{formatLongDay(book.today)}</dd>
              </div>
            </dl>
          </>
        )}
      </Section>
      <Section title="Back up" note="Safe while people work. Keep one copy on another disk or machine.">
        <BackupAge />
        <div className="book-act">
          <PathField
            choice="backup-to"
            label="To"
            value={backupTo}
            onChange={setBackupTo}
            placeholder="the backups folder beside the book"
            description="A path ending in .valvebook, or empty."
            error={backup.failure?.field === 'toPath' ? backup.failure.message : null}
          />
          <Button
            look="primary"
            isDisabled={busy}
            onPress={() =>
              void backup.run(where(backupTo)).then((done) => {
                if (done !== null) {
                  setRestoreFrom(done.path);
                  invalidate(['book']);
                  toast({ text: 'The book is backed up.' });
                }
              })
            }
          >
            Back up now
          </Button>
        </div>
        {backup.running ? <Progress progress={backup.progress} label="Backing up" onCancel={backup.stop} /> : null}
        {backup.failure === null || backup.failure.field === 'toPath' ? null : <ErrorNote error={backup.failure} />}
        {backup.answer === null ? null : (
          <p className="job-answer" role="status">
            Backed up to <code>{backup.answer.path}</code>, {formatBytes(backup.answer.bytes)}.
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
      <Section
        title="Check"
        note="Looks at the file, at every reference, and whether what the ledger decides agrees with it. Changes nothing."
      >
        <Button isDisabled={busy} onPress={() => void check.run({})}>
          Check the book
        </Button>
        {check.running ? <Progress progress={check.progress} label="Checking" onCancel={check.stop} /> : null}
        {check.failure === null ? null : <ErrorNote error={check.failure} />}
        {check.answer === null ? null : <CheckResult answer={check.answer} />}
      </Section>
      <SealSection isBusy={busy} onCopy={(text, done) => void copyText(text, done)} />
      <Section title="Export" note="Every table as CSV in one zip, to be read by any spreadsheet.">
        <div className="book-act">
          <PathField
            choice="export-to"
            label="To"
            value={exportTo}
            onChange={setExportTo}
            placeholder="beside the book"
            description="A path ending in .zip, or empty."
            error={exported.failure?.field === 'toPath' ? exported.failure.message : null}
          />
          <Button isDisabled={busy} onPress={() => void exported.run(where(exportTo))}>
            Export everything
          </Button>
        </div>
        {exported.running ? <Progress progress={exported.progress} label="Exporting" onCancel={exported.stop} /> : null}
        {exported.failure === null || exported.failure.field === 'toPath' ? null : (
          <ErrorNote error={exported.failure} />
        )}
        {exported.answer === null ? null : (
          <div className="job-answer" role="status">
            <p>
              Exported to <code>{exported.answer.path}</code>, {formatBytes(exported.answer.bytes)}.
            </p>
            <details>
              <summary>{exported.answer.tables.length} tables</summary>
              <ul className="export-tables">
                {exported.answer.tables.map(({ name, rows }) => (
                  <li key={name}>
                    {countWords(name)}: {formatCount(rows)}
                  </li>
                ))}
              </ul>
            </details>
          </div>
        )}
      </Section>
      <Section title="Restore" note="Puts a backup in the place of this book.">
        <div className="book-act">
          <PathField
            choice="restore-from"
            label="From"
            value={restoreFrom}
            onChange={setRestoreFrom}
            placeholder="path of a backup"
            error={atRestore ? (restore.failure?.message ?? null) : null}
          />
          <Button look="danger" isDisabled={busy || restoreFrom.trim() === ''} onPress={() => setAsking(true)}>
            Restore…
          </Button>
        </div>
        {restore.running ? <Progress progress={restore.progress} label="Restoring" onCancel={restore.stop} /> : null}
        {restore.failure === null || atRestore ? null : <ErrorNote error={restore.failure} />}
        {restore.answer === null ? null : (
          <p className="job-answer" role="status">
            Restored from <code>{restore.answer.restoredFrom}</code>. The book that was here is kept as{' '}
            <code>{restore.answer.previousSavedAs}</code>.
          </p>
        )}
      </Section>
      <Dialog
        title="Restore this backup?"
        isOpen={asking}
        onClose={() => setAsking(false)}
        size="small"
        footer={
          <>
            <Button onPress={() => setAsking(false)}>Keep the book as it is</Button>
            <Button
              look="danger"
              onPress={() => {
                setAsking(false);
                void restore.run({ fromPath: restoreFrom.trim() });
              }}
            >
              Restore backup
            </Button>
          </>
        }
      >
        <p>
          Everything entered since that backup leaves the open book. The book as it is now is backed up first, and its
          place is told to you.
        </p>
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
    toast({ text: 'The clipboard did not take it. Select the text and copy it by hand.', tone: 'error' });
  }
}
