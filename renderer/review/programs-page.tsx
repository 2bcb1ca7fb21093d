import { firstMonth, MONTH_NAMES, monthName } from '../office/program-review/review-month.ts';
import { Button } from '../parts/button.tsx';
import { SelectField } from '../parts/fields.tsx';
import { formatCount, formatEstimate, plural } from '../parts/format.ts';
import { EmptyState, ErrorNote, Progress } from '../parts/layout.tsx';
import { ButtonLink } from '../parts/button.tsx';
import { useRequest } from '../state/use-request.ts';
import { useSettings, useToday, useUnits } from '../state/use-settings.ts';
import { unitLabel } from '../../core/units.ts';
import { startReview, stopReview, useProgramsJob } from './programs-job.ts';
import type { ReviewAll } from './programs-job.ts';
import { ProgramsList } from './programs-list.tsx';
import './programs-page.css';

/** Every program of the company against what plants, soil and weather ask for, the furthest from it first. */
export default function ProgramsPage() {
  const settings = useSettings();
  const today = useToday();
  const routes = useRequest('people.list', {}).data?.routes ?? [];
  const { running, progress, result, error, isOld, wish } = useProgramsJob();
  const usual = firstMonth(today, settings ?? { startUpFrom: '03-15', winterizationTo: '11-15' }, null);
  const counts = useRequest('book.info', {}).data?.counts;
  // A zone without a program is reviewed too: it is advised its first one.
  const nothingToReview = counts !== undefined && (counts['zone'] ?? 0) === 0;
  const month = wish.month ?? usual.month;
  const routeId = wish.routeId;
  const run = () => void startReview({ month, routeId: routeId === '' ? null : routeId });
  const shownOther = result !== null && (result.asked.month !== month || (result.asked.routeId ?? '') !== routeId);
  const routeName = (id: string | null) =>
    id === null ? 'all routes' : (routes.find((route) => route.id === id)?.name ?? 'a route');
  return (
    <div className="page pg">
      <h1>Programs furthest from need</h1>
      <p className="pg-lead">
        Every program is set beside what its plants need in a month, given soil, weather and the watering rule. “Now” is
        what is set today, at the seasonal percentage that month had last. Estimates all: they rest on what the book
        knows of each zone.
      </p>
      <div className="pg-bar">
        <SelectField
          label="Month"
          value={String(month)}
          onChange={(value) => useProgramsJob.setState({ wish: { ...wish, month: Number(value) } })}
          options={MONTH_NAMES.map((name, index) => ({ id: String(index + 1), label: name }))}
        />
        <SelectField
          label="Route"
          value={routeId}
          onChange={(value) => useProgramsJob.setState({ wish: { ...wish, routeId: value } })}
          options={[{ id: '', label: 'All routes' }, ...routes.map((route) => ({ id: route.id, label: route.name }))]}
        />
        <Button
          look={result === null || shownOther || isOld ? 'primary' : 'plain'}
          onPress={run}
          isDisabled={running !== null || settings === undefined || nothingToReview}
        >
          {result === null ? 'Review all programs' : shownOther ? 'Review these' : 'Review again'}
        </Button>
      </div>
      {month === usual.month && usual.why !== null ? <p className="pg-note">{usual.why}</p> : null}
      {running === null ? null : (
        <div className="pg-progress">
          <Progress progress={progress} label={`Reviewing for ${monthName(running.month)}`} onCancel={stopReview} />
        </div>
      )}
      {error === null ? null : (
        <ErrorNote
          error={error}
          onRetry={run}
          action={
            error.field === 'weatherStationId' ? (
              <ButtonLink href="#/company/weather">Add a weather station</ButtonLink>
            ) : undefined
          }
        />
      )}
      {result === null ? (
        running === null && error === null ? (
          nothingToReview ? (
            <EmptyState
              title="No program to review yet"
              action={
                <ButtonLink look="primary" href="#/office/import">
                  Import a client list
                </ButtonLink>
              }
            >
              Once properties have zones and programs, this page ranks them by how far they are from what their plants
              need.
            </EmptyState>
          ) : (
            <EmptyState title="Nothing reviewed yet">
              Press “Review all programs”. It takes a moment for each hundred properties; you can go on working
              elsewhere, and the list will be here when you come back.
            </EmptyState>
          )
        ) : null
      ) : (
        <>
          {isOld || shownOther ? (
            <p className="pg-note" role="status">
              {isOld
                ? 'Programs, zones, rules or weather have changed since this was worked out.'
                : `This is still the list for ${monthName(result.asked.month)}, ${routeName(result.asked.routeId)}.`}{' '}
              {isOld ? 'Review again to see the newest.' : ''}
            </p>
          ) : null}
          <Totals data={result.data} month={result.asked.month} route={routeName(result.asked.routeId)} />
          <NotReviewed data={result.data} />
          {result.data.rows.length === 0 ? (
            <EmptyState
              title="No program could be reviewed"
              action={<ButtonLink href="#/office/import">Import zones and programs</ButtonLink>}
            >
              {result.data.notReviewedTotal > 0
                ? 'Above stands why, property by property.'
                : 'No property here has zones with a program yet.'}
            </EmptyState>
          ) : (
            <ProgramsList rows={result.data.rows} month={result.asked.month} />
          )}
        </>
      )}
    </div>
  );
}

