import { useState } from 'react';
import type { Zone } from '../../../core/contract/entities.ts';
import type { ReviewRow } from '../../../core/contract/programs.ts';
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
  plural,
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
  const volume = `${unitLabel('volume', units)}/wk`;
  const depth = `${unitLabel('depth', units)}/wk`;
  return (
    <>
      <div className="pr-table-top">
        <RuleLegend end={end} />
        <div className="pr-take-all">
          <span className="quiet small">
            {taking} of {plural(rows.length, 'zone')} chosen
          </span>
          <Button look="quiet" isDisabled={taking === rows.length} onPress={() => props.onTakeAll(true)}>
            Choose all
          </Button>
          <Button look="quiet" isDisabled={taking === 0} onPress={() => props.onTakeAll(false)}>
            Choose none
          </Button>
        </div>
      </div>
      <table className="pr-table" role="table">
        <caption className="visually-hidden">
          Zones: what is set now and what is advised. Minutes are for one watering day.
        </caption>
        <thead role="rowgroup">
          <tr role="row">
            <th role="columnheader" rowSpan={2} className="pr-take">
              <span className="visually-hidden">Take the advice</span>
            </th>
            <th role="columnheader" rowSpan={2}>
              Zone
            </th>
            <th role="columnheader" colSpan={4} className="pr-group">
              Now
            </th>
            <th role="columnheader" rowSpan={2} className="pr-picture">
              <span className="visually-hidden">Picture</span>
            </th>
            <th role="columnheader" colSpan={6} className="pr-group pr-advice">
              Advice
            </th>
            <th role="columnheader" rowSpan={2} className="figure">
              Rule of
              <br />
              thumb, min
            </th>
          </tr>
          <tr role="row">
            <th role="columnheader" className="figure">
              min
            </th>
            <th role="columnheader" className="figure">
              days/wk
            </th>
            <th role="columnheader" className="figure">
              {depth}
            </th>
            <th role="columnheader" className="figure">
              {volume}
              <br />
              <i>est.</i>
            </th>
            <th role="columnheader" className="figure pr-advice">
              min
            </th>
            <th role="columnheader" className="figure">
              limits
            </th>
            <th role="columnheader">cycles, min</th>
            <th role="columnheader" className="figure">
              days/wk
            </th>
            <th role="columnheader" className="figure">
              {depth}
            </th>
            <th role="columnheader" className="figure">
              {volume}
              <br />
              <i>est.</i>
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
  const name = `zone ${row.station} ${row.zoneName}`;
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
            label={<span className="visually-hidden">Take the advice for {name}</span>}
            value={takes}
            onChange={(value) => onTake(row.zoneId, value)}
          />
        </td>
        <th role="rowheader" scope="row" className="pr-name">
          <ZoneTag station={row.station} reclaimed={reclaimed} /> <span>{row.zoneName}</span>
          <span className="pr-kind">
            {wordsOf(row.plantKind)}, {wordsOf(row.emissionDevice).toLowerCase()},{' '}
            <Guess known={zone?.soilKnown ?? 'measured'}>{wordsOf(row.soil).toLowerCase()}</Guess>
            {row.betweenHouses ? ', between houses' : ''}
          </span>
        </th>
        <td
          role="cell"
          className="figure pr-now"
          data-label="Now, min"
          title={
            setDiffers
              ? `Set to ${formatNumber(row.now.runMinutes)} min at 100 %; this is what runs on a watering day`
              : undefined
          }
        >
          {row.now.minutesPerWeek === 0 ? <span className="quiet">off</span> : formatNumber(minutesADay(row.now))}
        </td>
        <td role="cell" className="figure" data-label="days/wk">
          {sayDaysPerWeek(row.now.daysPerWeek)}
        </td>
        <td role="cell" className="figure" data-label={`${unitLabel('depth', units)}/wk`}>
          {formatFigure('depth', row.now.inchesPerWeek, units)}
        </td>
        <td role="cell" className="figure" data-label={`${unitLabel('volume', units)}/wk est.`}>
          <Gallons value={row.now.gallonsPerWeek} known={flowKnown} />
        </td>
        <td role="cell" className="pr-picture">
          <MinuteRule row={row} minutes={minutes} end={end} />
        </td>
        <td role="cell" className="figure pr-advice" data-label="Advice, min">
          <span className="pr-minutes">
            <NumberField
              label={`Advised minutes for ${name}`}
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
                aria-label={`Put back ${formatNumber(row.advice.runMinutes)}, ${name}`}
                onPress={() => onEdit(row.zoneId, null)}
              >
                Put back {formatNumber(row.advice.runMinutes)}
              </Button>
            )}
          </span>
        </td>
        <td role="cell" className="figure pr-limits" data-label="limits">
          {row.advice.upperMinutes === 0
            ? '–'
            : `${formatNumber(row.advice.lowerMinutes, 0)}–${formatNumber(row.advice.upperMinutes, 0)}`}
          <Shaky row={row} />
        </td>
        <td role="cell" className="pr-cycles" data-label="cycles, min">
          {sayCycles(row.advice)}
        </td>
        <td role="cell" className="figure" data-label="days/wk">
          {sayDaysPerWeek(row.advice.daysPerWeek)}
        </td>
        <td role="cell" className="figure" data-label={`${unitLabel('depth', units)}/wk`}>
          {formatFigure(
            'depth',
            row.advice.inchesPerWeek === null
              ? null
              : row.advice.inchesPerWeek *
                  (edit === undefined || row.advice.runMinutes === 0 ? 1 : edit / row.advice.runMinutes),
            units,
          )}
        </td>
        <td role="cell" className="figure" data-label={`${unitLabel('volume', units)}/wk est.`}>
          <Gallons
            value={takes && after !== undefined ? after.gallonsPerWeek : row.advice.gallonsPerWeek}
            known={flowKnown}
          />
        </td>
        <td role="cell" className="figure pr-thumb" data-label="thumb, min">
          {row.thumb === null ? (
            <span className="quiet">none</span>
          ) : (
            <>
              {formatRange(row.thumb.minutesFrom, row.thumb.minutesTo)}
              {row.thumb.differs ? <span className="pr-differs">≠ differs</span> : null}
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
            {row.reasons.length === 0 ? <li className="quiet">Set as advised.</li> : null}
            {takes || after === undefined ? null : <li className="quiet">Keeps its present minutes.</li>}
          </ul>
          <span className="pr-row-actions">
            <Button
              look="quiet"
              aria-expanded={open}
              aria-controls={detailId}
              aria-label={`${open ? 'Hide why' : moreWords(row)}, ${name}`}
              onPress={() => setOpen(!open)}
            >
              {open ? 'Hide why' : moreWords(row)}
            </Button>
            <Button look="quiet" aria-label={`Catch-can test, ${name}`} onPress={() => onAudit(row.zoneId)}>
              Catch-can test
            </Button>
            <Button look="quiet" aria-label={`Soil moisture, ${name}`} onPress={() => onTrace(row.zoneId)}>
              Soil moisture
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
      title={`${say('guess.field', { field: worst.field })} is a guess (${sayTold(worst.range)}); the minutes may move by up to ${sayShare(worst.effectShare)}`}
    >
      <span className="guess">± {sayShare(worst.effectShare)}</span> <span className="guess-word">guess</span>
    </span>
  );
}

function moreWords(row: ReviewRow): string {
  const more = Math.max(0, row.reasons.length - 2);
  const parts = [
    ...(more > 0 ? [plural(more, 'more reason')] : []),
    ...(row.guesses.length > 0 ? [plural(row.guesses.length, 'guess', 'guesses')] : []),
  ];
  return parts.length === 0 ? 'Show why' : `Show ${parts.join(', ')}`;
}

function Gallons({ value, known }: { value: number | null; known: Zone['flowKnown'] }) {
  const units = useUnits();
  if (value === null)
    return (
      <span className="quiet" title="The zone's flow is not known">
        flow?
      </span>
    );
  return (
    <Guess
      known={value === 0 ? 'measured' : known}
      title={known === 'guess' ? "The zone's flow is a guess" : 'Run minutes × flow'}
    >
      {formatEstimate('volume', value, units)}
    </Guess>
  );
}
