import { useState } from 'react';
import type { Visit } from '../../../core/visits/contract.ts';
import { SeasonRibbon } from '../../charts/season-ribbon.tsx';
import {
  Button,
  EmptyState,
  formatAway,
  formatDay,
  formatDate,
  formatWindow,
  Menu,
  Section,
  VISIT_STATE_WORDS,
  VISIT_WORDS,
  VisitMark,
} from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useSettings } from '../../state/use-settings.ts';
import { say, sayStored } from '../../state/say.ts';
import type { BookingWish } from './log/book-visit-dialog.tsx';
import { cancelVisit } from './log/visit-actions.ts';
import type { OpenProperty } from './use-property-editor.ts';

/** The year on one strip, then what is planned and what was done. */
export function VisitsSection({
  data,
  today,
  onBook,
  onLog,
}: {
  data: OpenProperty;
  today: string;
  onBook: (wish: BookingWish) => void;
  onLog: (visitId: string) => void;
}) {
  const settings = useSettings();
  const people = useRequest('people.list', {}).data?.technicians ?? [];
  const main = data.programs.find((program) => program.revision.enabled) ?? data.programs[0];
  const history = useRequest('program.history', main === undefined ? null : { programId: main.id });
  const [all, setAll] = useState(false);
  const nameOf = (id: string | null) =>
    id === null
      ? say('property.nobodyYet')
      : (people.find((person) => person.id === id)?.name ?? say('property.somebody'));
  const planned = data.visits.filter((visit) => visit.state === 'planned');
  const past = data.visits.filter((visit) => visit.state !== 'planned');
  const shownPast = all ? past : past.slice(0, 5);
  return (
    <Section
      title={say('property.season')}
      actions={
        <Button look="quiet" onPress={() => onBook({})}>
          {say('property.bookVisit')}
        </Button>
      }
    >
      {settings === undefined ? null : (
        <SeasonRibbon
          year={data.season.year}
          today={today}
          settings={settings}
          season={data.season}
          visits={data.visits}
          revisions={history.data?.revisions.filter((revision) => !revision.isVoid) ?? []}
          servicesStartUp={data.property.servicesStartUp}
          servicesWinterization={data.property.servicesWinterization}
        />
      )}
      {data.visits.length === 0 ? (
        <EmptyState title={say('property.noVisits')}>{say('property.noVisitsWhy')}</EmptyState>
      ) : (
        <table className="data visits">
          <caption className="visually-hidden">{say('property.visits')}</caption>
          <thead>
            <tr>
              <th scope="col">{say('property.day')}</th>
              <th scope="col">{say('property.visit')}</th>
              <th scope="col">{say('property.who')}</th>
              <th scope="col">{say('property.when')}</th>
              <th scope="col">{say('property.state')}</th>
              <th scope="col">
                <span className="visually-hidden">{say('office.actions')}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {planned.map((visit) => (
              <VisitLine key={visit.id} visit={visit} today={today} who={nameOf(visit.technicianId)}>
                <Button
                  look="quiet"
                  onPress={() => onLog(visit.id)}
                  aria-label={say('property.logOf', { visit: VISIT_WORDS[visit.kind], date: visit.date })}
                >
                  {say('property.log')}
                </Button>
                <Menu
                  look="quiet"
                  label={say('property.change')}
                  ariaLabel={say('property.changeOf', { visit: VISIT_WORDS[visit.kind], date: visit.date })}
                  items={[
                    { id: 'move', label: say('property.moveVisit'), onAction: () => onBook({ visit }) },
                    {
                      id: 'cancel',
                      label: say('property.cancelVisit'),
                      danger: true,
                      onAction: () => void cancelVisit(visit),
                    },
                  ]}
                />
              </VisitLine>
            ))}
            {shownPast.map((visit) => (
              <VisitLine
                key={visit.id}
                visit={visit}
                today={today}
                who={visit.technicianId === null ? '–' : nameOf(visit.technicianId)}
              />
            ))}
          </tbody>
        </table>
      )}
      {past.length > shownPast.length ? (
        <Button look="quiet" onPress={() => setAll(true)}>
          {say('property.showMore', { count: past.length - shownPast.length })}
        </Button>
      ) : null}
    </Section>
  );
}

function VisitLine({
  visit,
  today,
  who,
  children,
}: {
  visit: Visit;
  today: string;
  who: string;
  children?: React.ReactNode;
}) {
  const day = visit.doneOn ?? visit.date;
  const late = visit.state === 'planned' && visit.date < today;
  return (
    <tr className={visit.state}>
      <td>
        {visit.state === 'planned' ? formatDay(day) : formatDate(day)}{' '}
        <span className="quiet small">{formatAway(day, today)}</span>
      </td>
      <td>
        <VisitMark kind={visit.kind} />
        {visit.note === '' ? null : <span className="quiet small block">{visit.note}</span>}
      </td>
      <td>{who}</td>
      <td>{visit.state === 'planned' ? formatWindow(visit.windowFrom, visit.windowTo) : ''}</td>
      <td>
        {late ? <span className="mark late">{say('property.overdue')}</span> : VISIT_STATE_WORDS[visit.state]}
        {visit.cancelReason === '' ? null : <span className="quiet small block">{sayStored(visit.cancelReason)}</span>}
      </td>
      <td className="row-actions">{children}</td>
    </tr>
  );
}
