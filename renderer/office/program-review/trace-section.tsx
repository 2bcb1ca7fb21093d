import { useState } from 'react';
import type { ReviewRow } from '../../../core/programs/contract.ts';
import { dateOfMonthDay } from '../../../core/dates.ts';
import { DepletionTrace } from '../../charts/depletion-trace.tsx';
import { DateField, EmptyState, ErrorNote, Section, SelectField } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useSettings } from '../../state/use-settings.ts';
import { say } from '../../state/say.ts';

type Shown = 'both' | 'in-force' | 'advice';

/** A zone's soil by day over a season: with the programs as they were in force, with the advice, or both. */
export function TraceSection({
  rows,
  today,
  zoneId,
  onZone,
}: {
  rows: readonly ReviewRow[];
  today: string;
  zoneId: string | null;
  onZone: (zoneId: string) => void;
}) {
  const settings = useSettings();
  const [shown, setShown] = useState<Shown>('both');
  const [dates, setDates] = useState<{ from: string | null; to: string | null } | null>(null);
  const thisYear = Number(today.slice(0, 4));
  const from = settings?.startUpFrom ?? '04-01';
  const to = settings?.winterizationTo ?? '10-31';
  const season = (year: number) => ({
    from: dateOfMonthDay(year, from),
    to: dateOfMonthDay(from <= to ? year : year + 1, to),
  });
  const latest = today >= dateOfMonthDay(thisYear, from) ? thisYear : thisYear - 1;
  const chosen = dates ?? season(latest);
  const years = [latest, latest - 1, latest - 2];
  const year = years.find((one) => season(one).from === chosen.from && season(one).to === chosen.to);
  const row = rows.find((item) => item.zoneId === zoneId);
  const valid = chosen.from !== null && chosen.to !== null && chosen.from <= chosen.to;
  const input =
    row === undefined || !valid ? null : { zoneId: row.zoneId, fromDate: chosen.from ?? '', toDate: chosen.to ?? '' };
  const inForce = useRequest(
    'zone.trace',
    input === null || shown === 'advice' ? null : { ...input, programs: 'in-force' as const },
    { keepPrevious: false },
  );
  const advice = useRequest(
    'zone.trace',
    input === null || shown === 'in-force' ? null : { ...input, programs: 'advice' as const },
    { keepPrevious: false },
  );
  const error = inForce.error ?? advice.error;
  const waiting =
    input !== null &&
    error === null &&
    ((shown !== 'advice' && inForce.data === undefined) || (shown !== 'in-force' && advice.data === undefined));
  return (
    <Section title={say('pr.soilByDay')}>
      <div className="pr-trace-bar no-print">
        <SelectField
          label={say('pr.zone')}
          value={zoneId ?? ''}
          onChange={onZone}
          placeholder={say('pr.chooseZone')}
          options={rows.map((item) => ({ id: item.zoneId, label: `${item.station} ${item.zoneName}` }))}
        />
        <SelectField
          label={say('pr.season')}
          value={year === undefined ? '' : String(year)}
          onChange={(value) => {
            if (value !== '') setDates(season(Number(value)));
          }}
          options={[
            ...years.map((one) => ({ id: String(one), label: String(one) })),
            ...(year === undefined ? [{ id: '', label: say('pr.datesBelow') }] : []),
          ]}
        />
        <DateField
          label={say('pr.from')}
          value={chosen.from}
          onChange={(value) => setDates({ ...chosen, from: value })}
        />
        <DateField
          label={say('pr.to')}
          value={chosen.to}
          onChange={(value) => setDates({ ...chosen, to: value })}
          error={valid ? null : say('pr.notBefore')}
        />
        <SelectField
          label={say('pr.programs')}
          value={shown}
          onChange={(value) => setShown(value as Shown)}
          options={[
            { id: 'both', label: say('pr.asSetAndAdvised') },
            { id: 'in-force', label: say('pr.asSet') },
            { id: 'advice', label: say('pr.asAdvised') },
          ]}
        />
      </div>
      {row === undefined ? (
        <EmptyState title={say('pr.chooseZone')}>{say('pr.traceWhy')}</EmptyState>
      ) : error !== null ? (
        <ErrorNote
          error={error}
          onRetry={() => {
            inForce.reload();
            advice.reload();
          }}
        />
      ) : waiting ? (
        <p className="waiting" role="status">
          {say('pr.following')}
        </p>
      ) : (
        <DepletionTrace
          zoneName={`${row.station} ${row.zoneName}`}
          {...(shown !== 'advice' && inForce.data !== undefined ? { inForce: inForce.data } : {})}
          {...(shown !== 'in-force' && advice.data !== undefined ? { advice: advice.data } : {})}
        />
      )}
    </Section>
  );
}
