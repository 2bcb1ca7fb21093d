import { useState } from 'react';
import type { ReviewRow } from '../../../core/contract/programs.ts';
import { dateOfMonthDay } from '../../../core/dates.ts';
import { DepletionTrace } from '../../charts/depletion-trace.tsx';
import { DateField, EmptyState, ErrorNote, Section, SelectField } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useSettings } from '../../state/use-settings.ts';

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
    <Section title="Soil moisture by day">
      <div className="pr-trace-bar no-print">
        <SelectField
          label="Zone"
          value={zoneId ?? ''}
          onChange={onZone}
          placeholder="Choose a zone"
          options={rows.map((item) => ({ id: item.zoneId, label: `${item.station} ${item.zoneName}` }))}
        />
        <SelectField
          label="Season"
          value={year === undefined ? '' : String(year)}
          onChange={(value) => {
            if (value !== '') setDates(season(Number(value)));
          }}
          options={[
            ...years.map((one) => ({ id: String(one), label: String(one) })),
            ...(year === undefined ? [{ id: '', label: 'Dates below' }] : []),
          ]}
        />
        <DateField label="From" value={chosen.from} onChange={(value) => setDates({ ...chosen, from: value })} />
        <DateField
          label="To"
          value={chosen.to}
          onChange={(value) => setDates({ ...chosen, to: value })}
          error={valid ? null : 'must not be before the first day'}
        />
        <SelectField
          label="Programs"
          value={shown}
          onChange={(value) => setShown(value as Shown)}
          options={[
            { id: 'both', label: 'As set, and as advised' },
            { id: 'in-force', label: 'As set' },
            { id: 'advice', label: 'As advised' },
          ]}
        />
      </div>
      {row === undefined ? (
        <EmptyState title="Choose a zone">
          Each day the plants draw water from the soil, and rain and irrigation put some back. The drawing shows when a
          zone got too dry, and when water ran through below the roots, under the programs that were set and under the
          advice.
        </EmptyState>
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
          Following the soil day by day…
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
