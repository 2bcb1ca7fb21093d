import { useMemo, useRef, useState } from 'react';
import type { OutputOf } from '../../../core/contract/index.ts';
import { SeasonalTable } from '../../charts/seasonal-table.tsx';
import { Button, ButtonLink, Caution, EmptyState, formatEstimate, Section, WarnIcon } from '../../parts/index.ts';
import { Said } from '../../parts/said.tsx';
import { useUnits } from '../../state/use-settings.ts';
import { unitLabel } from '../../../core/units.ts';
import { sayDays } from '../property/programs-section.tsx';
import type { OpenProperty } from '../property/use-property-editor.ts';
import { planAccept } from '../../../core/programs/accept-plan.ts';
import type { AcceptPlan } from '../../../core/programs/accept-plan.ts';
import { AcceptDialog } from './accept-dialog.tsx';
import { CatchCanSheet } from './catch-can-sheet.tsx';
import { EtoSheet } from './eto-sheet.tsx';
import { GallonsNowThen, sumWater } from './gallons-now-then.tsx';
import { isOffMonth } from './review-month.ts';
import { ReviewTable } from './review-table.tsx';
import { isGrave } from './review-words.ts';
import { TraceSection } from './trace-section.tsx';
import { TwoWeeks, usePreviewWeek } from './two-weeks.tsx';
import { WeatherLine } from './weather-line.tsx';
import { say, sayTold } from '../../state/say.ts';

type Review = OutputOf<'program.review'>;

/** The review of one month: findings, zones, weeks, the year's table, a zone's soil by day. */
export function ReviewBody({
  data,
  review,
  month,
  today,
  season,
}: {
  data: OpenProperty;
  review: Review;
  month: number;
  today: string;
  season: OutputOf<'settings.get'>;
}) {
  const units = useUnits();
  const { roundToMinutes } = season;
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [edits, setEdits] = useState<ReadonlyMap<string, number>>(new Map());
  const [accepting, setAccepting] = useState(false);
  const [audited, setAudited] = useState<string | null>(null);
  const [explaining, setExplaining] = useState(false);
  const [traced, setTraced] = useState<string | null>(null);
  const trace = useRef<HTMLDivElement>(null);
  const { rows, proposed } = review;

  const zones = useMemo(() => new Map(data.zones.map((zone) => [zone.id, zone])), [data.zones]);
  const controllerNames = useMemo(
    () => new Map(data.controllers.filter((one) => !one.retired).map((one) => [one.id, one.name])),
    [data.controllers],
  );
  const selected = useMemo(() => new Set(rows.map((row) => row.zoneId).filter((id) => !left.has(id))), [rows, left]);
  const activeEdits = useMemo(() => new Map([...edits].filter(([id]) => selected.has(id))), [edits, selected]);
  const plan = useMemo(
    () =>
      planAccept({
        rows,
        proposed,
        programs: data.programs,
        zones: data.zones,
        selected,
        edits: activeEdits,
        roundToMinutes,
      }),
    [rows, proposed, data.programs, data.zones, selected, activeEdits, roundToMinutes],
  );
  const sums = sumWater(rows, plan.zones);
  const preview = usePreviewWeek(data.property.id, plan, review.weekThen);
  const volume = unitLabel('volume', units);
  const editMinutes = (zoneId: string, minutes: number | null) =>
    setEdits((old) => {
      const next = new Map(old);
      if (minutes === null) next.delete(zoneId);
      else next.set(zoneId, minutes);
      return next;
    });
  const showTrace = (zoneId: string) => {
    setTraced(zoneId);
    const calm = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    requestAnimationFrame(() => {
      trace.current?.scrollIntoView({ behavior: calm ? 'auto' : 'smooth', block: 'start' });
      trace.current?.focus({ preventScroll: true });
    });
  };
  const audit = rows.find((row) => row.zoneId === audited);
  return (
    <>
      <WeatherLine weather={review.weather} month={month} onExplain={() => setExplaining(true)} />
      <Findings review={review} month={month} season={season} />
      <div className="pr-overview">
        <GallonsNowThen rows={rows} sums={sums} zones={zones} month={month} />
        <TwoWeeks now={review.weekNow} preview={preview} isWhole={plan.isWhole} rarely={rarely(plan)} />
      </div>
      <Section title={say('pr.zoneByZone')} note={say('pr.minutesOneDay')}>
        {rows.length === 0 ? (
          <EmptyState title={say('pr.noZones')}>{say('pr.allRetired')}</EmptyState>
        ) : (
          <ReviewTable
            rows={rows}
            zones={zones}
            controllerNames={controllerNames}
            then={plan.zones}
            left={left}
            edits={edits}
            reclaimed={data.property.waterSupply === 'reclaimed'}
            onTake={(zoneId, takes) =>
              setLeft((old) => {
                const next = new Set(old);
                if (takes) next.delete(zoneId);
                else next.add(zoneId);
                return next;
              })
            }
            onTakeAll={(takes) => setLeft(takes ? new Set() : new Set(rows.map((row) => row.zoneId)))}
            onEdit={editMinutes}
            onAudit={setAudited}
            onTrace={showTrace}
          />
        )}
      </Section>
      {rows.length === 0 ? null : (
        <div className="pr-accept no-print" role="region" aria-label={say('pr.acceptRegion')}>
          <p aria-live="polite">
            <Said
              text={say('pr.takeAdvice', { chosen: selected.size })}
              parts={{ zones: <b>{say('pr.zonesOf', { chosen: selected.size, count: rows.length })}</b> }}
            />
            {sums.counted === 0 ? (
              ''
            ) : (
              <>
                <Said
                  text={say('pr.aboutWater')}
                  parts={{
                    now: formatEstimate('volume', sums.now, units),
                    after: (
                      <b>
                        {formatEstimate('volume', sums.after, units)} {volume}
                      </b>
                    ),
                  }}
                />{' '}
                <span className="pr-estimate">{say('pr.estimate')}</span>
              </>
            )}
          </p>
          {plan.programs.length === 0 ? (
            <span className="quiet small">{selected.size === 0 ? say('pr.chooseOne') : say('pr.alreadySet')}</span>
          ) : null}
          <Button look="primary" isDisabled={plan.programs.length === 0} onPress={() => setAccepting(true)}>
            {selected.size === rows.length ? say('pr.acceptAll') : say('pr.acceptZones', { count: selected.size })}
          </Button>
        </div>
      )}
      <Section title={say('pr.theYear')} note={say('pr.yearNote', { month })} id="seasonal-table">
        {review.seasonalTable.length === 0 ? (
          <EmptyState title={say('pr.needsNone', { month })}>{say('pr.percentagesCount')}</EmptyState>
        ) : (
          <SeasonalTable
            table={review.seasonalTable}
            zones={rows}
            baseMonth={month}
            heading={`${data.client.name}, ${data.property.street}`}
          />
        )}
      </Section>
      <div ref={trace} tabIndex={-1} className={`pr-trace-anchor${traced === null ? '' : ' shown'}`}>
        <TraceSection rows={rows} today={today} zoneId={traced} onZone={setTraced} />
      </div>
      {accepting ? (
        <AcceptDialog
          data={data}
          plan={plan}
          rows={rows}
          month={month}
          today={today}
          week={preview.week}
          sums={sums}
          onClose={() => setAccepting(false)}
          onDone={() => {
            setAccepting(false);
            setEdits(new Map());
            setLeft(new Set());
          }}
        />
      ) : null}
      {audit === undefined ? null : (
        <CatchCanSheet row={audit} property={data} today={today} onClose={() => setAudited(null)} />
      )}
      {explaining ? (
        <EtoSheet
          data={data}
          stationName={review.weather.stationName}
          month={month}
          today={today}
          onClose={() => setExplaining(false)}
        />
      ) : null}
    </>
  );
}

