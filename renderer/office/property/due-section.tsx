import type { DueItem } from '../../../core/due/contract.ts';
import type { VisitKind } from '../../../core/contract/parts.ts';
import { Button, DueMark, formatAway, formatDate, Section, TickIcon } from '../../parts/index.ts';
import { say, sayTold } from '../../state/say.ts';
import type { BookingWish } from './log/book-visit-dialog.tsx';

/** The kind of visit that settles what is due. */
export const VISIT_FOR_DUE: Record<DueItem['kind'], VisitKind | null> = {
  finding: 'repair',
  battery: 'battery-swap',
  'sensor-check': 'sensor-check',
  'backflow-test': 'backflow-test',
  'start-up': 'start-up',
  winterization: 'winterization',
  'overdue-visit': null,
};

/** What this property needs now, most urgent first. */
export function DueSection({
  items,
  today,
  onBook,
}: {
  items: readonly DueItem[];
  today: string;
  onBook: (wish: BookingWish) => void;
}) {
  if (items.length === 0) {
    return (
      <Section title={say('property.due')}>
        <p className="nothing-due">
          <TickIcon /> {say('property.nothingDue')}
        </p>
      </Section>
    );
  }
  return (
    <Section title={say('property.due')}>
      <ul className="due-items">
        {items.map((item) => {
          const kind = VISIT_FOR_DUE[item.kind];
          return (
            <li key={`${item.kind} ${item.sensorId ?? ''} ${item.visitId ?? ''} ${item.findingId ?? ''}`}>
              <DueMark kind={item.kind} late={item.daysLate > 0} />
              <p>
                {sayTold(item.why)}{' '}
                <span className="quiet">
                  {formatDate(item.dueOn)}, {formatAway(item.dueOn, today)}
                </span>
              </p>
              {item.bookedDate !== null ? (
                <span className="booked">
                  <TickIcon /> {say('property.bookedOn', { date: item.bookedDate })}
                </span>
              ) : kind === null ? null : (
                <Button onPress={() => onBook({ kind, dueOn: item.dueOn })}>{say('office.book')}</Button>
              )}
            </li>
          );
        })}
      </ul>
    </Section>
  );
}
