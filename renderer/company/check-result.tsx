import type { OutputOf } from '../../core/contract/index.ts';
import { formatCount, formatDate, plural } from '../parts/index.ts';

const SHOWN = 200;

/** What a check of the book found, check by check. */
export function CheckResult({ answer }: { answer: OutputOf<'book.check'> }) {
  const found = answer.checks.reduce((sum, { findings }) => sum + findings.length, 0);
  return (
    <div className="job-answer" role="status">
      <p className={answer.clean ? 'check-clean' : 'check-found'}>
        {answer.clean
          ? '✓ The book is sound.'
          : `▲ ${plural(found, 'finding')}. Back up the book before doing anything about them.`}
      </p>
      {answer.chain !== null && answer.chain.chainedAt !== null ? (
        <p className="quiet">
          The first {formatCount(answer.chain.chainedLinks)} ledger entries and program revisions were sealed in when
          this book was brought up to date, on {formatDate(answer.chain.chainedAt.slice(0, 10))}. What was changed
          before that cannot be noticed.
        </p>
      ) : null}
      <ul className="checks">
        {answer.checks.map((check) => (
          <li key={check.name}>
            <span>
              {check.passed ? '✓' : '▲'} {check.name}
            </span>
            <span className="quiet">
              {check.passed ? 'in order' : plural(check.findings.length, 'finding')}, looked at{' '}
              {formatCount(check.looked)}
            </span>
            {check.findings.length === 0 ? null : (
              <ul className="findings">
                {check.findings.slice(0, SHOWN).map((finding, index) => (
                  <li key={index}>{finding}</li>
                ))}
                {check.findings.length > SHOWN ? (
                  <li className="quiet">and {formatCount(check.findings.length - SHOWN)} more</li>
                ) : null}
              </ul>
            )}
          </li>
        ))}
      </ul>
      {answer.notes.map((note) => (
        <p key={note}>{note}</p>
      ))}
    </div>
  );
}
