import { useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { KeyboardEvent } from 'react';
import { useVirtualizer } from '@tanstack/react-virtual';
import { unitLabel } from '../../core/units.ts';
import { CheckField, TextField } from '../parts/fields.tsx';
import { formatCount, formatEstimate, formatMinutes } from '../parts/format.ts';
import { say, sayTold } from '../state/say.ts';

import { WarnIcon } from '../parts/icons.tsx';
import { useUnits } from '../state/use-settings.ts';
import { useProgramsJob } from './programs-job.ts';
import type { ReviewAll } from './programs-job.ts';

/** Off by twice the need. */
const FULL_BAR = 2;

type Row = ReviewAll['rows'][number];

/** The ranked list; a row opens the property's review of the same month. */
export function ProgramsList({ rows, month }: { rows: readonly Row[]; month: number }) {
  const units = useUnits();
  const [search, setSearch] = useState('');
  const [onlyBreaking, setOnlyBreaking] = useState(false);
  const [onlyOver, setOnlyOver] = useState(false);
  const list = useRef<HTMLOListElement>(null);
  const [offset, setOffset] = useState(0);
  const ranked = useMemo(() => rows.map((row, index) => ({ row, rank: index + 1 })), [rows]);
  const shown = useMemo(() => {
    const wanted = search.trim().toLowerCase();
    return ranked.filter(
      ({ row }) =>
        (wanted === '' || `${row.clientName} ${row.street}`.toLowerCase().includes(wanted)) &&
        (!onlyBreaking || row.breaches > 0) &&
        (!onlyOver || row.minutesPerWeekNow > row.minutesPerWeekThen),
    );
  }, [ranked, search, onlyBreaking, onlyOver]);
  // A few programs far out must not make all other bars alike: beyond this the bar is full and pointed.
  const furthest = Math.min(FULL_BAR, Math.max(0.01, rows[0]?.distanceFromNeed ?? 0));
  const scroller = () => list.current?.closest<HTMLElement>('.desk') ?? null;
  const virtual = useVirtualizer({
    count: shown.length,
    getScrollElement: scroller,
    estimateSize: () => 66,
    overscan: 10,
    scrollMargin: offset,
    getItemKey: (index) => shown[index]?.row.propertyId ?? index,
    initialOffset: useProgramsJob.getState().top,
  });
  useLayoutEffect(() => {
    const desk = scroller();
    if (desk === null || list.current === null) return undefined;
    const measure = () => {
      if (list.current !== null)
        setOffset(list.current.getBoundingClientRect().top - desk.getBoundingClientRect().top + desk.scrollTop);
    };
    measure();
    desk.scrollTop = useProgramsJob.getState().top;
    const keep = () => useProgramsJob.setState({ top: desk.scrollTop });
    desk.addEventListener('scroll', keep, { passive: true });
    window.addEventListener('resize', measure);
    return () => {
      desk.removeEventListener('scroll', keep);
      window.removeEventListener('resize', measure);
    };
  }, []);
  // Arrows go from row to row; Tab leaves the list sooner than after thousands of links.
  const onKeyDown = (event: KeyboardEvent) => {
    if (event.key !== 'ArrowDown' && event.key !== 'ArrowUp') return;
    const rowsNow = [...(list.current?.querySelectorAll<HTMLElement>('a.pg-row') ?? [])];
    const at = rowsNow.indexOf(document.activeElement as HTMLElement);
    const next = rowsNow[at + (event.key === 'ArrowDown' ? 1 : -1)];
    if (at < 0 || next === undefined) return;
    event.preventDefault();
    next.focus();
  };
  const volume = unitLabel('volume', units);
  return (
    <section aria-label={say('review.listLabel')}>
      <div className="pg-filter">
        <TextField label={say('review.clientOrStreet')} type="search" value={search} onChange={setSearch} />
        <CheckField label={say('review.breakingRule')} value={onlyBreaking} onChange={setOnlyBreaking} />
        <CheckField label={say('review.tooMuchWater')} value={onlyOver} onChange={setOnlyOver} />
        <p className="quiet small" role="status">
          {shown.length === rows.length
            ? say('review.properties', { count: rows.length })
            : say('review.someOf', { shown: shown.length, count: rows.length })}
        </p>
      </div>
      <div className="pg-row pg-heads" aria-hidden="true">
        <span className="figure">{say('review.rankSign')}</span>
        <span>{say('review.clientStreet')}</span>
        <span className="figure">{say('review.perWeekNow', { unit: volume })}</span>
        <span className="figure">{say('review.perWeekAdvised', { unit: volume })}</span>
        <span>{say('review.offBy')}</span>
        <span>{say('review.firstOfAll')}</span>
      </div>
      {shown.length === 0 ? <p className="pg-none">{say('review.noneFits')}</p> : null}
      <ol ref={list} className="pg-list" style={{ height: virtual.getTotalSize() }} onKeyDown={onKeyDown}>
        {virtual.getVirtualItems().map((item) => {
          const found = shown[item.index];
          if (found === undefined) return null;
          return (
            <li
              key={item.key}
              ref={virtual.measureElement}
              data-index={item.index}
              aria-posinset={item.index + 1}
              aria-setsize={shown.length}
              style={{ transform: `translateY(${item.start - virtual.options.scrollMargin}px)` }}
            >
              <ProgramRow row={found.row} rank={found.rank} month={month} furthest={furthest} />
            </li>
          );
        })}
      </ol>
    </section>
  );
}

function ProgramRow({ row, rank, month, furthest }: { row: Row; rank: number; month: number; furthest: number }) {
  const units = useUnits();
  const volume = unitLabel('volume', units);
  const off = `${formatCount(row.distanceFromNeed * 100)} %`;
  const side =
    row.distanceFromNeed < 0.005
      ? ''
      : row.minutesPerWeekNow > row.minutesPerWeekThen
        ? say('review.tooMuch')
        : say('review.tooLittle');
  const known = row.gallonsPerWeekNow !== null && row.gallonsPerWeekThen !== null;
  return (
    <a className="pg-row" href={`#/office/property/${row.propertyId}/review/${month}`}>
      <span className="figure pg-rank">
        <span className="visually-hidden">{say('review.rank')}</span>
        {rank}
      </span>
      <span className="pg-who">
        <b>{row.clientName}</b>
        <span className="quiet">{say('review.streetZones', { street: row.street, zones: row.zones })}</span>
      </span>
      {known ? (
        <>
          <span className="figure">
            <span className="pg-small-head">{say('review.now')}</span>
            {formatEstimate('volume', row.gallonsPerWeekNow, units)}
            <span className="pg-small-head">{say('review.perWeek', { unit: volume })}</span>
          </span>
          <span className="figure">
            <span className="pg-small-head">{say('review.advised')}</span>
            {formatEstimate('volume', row.gallonsPerWeekThen, units)}
            <span className="pg-small-head">{say('review.perWeek', { unit: volume })}</span>
          </span>
        </>
      ) : (
        <>
          <span className="figure quiet" title={say('review.notEveryFlow')}>
            <span className="pg-small-head">{say('review.now')}</span>
            {formatMinutes(row.minutesPerWeekNow)} <span className="pg-run">{say('review.run')}</span>
          </span>
          <span className="figure quiet" title={say('review.notEveryFlow')}>
            <span className="pg-small-head">{say('review.advised')}</span>
            {formatMinutes(row.minutesPerWeekThen)} <span className="pg-run">{say('review.run')}</span>
          </span>
        </>
      )}
      <span className="pg-off">
        <span className="pg-bar-line" aria-hidden="true">
          <span
            className={row.distanceFromNeed > furthest ? 'beyond' : ''}
            style={{ width: `${Math.min(100, (row.distanceFromNeed / furthest) * 100)}%` }}
          />
        </span>
        <span className="figure">
          <b>{off}</b>
          <span className="pg-side">{side}</span>
        </span>
      </span>
      <span className="pg-why">
        {row.breaches > 0 ? (
          <span className="pg-breach">
            <WarnIcon />
            {say('review.breaches', { count: row.breaches })}
          </span>
        ) : null}
        {row.worst === null ? (
          <span className="quiet">{say('review.asAdvised')}</span>
        ) : (
          <span>{worstOf(row.worst)}</span>
        )}
        {row.guesses > 0 ? <span className="quiet small">{say('review.restsOn', { count: row.guesses })}</span> : null}
      </span>
    </a>
  );
}

/** The worst thing here; a breach names its zone itself. */
function worstOf(worst: NonNullable<Row['worst']>): string {
  const said = sayTold(worst.text);
  return worst.code === 'breaks-restriction'
    ? said
    : say('advice.ofZone', { station: worst.station, zoneName: worst.zoneName, said });
}
