import { useState } from 'react';
import { DUE_KINDS } from '../../../core/due/contract.ts';
import type { DueItem, DueKind } from '../../../core/due/contract.ts';
import {
  Button,
  ButtonLink,
  DUE_MANY,
  DUE_WORDS,
  EmptyState,
  ErrorNote,
  formatAway,
  formatDay,
  formatDayNear,
  formatLongDay,
  formatSpan,
  PhoneLink,
  Section,
  SelectField,
  TickIcon,
} from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useToday } from '../../state/use-settings.ts';
import { say, sayTold, texts } from '../../state/say.ts';
import { VISIT_FOR_DUE } from '../property/due-section.tsx';
import { BookVisitDialog } from '../property/log/book-visit-dialog.tsx';
import type { BookingWish } from '../property/log/book-visit-dialog.tsx';
import { findVisit } from '../property/log/visit-actions.ts';
import { BackupWord } from './backup-word.tsx';
import { Crew } from './crew.tsx';
import { DUE_ORDER, DueCounts } from './due-counts.tsx';

/** Days ahead. */
const HORIZONS = ['0', '14', '30', '90'] as const;
const HORIZON_WORDS = texts({
  '0': 'office.ahead.0',
  '14': 'office.ahead.14',
  '30': 'office.ahead.30',
  '90': 'office.ahead.90',
});
type Wish = { property: { id: string; street: string; clientName: string }; wish: BookingWish };

/** What needs the office today: visits gone by, what is due and not booked, and how the technicians' day stands. */
export default function TodayPage() {
  const today = useToday();
  const [routeId, setRouteId] = useState('');
  const [horizon, setHorizon] = useState('14');
  const [wish, setWish] = useState<Wish | null>(null);
  const people = useRequest('people.list', {});
  const query = { routeId: routeId === '' ? null : routeId, horizonDays: Number(horizon) };
  const counts = useRequest('due.list', { ...query, limit: 1 });
  const routes = people.data?.routes ?? [];
  const total =
    counts.data === undefined ? 0 : DUE_KINDS.reduce((sum, kind) => sum + (counts.data?.counts[kind] ?? 0), 0);
  return (
    <div className="page today">
      <header className="today-head">
        <div>
          <h1>{formatLongDay(today)}</h1>
          <p className="quiet" role="status">
            {counts.data === undefined
              ? say('office.readingDue')
              : total === 0
                ? say('office.nothingDue')
                : say('office.needsSomebody', { count: total })}
          </p>
        </div>
        <div className="today-filters">
          <SelectField
            label={say('office.route')}
            value={routeId}
            onChange={setRouteId}
            options={[
              { id: '', label: say('office.allRoutes') },
              ...routes.map((route) => ({ id: route.id, label: route.name })),
            ]}
          />
          <SelectField
            label={say('office.howFarAhead')}
            value={horizon}
            onChange={setHorizon}
            options={HORIZONS.map((id) => ({ id, label: HORIZON_WORDS[id] }))}
          />
        </div>
      </header>
      <BackupWord />
      {counts.error === null ? null : <ErrorNote error={counts.error} onRetry={counts.reload} />}
      {counts.data === undefined ? null : (
        <DueCounts
          counts={counts.data.counts}
          onChoose={(kind) => document.getElementById(`due-${kind}`)?.scrollIntoView({ block: 'start' })}
        />
      )}
      <div className="today-columns">
        <div>
          {counts.data !== undefined && total === 0 && people.data !== undefined ? (
            <EmptyState
              title={say('office.allClear')}
              action={<ButtonLink href="#/office">{say('office.openList')}</ButtonLink>}
            >
              {say('office.allClearWhy')}
            </EmptyState>
          ) : null}
          {DUE_ORDER.map((kind) =>
            (counts.data?.counts[kind] ?? 0) === 0 ? null : (
              <DueGroup
                key={kind}
                kind={kind}
                count={counts.data?.counts[kind] ?? 0}
                query={query}
                today={today}
                onBook={setWish}
              />
            ),
          )}
        </div>
        <Crew today={today} people={people.data} />
      </div>
      {wish === null ? null : (
        <BookVisitDialog property={wish.property} wish={wish.wish} today={today} onClose={() => setWish(null)} />
      )}
    </div>
  );
}

