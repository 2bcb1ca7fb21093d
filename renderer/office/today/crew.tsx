import type { OutputOf } from '../../../core/contract/index.ts';
import {
  ButtonLink,
  EmptyState,
  ErrorNote,
  formatMinutes,
  plural,
  Section,
  TickIcon,
  VISIT_STATE_WORDS,
  VisitMark,
} from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';

/** Today's visits by technician, and how full each day is. */
export function Crew({ today, people }: { today: string; people: OutputOf<'people.list'> | undefined }) {
  const { data, error, reload } = useRequest('visit.list', {
    fromDate: today,
    toDate: today,
    states: ['planned', 'done'],
  });
  const technicians = (people?.technicians ?? []).filter((person) => person.active);
  if (people !== undefined && technicians.length === 0) {
    return (
      <Section title="Who is out today">
        <EmptyState
          title="No technicians yet"
          action={<ButtonLink href="#/company/people">Add technicians</ButtonLink>}
        >
          With technicians in the book, a booked day shows how full it is.
        </EmptyState>
      </Section>
    );
  }
  const columns = [
    ...technicians.map((person) => ({ id: person.id as string | null, name: person.name })),
    { id: null, name: 'Nobody yet' },
  ];
  return (
    <Section
      title="Who is out today"
      actions={
        <ButtonLink look="quiet" href="#/office/calendar">
          Open the calendar
        </ButtonLink>
      }
    >
      {error === null ? null : <ErrorNote error={error} onRetry={reload} />}
      <ul className="crew">
        {columns.map((person) => {
          const visits = (data?.visits ?? []).filter((visit) => visit.technicianId === person.id);
          if (person.id === null && visits.length === 0) return null;
          const load = data?.load.find((item) => item.technicianId === person.id && item.date === today);
          const room = load?.availableMinutes ?? 0;
          const share = load === undefined || room === 0 ? 0 : load.bookedMinutes / room;
          return (
            <li key={person.id ?? 'none'} className="crew-day">
              <div className="crew-head">
                {person.id === null ? (
                  <h3>{person.name}</h3>
                ) : (
                  <h3>
                    <a href={`#/field/${person.id}/${today}`}>{person.name}</a>
                  </h3>
                )}
                <span className="small quiet">
                  {visits.length === 0
                    ? 'nothing booked'
                    : `${plural(visits.length, 'visit')}, ${formatMinutes(load?.bookedMinutes ?? 0)}${room === 0 ? '' : ` of ${formatMinutes(room)}`}`}
                </span>
                {share > 1 ? <span className="mark late">Over full</span> : null}
              </div>
              <div className="load-track" aria-hidden="true">
                <span
                  className={`load-fill${share > 1 ? ' over' : ''}`}
                  style={{ width: `${Math.min(100, share * 100)}%` }}
                />
              </div>
              <ol>
                {visits.map((visit) => (
                  <li key={visit.id} className={visit.state}>
                    <VisitMark kind={visit.kind} iconOnly />
                    <span className="crew-stop">
                      <a href={`#/office/property/${visit.propertyId}`}>{visit.clientName}</a>{' '}
                      <span className="quiet small">{visit.street}</span>
                    </span>
                    {visit.state === 'done' ? (
                      <span className="booked small">
                        <TickIcon /> {VISIT_STATE_WORDS.done.toLowerCase()}
                      </span>
                    ) : null}
                  </li>
                ))}
              </ol>
            </li>
          );
        })}
      </ul>
    </Section>
  );
}
