import type { DueKind } from '../../../core/due/contract.ts';
import { Button, DueMark, formatCount } from '../../parts/index.ts';
import { say } from '../../state/say.ts';

/** The most pressing first. */
export const DUE_ORDER: DueKind[] = [
  'finding',
  'overdue-visit',
  'winterization',
  'start-up',
  'backflow-test',
  'battery',
  'sensor-check',
];

/** How many of each kind are due; a press goes to them. */
export function DueCounts({
  counts,
  onChoose,
  label = say('office.dueByKind'),
}: {
  counts: Partial<Record<DueKind, number>>;
  onChoose: (kind: DueKind) => void;
  label?: string;
}) {
  return (
    <ul className="due-counts" aria-label={label}>
      {DUE_ORDER.map((kind) => {
        const count = counts[kind] ?? 0;
        return (
          <li key={kind}>
            <Button
              look="quiet"
              className={`due-count${count === 0 ? ' none' : ''}`}
              isDisabled={count === 0}
              onPress={() => onChoose(kind)}
            >
              <span className="count">{formatCount(count)}</span>
              <DueMark kind={kind} many />
            </Button>
          </li>
        );
      })}
    </ul>
  );
}
