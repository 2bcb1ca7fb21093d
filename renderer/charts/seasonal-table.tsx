import type { OutputOf } from '../../core/contract/index.ts';
import { unitLabel } from '../../core/units.ts';
import { Button } from '../parts/button.tsx';
import { formatFigure, formatNumber } from '../parts/format.ts';
import { ZoneTag } from '../parts/marks.tsx';
import { say, words } from '../state/say.ts';
import { useUnits } from '../state/use-settings.ts';
import './science.css';

export interface SeasonalTableProps {
  table: OutputOf<'program.review'>['seasonalTable'];
  zones: ReadonlyArray<{ zoneId: string; station: number; zoneName: string }>;
  /** The month whose minutes are 100 %. */
  baseMonth: number;
  /** Stands above the printed sheet. */
  heading: string;
}

/** Twelve months: the percentage to set, the weather behind it, and what each zone then runs. */
export function SeasonalTable({ table, zones, baseMonth, heading }: SeasonalTableProps) {
  const units = useUnits();
  const depth = unitLabel('depth', units);
  const top = Math.max(100, ...table.map((row) => row.percent));
  const anyClamped = table.some((row) => isClamped(row));
  return (
    <div className="sc-seasonal">
      <p className="sc-print-head">{say('charts.percentagesOf', { heading })}</p>
      <div className="table-scroll" tabIndex={0} role="region" aria-label={say('charts.seasonalWhole')}>
        <table className="data">
          <caption className="visually-hidden">{say('charts.byMonth', { month: baseMonth })}</caption>
          <thead>
            <tr>
              <th scope="col" rowSpan={2}>
                {say('charts.month')}
              </th>
              <th scope="col" rowSpan={2} className="figure">
                {say('charts.percentSign')}
              </th>
              <th scope="col" rowSpan={2}>
                <span className="visually-hidden">{say('charts.pictureAndRemark')}</span>
              </th>
              <th scope="col" rowSpan={2} className="figure">
                {say('charts.eto', { unit: depth })}
              </th>
              <th scope="col" rowSpan={2} className="figure">
                {say('charts.rainIn', { unit: depth })}
              </th>
              <th scope="colgroup" colSpan={zones.length} className="sc-zones">
                {say('charts.minutesThen')}
              </th>
            </tr>
            <tr>
              {zones.map((zone) => (
                <th key={zone.zoneId} scope="col" className="figure" title={zone.zoneName}>
                  <ZoneTag station={zone.station} />
                  <span className="visually-hidden"> {zone.zoneName}</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.map((row) => {
              const minutes = new Map(row.zoneMinutes.map((zone) => [zone.zoneId, zone.runMinutes]));
              return (
                <tr key={row.month} className={row.month === baseMonth ? 'sc-base' : ''}>
                  <th scope="row">
                    {words().month(row.month)}
                    {row.month === baseMonth ? <span className="quiet small">{say('charts.base')}</span> : null}
                  </th>
                  <td className="figure sc-percent">{row.percent}</td>
                  <td className="sc-bar-cell">
                    <span className="sc-bar" aria-hidden="true">
                      <span
                        className={isClamped(row) ? 'clamped' : ''}
                        style={{ width: `${(row.percent / top) * 100}%` }}
                      />
                    </span>
                    {isClamped(row) ? (
                      <span className="sc-clamped">
                        ▲{' '}
                        {row.unclampedPercent < 0.5
                          ? say('charts.needsNone')
                          : say('charts.wouldBe', { percent: row.unclampedPercent })}
                      </span>
                    ) : null}
                  </td>
                  <td className="figure">{formatFigure('depth', row.etoInches, units)}</td>
                  <td className="figure">{formatFigure('depth', row.rainInches, units)}</td>
                  {zones.map((zone) => (
                    <td key={zone.zoneId} className="figure">
                      {minutes.has(zone.zoneId) ? formatNumber(minutes.get(zone.zoneId) ?? 0) : '–'}
                    </td>
                  ))}
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      <p className="sc-print-zones">{zones.map((zone) => `${zone.station} ${zone.zoneName}`).join(' · ')}</p>
      <div className="sc-foot">
        <p className="small quiet">
          {anyClamped ? say('charts.clampedNote') : ''}
          {say('charts.roundedNote')}
        </p>
        <Button className="no-print" onPress={printTable}>
          {say('charts.printTable')}
        </Button>
      </div>
    </div>
  );
}

const isClamped = (row: SeasonalTableProps['table'][number]) => Math.abs(row.unclampedPercent - row.percent) > 0.51;

/** Prints the table alone; the rest of the page is left out for as long as the printing lasts. */
function printTable(): void {
  document.documentElement.dataset['print'] = 'seasonal-table';
  const done = () => {
    delete document.documentElement.dataset['print'];
    window.removeEventListener('afterprint', done);
  };
  window.addEventListener('afterprint', done);
  window.print();
}
