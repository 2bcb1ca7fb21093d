import type { LedgerEntry } from '../../../core/ledger/entry-contract.ts';
import { Button, formatDate, Section } from '../../parts/index.ts';
import { say, sayTold } from '../../state/say.ts';

/** What was found here and nothing has closed yet; not shown where there is nothing. */
export function FindingsSection({
  findings,
  onClose,
}: {
  findings: readonly LedgerEntry[];
  onClose: (finding: LedgerEntry) => void;
}) {
  if (findings.length === 0) return null;
  return (
    <Section title={say('log.openFindings')}>
      <ul className="due-items">
        {findings.map((finding) => (
          <li key={finding.id}>
            <p>
              {sayTold(finding.summary)}{' '}
              <span className="quiet">
                {[formatDate(finding.doneOn), finding.technicianName ?? say('stored.office'), finding.note]
                  .filter((part) => part !== '')
                  .join(', ')}
              </span>
            </p>
            <Button
              aria-label={say('log.closeThis', { finding: sayTold(finding.summary) })}
              onPress={() => onClose(finding)}
            >
              {say('log.closeIt')}
            </Button>
          </li>
        ))}
      </ul>
    </Section>
  );
}
