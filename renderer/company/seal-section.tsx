import { useState } from 'react';
import { Button, ErrorNote, Progress, sealDigits, Section, TextField } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { CheckResult } from './check-result.tsx';
import { useJob } from './use-job.ts';
import { say, sayError } from '../state/say.ts';

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
    setCountError(isCount ? null : say('company.wholeNumber'));
    if (isCount) void check.run({ seals: [{ count: number, seal: digits }] });
  };
  const atDigits = check.failure?.field === 'seals.0.seal';
  const atCount = check.failure?.field === 'seals.0.count';
  return (
    <Section title={say('company.seal')} note={say('company.sealWhy')}>
      {seal.error === null ? null : <ErrorNote error={seal.error} onRetry={seal.reload} />}
      {seal.data === undefined ? null : (
        <>
          <p className="book-path">
            <code className="seal-digits">{sealDigits(seal.data.seal)}</code>{' '}
            <Button
              onPress={() =>
                onCopy(`${seal.data!.date} ${seal.data!.count} ${seal.data!.seal}`, say('company.sealCopied'))
              }
            >
              {say('company.copySeal')}
            </Button>
          </p>
          <p className="quiet">{say('company.sealOver', { date: seal.data.date, count: seal.data.count })}</p>
        </>
      )}
      <div className="book-act seal-check">
        <TextField
          label={say('company.entriesCounted')}
          value={count}
          onChange={setCount}
          error={countError ?? (atCount && check.failure !== null ? sayError(check.failure) : null)}
        />
        <TextField
          label={say('company.sealEarlier')}
          value={digits}
          onChange={setDigits}
          description={say('company.first16')}
          error={atDigits && check.failure !== null ? sayError(check.failure) : null}
        />
        <Button isDisabled={isBusy || check.running || digits.trim() === ''} onPress={start}>
          {say('company.checkSeal')}
        </Button>
      </div>
      {check.running ? (
        <Progress progress={check.progress} label={say('company.checking')} onCancel={check.stop} />
      ) : null}
      {check.failure === null || atDigits || atCount ? null : <ErrorNote error={check.failure} />}
      {check.answer === null ? null : <CheckResult answer={check.answer} />}
    </Section>
  );
}
