import type { OutputOf } from '../../../core/contract/index.ts';
import {
  ButtonLink,
  EmptyState,
  ErrorNote,
  Section,
  TickIcon,
  VISIT_STATE_WORDS,
  VisitMark,
} from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { say } from '../../state/say.ts';

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
      <Section title={say('office.outToday')}>
        <EmptyState
          title={say('office.noTechnicians')}
          action={<ButtonLink href="#/company/people">{say('office.addTechnicians')}</ButtonLink>}
        >
          {say('office.noTechniciansWhy')}
        </EmptyState>
      </Section>
    );
  }
  const columns = [
    ...technicians.map((person) => ({ id: person.id as string | null, name: person.name })),
    { id: null, name: say('office.nobodyYet') },
  ];
  return (
    <Section
      title={say('office.outToday')}
      actions={
        <ButtonLink look="quiet" href="#/office/calendar">
          {say('office.openCalendar')}
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
                    ? say('office.nothingBooked')
                    : say('office.dayLoad', {
                        visits: visits.length,
                        bookedMinutes: load?.bookedMinutes ?? 0,
                        roomMinutes: room,
                      })}
                </span>
                {share > 1 ? <span className="mark late">{say('office.overFull')}</span> : null}
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