/** The days of programs that water less than once a week: a week drawn may hold none of it. */
function rarely(plan: AcceptPlan): string | null {
  const rare = plan.programs.filter(
    ({ settings: { enabled, days, runs } }) =>
      enabled && days.kind === 'interval' && days.everyDays > 7 && runs.some((run) => run.runMinutes > 0),
  );
  return rare.length === 0
    ? null
    : rare
        .map((program) => say('pr.watersRarely', { name: program.name, days: sayDays(program.settings.days) }))
        .join(', ');
}

/** What stands in the way or must be known first. */
function Findings({ review, month, season }: { review: Review; month: number; season: OutputOf<'settings.get'> }) {
  const grave = review.findings.filter((finding) => isGrave(finding.code));
  const telling = review.findings.filter((finding) => !isGrave(finding.code));
  const breaches = review.weekNow.breaches.length;
  const isOff = isOffMonth(month, season);
  if (review.findings.length === 0 && breaches === 0 && !isOff) return null;
  return (
    <section className="pr-findings" aria-label={say('pr.findings')}>
      {isOff ? <Caution>{say('pr.offCaution', { month })}</Caution> : null}
      {breaches === 0 ? null : (
        <p className="pr-finding grave">
          <WarnIcon />
          <span>
            <b>{say('pr.breaksNow')}</b> {say('pr.presentBreak', { runs: breaches })}{' '}
            <a href="#/company/rules">{say('pr.seeRule')}</a>
          </span>
        </p>
      )}
      {grave.map((finding) => (
        <p key={finding.code} className="pr-finding grave">
          <WarnIcon />
          <span>
            <b>{say('pr.mind')}</b> {sayTold(finding.text)}
          </span>
          {finding.code.startsWith('rule') ? <ButtonLink href="#/company/rules">{say('pr.seeRule')}</ButtonLink> : null}
        </p>
      ))}
      {telling.map((finding) => (
        <p key={finding.code} className="pr-finding">
          <span>{sayTold(finding.text)}</span>
        </p>
      ))}
    </section>
  );
}
