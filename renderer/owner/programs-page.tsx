import { firstMonth, monthName } from '../office/program-review/review-month.ts';
import { Button } from '../parts/button.tsx';
import { SelectField } from '../parts/fields.tsx';
import { formatCount, formatEstimate } from '../parts/format.ts';
import { say, sayTold } from '../state/say.ts';

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
    id === null
      ? say('review.allRoutesLower')
      : (routes.find((route) => route.id === id)?.name ?? say('review.aRoute'));
  return (
    <div className="page pg">
      <h1>{say('review.programsTitle')}</h1>
      <p className="pg-lead">{say('review.programsLead')}</p>
      <div className="pg-bar">
        <SelectField
          label={say('review.month')}
          value={String(month)}
          onChange={(value) => useProgramsJob.setState({ wish: { ...wish, month: Number(value) } })}
          options={Array.from({ length: 12 }, (_, index) => ({ id: String(index + 1), label: monthName(index + 1) }))}
        />
        <SelectField
          label={say('review.route')}
          value={routeId}
          onChange={(value) => useProgramsJob.setState({ wish: { ...wish, routeId: value } })}
          options={[
            { id: '', label: say('review.allRoutes') },
            ...routes.map((route) => ({ id: route.id, label: route.name })),
          ]}
        />
        <Button
          look={result === null || shownOther || isOld ? 'primary' : 'plain'}
          onPress={run}
          isDisabled={running !== null || settings === undefined || nothingToReview}
        >
          {say(result === null ? 'review.reviewAll' : shownOther ? 'review.reviewThese' : 'review.reviewAgain')}
        </Button>
      </div>
      {month === usual.month && usual.why !== null ? <p className="pg-note">{usual.why}</p> : null}
      {running === null ? null : (
        <div className="pg-progress">
          <Progress
            progress={progress}
            label={say('review.reviewingFor', { month: running.month })}
            onCancel={stopReview}
          />
        </div>
      )}
      {error === null ? null : (
        <ErrorNote
          error={error}
          onRetry={run}
          action={
            error.field === 'weatherStationId' ? (
              <ButtonLink href="#/company/weather">{say('review.addStation')}</ButtonLink>
            ) : undefined
          }
        />
      )}
      {result === null ? (
        running === null && error === null ? (
          nothingToReview ? (
            <EmptyState
              title={say('review.noProgramYet')}
              action={
                <ButtonLink look="primary" href="#/office/import">
                  {say('review.importClients')}
                </ButtonLink>
              }
            >
              {say('review.noProgramYetWhy')}
            </EmptyState>
          ) : (
            <EmptyState title={say('review.nothingReviewed')}>{say('review.nothingReviewedWhy')}</EmptyState>
          )
        ) : null
      ) : (
        <>
          {isOld || shownOther ? (
            <p className="pg-note" role="status">
              {isOld
                ? say('review.isOld')
                : say('review.stillFor', { month: result.asked.month, route: routeName(result.asked.routeId) })}
            </p>
          ) : null}
          <Totals data={result.data} month={result.asked.month} route={routeName(result.asked.routeId)} />
          <NotReviewed data={result.data} />
          {result.data.rows.length === 0 ? (
            <EmptyState
              title={say('review.noneReviewable')}
              action={<ButtonLink href="#/office/import">{say('review.importZones')}</ButtonLink>}
            >
              {result.data.notReviewedTotal > 0 ? say('review.aboveWhy') : say('review.noZonesYet')}
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
        {say('review.reviewedFor', { count: data.reviewed, month, route, left: data.notReviewedTotal })}
      </p>
      {counted === 0 ? (
        <p>{say('review.noGallons')}</p>
      ) : (
        <p className="pg-big">
          <span className="pg-figure">
            {formatEstimate('volume', data.gallonsPerWeekNow, units)} →{' '}
            {formatEstimate('volume', data.gallonsPerWeekThen, units)}
          </span>{' '}
          {say('review.aWeekNowAdvised', { unit })} <span className="pr-estimate">{say('review.estimate')}</span>
          {say('review.overThose', {
            count: counted,
            change:
              share === null || share === 0
                ? say('review.aboutTheSame')
                : say(change < 0 ? 'review.lessBy' : 'review.moreBy', { gallons: Math.abs(change), share }),
          })}
        </p>
      )}
    </div>
  );
}

function NotReviewed({ data }: { data: ReviewAll }) {
  if (data.notReviewedTotal === 0) return null;
  return (
    <details className="pg-not">
      <summary>{say('review.notReviewedWhy', { count: data.notReviewedTotal })}</summary>
      <ul>
        {data.notReviewed.map((row) => (
          <li key={row.propertyId}>
            <a href={`#/office/property/${row.propertyId}`}>{row.street}</a>: {sayTold(row.why)}
          </li>
        ))}
      </ul>
      {data.notReviewedTotal > data.notReviewed.length ? (
        <p className="quiet">{say('review.firstShown', { count: data.notReviewed.length })}</p>
      ) : null}
    </details>
  );
}
