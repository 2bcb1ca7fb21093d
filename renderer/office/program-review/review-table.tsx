import { useState } from 'react';
import type { Zone } from '../../../core/properties/contract.ts';
import type { ReviewRow } from '../../../core/programs/contract.ts';
import { unitLabel } from '../../../core/units.ts';
import {
  Button,
  CheckField,
  formatEstimate,
  formatFigure,
  formatNumber,
  formatRange,
  Guess,
  NumberField,
  wordsOf,
  ZoneTag,
} from '../../parts/index.ts';
import { useUnits } from '../../state/use-settings.ts';
import type { ZoneThen } from '../../../core/programs/accept-plan.ts';
import { MinuteRule, RuleLegend, ruleEnd } from './minute-rule.tsx';
import { RowDetail } from './row-detail.tsx';
import { minutesADay, sayCycles, sayDaysPerWeek, sayShare } from './review-words.ts';
import { say, sayTold } from '../../state/say.ts';

export interface ReviewTableProps {
  rows: readonly ReviewRow[];
  zones: ReadonlyMap<string, Zone>;
  controllerNames: ReadonlyMap<string, string>;
  then: ReadonlyMap<string, ZoneThen>;
  left: ReadonlySet<string>;
  edits: ReadonlyMap<string, number>;
  onTake: (zoneId: string, takes: boolean) => void;
  onTakeAll: (takes: boolean) => void;
  onEdit: (zoneId: string, minutes: number | null) => void;
  onAudit: (zoneId: string) => void;
  onTrace: (zoneId: string) => void;
  reclaimed: boolean;
}

/** One row a zone: what is set, what is advised, the rule of thumb beside it, and why. */
export function ReviewTable(props: ReviewTableProps) {
  const { rows, left, edits } = props;
  const units = useUnits();
  const end = ruleEnd(rows, edits);
  const taking = rows.filter((row) => !left.has(row.zoneId)).length;
  const several = props.controllerNames.size > 1;
  const volume = say('pr.perWeek', { unit: unitLabel('volume', units) });
  const depth = say('pr.perWeek', { unit: unitLabel('depth', units) });
  return (
    <>
      <div className="pr-table-top">
        <RuleLegend end={end} />
        <div className="pr-take-all">
          <span className="quiet small">{say('pr.chosenOf', { chosen: taking, count: rows.length })}</span>
          <Button look="quiet" isDisabled={taking === rows.length} onPress={() => props.onTakeAll(true)}>
            {say('pr.chooseAll')}
          </Button>
          <Button look="quiet" isDisabled={taking === 0} onPress={() => props.onTakeAll(false)}>
            {say('pr.chooseNone')}
          </Button>
        </div>
      </div>
      <table className="pr-table" role="table">
        <caption className="visually-hidden">{say('pr.tableCaption')}</caption>
        <thead role="rowgroup">
          <tr role="row">
            <th role="columnheader" rowSpan={2} className="pr-take">
              <span className="visually-hidden">{say('pr.take')}</span>
            </th>
            <th role="columnheader" rowSpan={2}>
              {say('pr.zone')}
            </th>
            <th role="columnheader" colSpan={4} className="pr-group">
              {say('pr.now')}
            </th>
            <th role="columnheader" rowSpan={2} className="pr-picture">
              <span className="visually-hidden">{say('pr.picture')}</span>
            </th>
            <th role="columnheader" colSpan={6} className="pr-group pr-advice">
              {say('pr.advice')}
            </th>
            <th role="columnheader" rowSpan={2} className="figure">
              <span className="pr-thumb-head">{say('pr.thumbMin')}</span>
            </th>
          </tr>
          <tr role="row">
            <th role="columnheader" className="figure">
              {say('pr.min')}
            </th>
            <th role="columnheader" className="figure">
              {say('pr.daysPerWeek')}
            </th>
            <th role="columnheader" className="figure">
              {depth}
            </th>
            <th role="columnheader" className="figure">
              {volume}
              <br />
              <i>{say('pr.est')}</i>
            </th>
            <th role="columnheader" className="figure pr-advice">
              {say('pr.min')}
            </th>
            <th role="columnheader" className="figure">
              {say('pr.limits')}
            </th>
            <th role="columnheader">{say('pr.cyclesMin')}</th>
            <th role="columnheader" className="figure">
              {say('pr.daysPerWeek')}
            </th>
            <th role="columnheader" className="figure">
              {depth}
            </th>
            <th role="columnheader" className="figure">
              {volume}
              <br />
              <i>{say('pr.est')}</i>
            </th>
          </tr>
        </thead>
        {rows.map((row, index) => (
          <ZoneRows
            key={row.zoneId}
            row={row}
            end={end}
            {...props}
            heading={
              several && rows[index - 1]?.controllerId !== row.controllerId
                ? (props.controllerNames.get(row.controllerId) ?? '')
                : null
            }
          />
        ))}
      </table>
    </>
  );
}

