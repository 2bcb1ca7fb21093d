import { useState } from 'react';
import type { OutputOf } from '../../../core/contract/index.ts';
import { BackIcon, Button, ButtonLink, EmptyState, ErrorNote, Section, SelectField } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useSettings, useToday } from '../../state/use-settings.ts';
import { navigate, useView } from '../../state/view.ts';
import type { OpenProperty } from '../property/use-property-editor.ts';
import { firstMonth, MONTH_NAMES, monthName } from './review-month.ts';
import { ReviewBody } from './review-body.tsx';
import './program-review.css';

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
          action={<ButtonLink href="#/office">Back to the list</ButtonLink>}
        />
      </div>
    );
  if (property.data === undefined || settings === undefined)
    return (
      <p className="waiting" role="status">
        Opening the property…
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
    ...(otherMonth
      ? [
          '“Now” is what is set today; where only the seasonal percentage was changed since, it is the one this month had last.',
        ]
      : []),
  ].join(' ');
  return (
    <article className="page pr-page" aria-label={`Program review, ${data.client.name}`}>
      <header className="pr-head">
        <a className="back-link" href={`#/office/property/${propertyId}`}>
          <BackIcon /> {data.client.name}, {data.property.street}
        </a>
        <div className="pr-head-line">
          <h1>Program review</h1>
          <div className="pr-month" role="group" aria-label="Month">
            <Button aria-label={`Month before, ${monthName(((month + 10) % 12) + 1)}`} onPress={() => go(month - 1)}>
              ‹
            </Button>
            <SelectField
              label="Month"
              hideLabel
              value={String(month)}
              onChange={(value) => go(Number(value))}
              options={MONTH_NAMES.map((name, index) => ({ id: String(index + 1), label: name }))}
            />
            <Button aria-label={`Month after, ${monthName((month % 12) + 1)}`} onPress={() => go(month + 1)}>
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
          Working out what each zone needs…
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
        title="The book has no weather yet"
        action={
          <>
            <ButtonLink look="primary" href="#/company/weather">
              Add a weather station
            </ButtonLink>
            <ButtonLink href="#/office/import">Import daily weather</ButtonLink>
          </>
        }
      >
        What plants need follows from the weather: warmest and coldest of the day, rain, and if known humidity, wind and
        sun. Twelve monthly normals of one station nearby are enough to start with; every national weather service
        publishes them.
      </EmptyState>
    );
  }
  if (!data.zones.some((zone) => !zone.retired)) {
    return (
      <EmptyState
        title="No zones to review"
        action={
          <ButtonLink look="primary" href={back}>
            Add zones at the property
          </ButtonLink>
        }
      >
        A review says for every zone how long, how often and when it should run. Enter a controller and its zones first:
        plants, heads or drip, soil; what nobody has measured yet may stay a guess.
      </EmptyState>
    );
  }
  return (
    <Section title="Nothing can be advised here">
      <ErrorNote
        error={error}
        onRetry={onRetry}
        action={
          error.field === 'restrictionId' ? (
            <ButtonLink href="#/company/rules">Look at the watering rules</ButtonLink>
          ) : (
            <ButtonLink href={back}>Look at the property</ButtonLink>
          )
        }
      />
    </Section>
  );
}
