import { useState } from 'react';
import {
  Button,
  ErrorNote,
  formatCount,
  formatDate,
  Progress,
  sealDigits,
  Section,
  TextField,
} from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { CheckResult } from './check-result.tsx';
import { useJob } from './use-job.ts';

/** The book's seal as it is now, and whether one that was noted earlier still holds. */
export function SealSection({ isBusy, onCopy }: { isBusy: boolean; onCopy: (text: string, what: string) => void }) {
  const seal = useRequest('book.seal', {});
  const check = useJob('book.check');
  const [count, setCount] = useState('');
  const [digits, setDigits] = useState('');
  const [countError, setCountError] = useState<string | null>(null);
  const start = () => {
    const number = Number(count.replaceAll(/[\s,.'’]/g, ''));
    const isCount = count.trim() !== '' && Number.isSafeInteger(number) && number >= 0;
    setCountError(isCount ? null : 'must be the whole number that stands beside the seal');
    if (isCount) void check.run({ seals: [{ count: number, seal: digits }] });
  };
  const atDigits = check.failure?.field === 'seals.0.seal';
  const atCount = check.failure?.field === 'seals.0.count';
  return (
    <Section
      title="Seal"
      note="Keep it outside this machine (on paper, in a mail). If anybody changes, takes out or slips in an entry that it counts, the book no longer gives this seal."
    >
      {seal.error === null ? null : <ErrorNote error={seal.error} onRetry={seal.reload} />}
      {seal.data === undefined ? null : (
        <>
          <p className="book-path">
            <code className="seal-digits">{sealDigits(seal.data.seal)}</code>{' '}
            <Button onPress={() => onCopy(`${seal.data!.date} ${seal.data!.count} ${seal.data!.seal}`, 'Seal copied.')}>
              Copy seal
            </Button>
          </p>
          <p className="quiet">
            On {formatDate(seal.data.date)}, over {formatCount(seal.data.count)} ledger entries and program revisions.
            Every backup, export and printed sheet carries it.
          </p>
        </>
      )}
      <div className="book-act seal-check">
        <TextField
          label="Entries it counts"
          value={count}
          onChange={setCount}
          error={countError ?? (atCount ? (check.failure?.message ?? null) : null)}
        />
        <TextField
          label="A seal noted earlier"
          value={digits}
          onChange={setDigits}
          description="Its first 16 digits are enough."
          error={atDigits ? (check.failure?.message ?? null) : null}
        />
        <Button isDisabled={isBusy || check.running || digits.trim() === ''} onPress={start}>
          Check this seal
        </Button>
      </div>
      {check.running ? <Progress progress={check.progress} label="Checking" onCancel={check.stop} /> : null}
      {check.failure === null || atDigits || atCount ? null : <ErrorNote error={check.failure} />}
      {check.answer === null ? null : <CheckResult answer={check.answer} />}
    </Section>
  );
}