function ZoneRows({
  row,
  end,
  heading,
  zones,
  then,
  left,
  edits,
  onTake,
  onEdit,
  onAudit,
  onTrace,
  reclaimed,
}: ReviewTableProps & { row: ReviewRow; end: number; heading: string | null }) {
  const units = useUnits();
  const [open, setOpen] = useState(false);
  const zone = zones.get(row.zoneId);
  const takes = !left.has(row.zoneId);
  const edit = edits.get(row.zoneId);
  const minutes = edit ?? row.advice.runMinutes;
  const after = then.get(row.zoneId);
  const flowKnown = zone?.flowKnown ?? 'guess';
  const name = say('pr.zoneNamed', { station: row.station, zone: row.zoneName });
  const detailId = `why-${row.zoneId}`;
  const setDiffers = Math.abs(minutesADay(row.now) - row.now.runMinutes) > 0.05;
  return (
    <tbody role="rowgroup" className={`pr-zone${takes ? '' : ' pr-left'}`}>
      {heading === null ? null : (
        <tr role="row">
          <th role="rowheader" colSpan={14} className="pr-controller">
            {heading}
          </th>
        </tr>
      )}
      <tr role="row" className="pr-figures">
        <td role="cell" className="pr-take">
          <CheckField
            label={<span className="visually-hidden">{say('pr.takeFor', { name })}</span>}
            value={takes}
            onChange={(value) => onTake(row.zoneId, value)}
          />
        </td>
        <th role="rowheader" scope="row" className="pr-name">
          <ZoneTag station={row.station} reclaimed={reclaimed} /> <span>{row.zoneName}</span>
          <span className="pr-kind">
            {wordsOf(row.plantKind)}, {wordsOf(row.emissionDevice).toLowerCase()},{' '}
            <Guess known={zone?.soilKnown ?? 'measured'}>{wordsOf(row.soil).toLowerCase()}</Guess>
            {row.betweenHouses ? `, ${say('pr.betweenHouses')}` : ''}
          </span>
        </th>
        <td
          role="cell"
          className="figure pr-now"
          data-label={say('pr.nowMin')}
          title={setDiffers ? say('pr.setTo', { minutes: row.now.runMinutes }) : undefined}
        >
          {row.now.minutesPerWeek === 0 ? (
            <span className="quiet">{say('pr.off')}</span>
          ) : (
            formatNumber(minutesADay(row.now))
          )}
        </td>
        <td role="cell" className="figure" data-label={say('pr.daysPerWeek')}>
          {sayDaysPerWeek(row.now.daysPerWeek)}
        </td>
        <td role="cell" className="figure" data-label={say('pr.perWeek', { unit: unitLabel('depth', units) })}>
          {formatFigure('depth', row.now.inchesPerWeek, units)}
        </td>
        <td role="cell" className="figure" data-label={say('pr.perWeekEst', { unit: unitLabel('volume', units) })}>
          <Gallons value={row.now.gallonsPerWeek} known={flowKnown} />
        </td>
        <td role="cell" className="pr-picture">
          <MinuteRule row={row} minutes={minutes} end={end} />
        </td>
        <td role="cell" className="figure pr-advice" data-label={say('pr.adviceMin')}>
          <span className="pr-minutes">
            <NumberField
              label={say('pr.advisedFor', { name })}
              hideLabel
              value={minutes}
              min={0}
              max={720}
              digits={2}
              isDisabled={!takes}
              onChange={(value) => onEdit(row.zoneId, value === null || value === row.advice.runMinutes ? null : value)}
            />
            {edit === undefined ? null : (
              <Button
                look="quiet"
                aria-label={`${say('pr.putBack', { minutes: row.advice.runMinutes })}, ${name}`}
                onPress={() => onEdit(row.zoneId, null)}
              >
                {say('pr.putBack', { minutes: row.advice.runMinutes })}
              </Button>
            )}
          </span>
        </td>
        <td role="cell" className="figure pr-limits" data-label={say('pr.limits')}>
          {row.advice.upperMinutes === 0
            ? '–'
            : `${formatNumber(row.advice.lowerMinutes, 0)}–${formatNumber(row.advice.upperMinutes, 0)}`}
          <Shaky row={row} />
        </td>
        <td role="cell" className="pr-cycles" data-label={say('pr.cyclesMin')}>
          {sayCycles(row.advice)}
        </td>
        <td role="cell" className="figure" data-label={say('pr.daysPerWeek')}>
          {sayDaysPerWeek(row.advice.daysPerWeek)}
        </td>
        <td role="cell" className="figure" data-label={say('pr.perWeek', { unit: unitLabel('depth', units) })}>
          {formatFigure(
            'depth',
            row.advice.inchesPerWeek === null
              ? null
              : row.advice.inchesPerWeek *
                  (edit === undefined || row.advice.runMinutes === 0 ? 1 : edit / row.advice.runMinutes),
            units,
          )}
        </td>
        <td role="cell" className="figure" data-label={say('pr.perWeekEst', { unit: unitLabel('volume', units) })}>
          <Gallons
            value={takes && after !== undefined ? after.gallonsPerWeek : row.advice.gallonsPerWeek}
            known={flowKnown}
          />
        </td>
        <td role="cell" className="figure pr-thumb" data-label={say('pr.thumbMinShort')}>
          {row.thumb === null ? (
            <span className="quiet">{say('pr.none')}</span>
          ) : (
            <>
              {formatRange(row.thumb.minutesFrom, row.thumb.minutesTo)}
              {row.thumb.differs ? <span className="pr-differs">≠ {say('pr.differs')}</span> : null}
            </>
          )}
        </td>
      </tr>
      <tr role="row" className="pr-words">
        <td role="cell" aria-hidden="true" />
        <td role="cell" colSpan={13}>
          <ul className={`pr-reasons${open ? ' open' : ''}`}>
            {row.reasons.slice(0, open ? undefined : 2).map((reason, index) => (
              <li key={`${reason.code} ${index}`}>{sayTold(reason.text)}</li>
            ))}
            {row.reasons.length === 0 ? <li className="quiet">{say('pr.setAsAdvised')}</li> : null}
            {takes || after === undefined ? null : <li className="quiet">{say('pr.keepsMinutes')}</li>}
          </ul>
          <span className="pr-row-actions">
            <Button
              look="quiet"
              aria-expanded={open}
              aria-controls={detailId}
              aria-label={`${open ? say('pr.hideWhy') : moreWords(row)}, ${name}`}
              onPress={() => setOpen(!open)}
            >
              {open ? say('pr.hideWhy') : moreWords(row)}
            </Button>
            <Button look="quiet" aria-label={`${say('pr.catchCanTest')}, ${name}`} onPress={() => onAudit(row.zoneId)}>
              {say('pr.catchCanTest')}
            </Button>
            <Button look="quiet" aria-label={`${say('pr.soilMoisture')}, ${name}`} onPress={() => onTrace(row.zoneId)}>
              {say('pr.soilMoisture')}
            </Button>
          </span>
        </td>
      </tr>
      <tr role="row" className="pr-detail-row" id={detailId} hidden={!open}>
        <td role="cell" colSpan={14}>
          {open ? <RowDetail row={row} zone={zone} onAudit={() => onAudit(row.zoneId)} /> : null}
        </td>
      </tr>
    </tbody>
  );
}

