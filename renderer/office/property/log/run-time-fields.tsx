import type { LedgerDetailInput } from '../../../../core/ledger/entry-contract.ts';
import type { Failure } from '../../../../core/errors.ts';
import { formatNumber, NumberField, SelectField, TextField, ZoneTag } from '../../../parts/index.ts';
import { say } from '../../../state/say.ts';
import { errorAt } from '../edit/form-sheet.tsx';
import type { OpenProperty } from '../use-property-editor.ts';

type Change = Extract<LedgerDetailInput, { kind: 'run-time-change' }>;

/** Run times as changed on site: the old value beside the new one, zone by zone. */
export function RunTimeFields({
  detail,
  data,
  failure,
  onChange,
}: {
  detail: Change;
  data: OpenProperty;
  failure: Failure | null;
  onChange: (detail: LedgerDetailInput) => void;
}) {
  const program = data.programs.find((item) => item.id === detail.programId);
  const zones = data.zones
    .filter((zone) => !zone.retired && zone.controllerId === program?.controllerId)
    .sort((a, b) => a.station - b.station);
  const runs = detail.runs ?? [];
  const setMinutes = (zoneId: string, minutes: number | null, old: number) => {
    const rest = runs.filter((run) => run.zoneId !== zoneId);
    onChange({
      ...detail,
      runs: minutes === null || minutes === old ? rest : [...rest, { zoneId, runMinutes: minutes }],
    });
  };
  return (
    <div className="form-grid">
      {data.programs.length > 1 ? (
        <SelectField
          label={say('property.program.title')}
          value={detail.programId}
          onChange={(programId) => onChange({ ...detail, programId, runs: [] })}
          options={data.programs.map((item) => ({ id: item.id, label: item.name }))}
        />
      ) : null}
      <NumberField
        label={say('work.seasonalNow', { percent: program?.revision.seasonalPercent ?? 100 })}
        unit="%"
        value={detail.seasonalPercent ?? null}
        min={0}
        max={300}
        digits={0}
        onChange={(value) => onChange(withPercent(detail, value))}
        description={say('work.emptyAsWas')}
        error={errorAt(failure, 'seasonalPercent')}
      />
      <table className="data minutes full">
        <caption className="visually-hidden">{say('work.runMinutes')}</caption>
        <thead>
          <tr>
            <th scope="col">{say('property.program.zone')}</th>
            <th scope="col" className="figure">
              {say('work.nowMin')}
            </th>
            <th scope="col">{say('work.newMin')}</th>
          </tr>
        </thead>
        <tbody>
          {zones.map((zone) => {
            const old = program?.revision.runs.find((run) => run.zoneId === zone.id)?.runMinutes ?? 0;
            const changed = runs.find((run) => run.zoneId === zone.id);
            return (
              <tr key={zone.id}>
                <th scope="row" className="zone-name">
                  <span>
                    <ZoneTag station={zone.station} /> <span>{zone.name}</span>
                  </span>
                </th>
                <td className="figure">{formatNumber(old)}</td>
                <td>
                  <NumberField
                    label={say('work.newMinutes', { station: zone.station, zone: zone.name })}
                    hideLabel
                    value={changed?.runMinutes ?? null}
                    min={0}
                    max={720}
                    onChange={(value) => setMinutes(zone.id, value, old)}
                  />
                </td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <TextField
        className="full"
        label={say('work.why')}
        value={detail.reason ?? ''}
        onChange={(reason) => onChange({ ...detail, reason })}
        maxLength={300}
        error={errorAt(failure, 'detail.reason')}
      />
    </div>
  );
}

function withPercent(detail: Change, value: number | null): Change {
  const { seasonalPercent: _old, ...rest } = detail;
  return value === null ? rest : { ...rest, seasonalPercent: Math.round(value) };
}