function DueGroup({
  kind,
  count,
  query,
  today,
  onBook,
}: {
  kind: DueKind;
  count: number;
  query: { routeId: string | null; horizonDays: number };
  today: string;
  onBook: (wish: Wish) => void;
}) {
  const [limit, setLimit] = useState(8);
  const { data, error, reload } = useRequest('due.list', { ...query, kinds: [kind], limit });
  return (
    <Section
      id={`due-${kind}`}
      title={DUE_MANY[kind]}
      note={kind === 'overdue-visit' ? say('office.goneBy') : say('office.dueNotBooked')}
    >
      {error === null ? null : <ErrorNote error={error} onRetry={reload} />}
      <table className="data due-table">
        <caption className="visually-hidden">{DUE_MANY[kind]}</caption>
        <thead>
          <tr>
            <th scope="col">{say('office.client')}</th>
            <th scope="col">{say('office.why')}</th>
            <th scope="col">{say('office.due')}</th>
            <th scope="col">{say('office.phone')}</th>
            <th scope="col">
              <span className="visually-hidden">{say('office.actions')}</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {data?.items.map((item) => (
            <DueRow
              key={`${item.propertyId} ${item.sensorId ?? ''} ${item.visitId ?? ''} ${item.findingId ?? ''}`}
              item={item}
              today={today}
              onBook={onBook}
            />
          ))}
        </tbody>
      </table>
      {count > limit ? (
        <Button look="quiet" onPress={() => setLimit(Math.min(500, limit === 8 ? 50 : limit + 100))}>
          {say('office.showMoreOf', { count })}
        </Button>
      ) : null}
    </Section>
  );
}

function DueRow({ item, today, onBook }: { item: DueItem; today: string; onBook: (wish: Wish) => void }) {
  const kind = VISIT_FOR_DUE[item.kind];
  const property = { id: item.propertyId, street: item.street, clientName: item.clientName };
  const move = async () => {
    const visit = item.visitId === null ? null : await findVisit(item.propertyId, item.visitId, item.dueOn);
    if (visit !== null) onBook({ property, wish: { visit, date: today } });
  };
  return (
    <tr>
      <td>
        <a href={`#/office/property/${item.propertyId}`}>{item.clientName}</a>
        <span className="block quiet small">
          {item.street}
          {item.routeName === null ? '' : ` · ${item.routeName}`}
        </span>
      </td>
      <td>{sayTold(item.why)}</td>
      <td className="nowrap">
        {formatDayNear(item.dueOn, today)}
        <span className={`block small ${item.daysLate > 0 ? 'bad' : 'quiet'}`}>
          {item.daysLate > 0 ? say('office.late', { span: formatSpan(item.daysLate) }) : formatAway(item.dueOn, today)}
        </span>
      </td>
      <td className="nowrap">{item.phone === '' ? '' : <PhoneLink phone={item.phone} />}</td>
      <td className="row-actions">
        {item.bookedDate !== null ? (
          <span className="booked">
            <TickIcon /> {formatDay(item.bookedDate)}
          </span>
        ) : kind !== null ? (
          <Button
            aria-label={say('office.bookFor', {
              what: DUE_WORDS[item.kind],
              client: item.clientName,
              street: item.street,
            })}
            onPress={() => onBook({ property, wish: { kind, dueOn: item.dueOn } })}
          >
            {say('office.book')}
          </Button>
        ) : (
          <Button
            aria-label={say('office.moveVisitOf', { client: item.clientName, street: item.street })}
            onPress={() => void move()}
          >
            {say('office.move')}
          </Button>
        )}
      </td>
    </tr>
  );
}