/** How far the worst guess may move the minutes, where that is worth knowing before setting a controller by them. */
function Shaky({ row }: { row: ReviewRow }) {
  const worst = row.guesses.reduce<ReviewRow['guesses'][number] | null>(
    (most, guess) => (most === null || guess.effectShare > most.effectShare ? guess : most),
    null,
  );
  if (worst === null || worst.effectShare < 0.1 || row.advice.runMinutes === 0) return null;
  return (
    <span
      className="pr-shaky"
      title={say('pr.shaky', {
        field: say('guess.field', { field: worst.field }),
        range: sayTold(worst.range),
        share: sayShare(worst.effectShare),
      })}
    >
      <span className="guess">± {sayShare(worst.effectShare)}</span>{' '}
      <span className="guess-word">{say('parts.guess').trim()}</span>
    </span>
  );
}

function moreWords(row: ReviewRow): string {
  const more = Math.max(0, row.reasons.length - 2);
  const parts = [
    ...(more > 0 ? [say('pr.moreReasons', { count: more })] : []),
    ...(row.guesses.length > 0 ? [say('pr.guesses', { count: row.guesses.length })] : []),
  ];
  return parts.length === 0 ? say('pr.showWhy') : say('pr.show', { what: parts });
}

function Gallons({ value, known }: { value: number | null; known: Zone['flowKnown'] }) {
  const units = useUnits();
  if (value === null)
    return (
      <span className="quiet" title={say('pr.flowNotKnown')}>
        {say('pr.flowUnknown')}
      </span>
    );
  return (
    <Guess
      known={value === 0 ? 'measured' : known}
      title={known === 'guess' ? say('pr.flowGuess') : say('pr.minutesTimesFlow')}
    >
      {formatEstimate('volume', value, units)}
    </Guess>
  );
}
