import { useState } from 'react';
import type { OutputOf } from '../../../core/contract/index.ts';
import { BackIcon, Button, ButtonLink, EmptyState, ErrorNote, Section, SelectField } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useSettings, useToday } from '../../state/use-settings.ts';
import { navigate, useView } from '../../state/view.ts';
import type { OpenProperty } from '../property/use-property-editor.ts';
import { firstMonth, monthName } from './review-month.ts';
import { ReviewBody } from './review-body.tsx';
import './program-review.css';
import { say } from '../../state/say.ts';

/** What the programs of a property are set to, what each zone should run in a month, and why. */
export default function ProgramReviewPage({ propertyId }: { propertyId: string }) {
  const settings = useSettings();
  const property = useRequest('property.open', { propertyId, ledgerLimit: 0 }, { keepPrevious: false });
  if (property.error !== null && property.data === undefined)
    return (
      <div className="page">
        <ErrorNote
          error={property.error}
          onRetry={property.reload}
          action={<ButtonLink href="#/office">{say('pr.backToList')}</ButtonLink>}
        />
      </div>
    );
  if (property.data === undefined || settings === undefined)
    return (
      <p className="waiting" role="status">
        {say('pr.openingProperty')}
      </p>
    );
  return <Opened key={propertyId} data={property.data} season={settings} />;
}

function Opened({ data, season }: { data: OpenProperty; season: OutputOf<'settings.get'> }) {
  const today = useToday();
  const path = useView((view) => view.path);
  const asked = Number(path[3]);
  const usual = firstMonth(today, season, data.property.latitudeDeg);
  const month = Number.isInteger(asked) && asked >= 1 && asked <= 12 ? asked : usual.month;
  const propertyId = data.property.id;
  const go = (next: number) =>
    navigate(`#/office/property/${propertyId}/review/${((next + 11) % 12) + 1}`, { replace: true });
  const otherMonth = month !== Number(today.slice(5, 7));
  const why = [
    ...(month === usual.month && usual.why !== null ? [usual.why] : []),
    ...(otherMonth ? [say('pr.nowMeans')] : []),
  ].join(' ');
  return (
    <article className="page pr-page" aria-label={say('pr.reviewOf', { client: data.client.name })}>
      <header className="pr-head">
        <a className="back-link" href={`#/office/property/${propertyId}`}>
          <BackIcon /> {data.client.name}, {data.property.street}
        </a>
        <div className="pr-head-line">
          <h1>{say('pr.title')}</h1>
          <div className="pr-month" role="group" aria-label={say('pr.month')}>
            <Button
              aria-label={say('pr.monthBefore', { month: ((month + 10) % 12) + 1 })}
              onPress={() => go(month - 1)}
            >
              ‹
            </Button>
            <SelectField
              label={say('pr.month')}
              hideLabel
              value={String(month)}
              onChange={(value) => go(Number(value))}
              options={Array.from({ length: 12 }, (_, index) => ({
                id: String(index + 1),
                label: monthName(index + 1),
              }))}
            />
            <Button aria-label={say('pr.monthAfter', { month: (month % 12) + 1 })} onPress={() => go(month + 1)}>
              ›
            </Button>
          </div>
        </div>
        {why === '' ? null : <p className="pr-why-month">{why}</p>}
      </header>
      <MonthReview key={month} data={data} month={month} today={today} season={season} />
    </article>
  );
}

function MonthReview({
  data,
  month,
  today,
  season,
}: {
  data: OpenProperty;
  month: number;
  today: string;
  season: OutputOf<'settings.get'>;
}) {
  const review = useRequest('program.review', { propertyId: data.property.id, month });
  const [tries, setTries] = useState(0);
  if (review.data === undefined) {
    if (review.error === null)
      return (
        <p className="waiting" role="status">
          {say('pr.workingNeeds')}
        </p>
      );
    return (
      <NoReview
        data={data}
        error={review.error}
        key={tries}
        onRetry={() => {
          setTries(tries + 1);
          review.reload();
        }}
      />
    );
  }
  return (
    <>
      {review.error === null ? null : <ErrorNote error={review.error} onRetry={review.reload} />}
      <ReviewBody data={data} review={review.data} month={month} today={today} season={season} />
    </>
  );
}

/** Why there is nothing to review, and the step that changes it. */
function NoReview({
  data,
  error,
  onRetry,
}: {
  data: OpenProperty;
  error: NonNullable<ReturnType<typeof useRequest>['error']>;
  onRetry: () => void;
}) {
  const back = `#/office/property/${data.property.id}`;
  if (error.field === 'weatherStationId') {
    return (
      <EmptyState
        title={say('pr.noWeather')}
        action={
          <>
            <ButtonLink look="primary" href="#/company/weather">
              {say('pr.addStation')}
            </ButtonLink>
            <ButtonLink href="#/office/import">{say('pr.importDaily')}</ButtonLink>
          </>
        }
      >
        {say('pr.noWeatherWhy')}
      </EmptyState>
    );
  }
  if (!data.zones.some((zone) => !zone.retired)) {
    return (
      <EmptyState
        title={say('pr.noZones')}
        action={
          <ButtonLink look="primary" href={back}>
            {say('pr.addZones')}
          </ButtonLink>
        }
      >
        {say('pr.noZonesWhy')}
      </EmptyState>
    );
  }
  return (
    <Section title={say('pr.nothingAdvised')}>
      <ErrorNote
        error={error}
        onRetry={onRetry}
        action={
          error.field === 'restrictionId' ? (
            <ButtonLink href="#/company/rules">{say('pr.lookRules')}</ButtonLink>
          ) : (
            <ButtonLink href={back}>{say('pr.lookProperty')}</ButtonLink>
          )
        }
      />
    </Section>
  );
}
