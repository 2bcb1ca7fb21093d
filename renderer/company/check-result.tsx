import type { OutputOf } from '../../core/contract/index.ts';
import { say, sayTold } from '../state/say.ts';

const SHOWN = 200;

/** What a check of the book found, check by check. */
export function CheckResult({ answer }: { answer: OutputOf<'book.check'> }) {
  const found = answer.checks.reduce((sum, { findings }) => sum + findings.length, 0);
  return (
    <div className="job-answer" role="status">
      <p className={answer.clean ? 'check-clean' : 'check-found'}>
        {answer.clean ? say('company.sound') : `▲ ${say('company.findings', { count: found })}`}
      </p>
      {answer.chain !== null && answer.chain.chainedAt !== null ? (
        <p className="quiet">
          {say('company.sealedIn', { count: answer.chain.chainedLinks, date: answer.chain.chainedAt.slice(0, 10) })}
        </p>
      ) : null}
      <ul className="checks">
        {answer.checks.map((check) => (
          <li key={check.name.key}>
            <span>
              {check.passed ? '✓' : '▲'} {sayTold(check.name)}
            </span>
            <span className="quiet">
              {say('company.checkLooked', { findings: check.findings.length, looked: check.looked })}
            </span>
            {check.findings.length === 0 ? null : (
              <ul className="findings">
                {check.findings.slice(0, SHOWN).map((finding, index) => (
                  <li key={index}>{sayTold(finding)}</li>
                ))}
                {check.findings.length > SHOWN ? (
                  <li className="quiet">{say('company.andMore', { count: check.findings.length - SHOWN })}</li>
                ) : null}
              </ul>
            )}
          </li>
        ))}
      </ul>
      {answer.notes.map((note, index) => (
        <p key={index}>{sayTold(note)}</p>
      ))}
    </div>
  );
}