function Totals({ data, month, route }: { data: ReviewAll; month: number; route: string }) {
  const units = useUnits();
  const unit = unitLabel('volume', units);
  const counted = data.rows.filter((row) => row.gallonsPerWeekNow !== null && row.gallonsPerWeekThen !== null).length;
  const change = data.gallonsPerWeekThen - data.gallonsPerWeekNow;
  const share = data.gallonsPerWeekNow > 0 ? Math.round((100 * Math.abs(change)) / data.gallonsPerWeekNow) : null;
  return (
    <div className="pg-totals">
      <p className="pg-big">
        <span className="pg-figure">{formatCount(data.reviewed)}</span>{' '}
        {data.reviewed === 1 ? 'property' : 'properties'} reviewed for {monthName(month)}, {route}
        {data.notReviewedTotal === 0 ? '' : `; ${plural(data.notReviewedTotal, 'property', 'properties')} could not be`}
        .
      </p>
      {counted === 0 ? (
        <p>No property has the flow of every zone, so gallons cannot be added up.</p>
      ) : (
        <p className="pg-big">
          <span className="pg-figure">
            {formatEstimate('volume', data.gallonsPerWeekNow, units)} →{' '}
            {formatEstimate('volume', data.gallonsPerWeekThen, units)}
          </span>{' '}
          {unit} a week, now and as advised <span className="pr-estimate">estimate</span>:{' '}
          {share === null || share === 0
            ? 'about the same'
            : `${formatEstimate('volume', Math.abs(change), units)} ${unit} ${change < 0 ? 'less' : 'more'} (${share} %)`}
          , over the {formatCount(counted)} {counted === 1 ? 'property' : 'properties'} where every flow is known.
        </p>
      )}
    </div>
  );
}

function NotReviewed({ data }: { data: ReviewAll }) {
  if (data.notReviewedTotal === 0) return null;
  return (
    <details className="pg-not">
      <summary>{plural(data.notReviewedTotal, 'property', 'properties')} not reviewed, and why</summary>
      <ul>
        {data.notReviewed.map((row) => (
          <li key={row.propertyId}>
            <a href={`#/office/property/${row.propertyId}`}>{row.street}</a>: {row.why}
          </li>
        ))}
      </ul>
      {data.notReviewedTotal > data.notReviewed.length ? (
        <p className="quiet">The first {formatCount(data.notReviewed.length)} are shown.</p>
      ) : null}
    </details>
  );
}
