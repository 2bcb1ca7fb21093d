import type { Program } from '../../../core/programs/contract.ts';
import type { Zone } from '../../../core/properties/contract.ts';
import { Choice, Stepper } from '../choice.tsx';
import { scaledMinutes } from '../../../core/programs/seasonal.ts';
import { useSettings } from '../../state/use-settings.ts';
import { newId } from '../../state/write.ts';
import { defineForm, type LogContext } from './form-spec.ts';
import { LineField } from './line-field.tsx';
import { say, texts } from '../../state/say.ts';

interface Values {
  programId: string;
  revisionId: string;
  /** New minutes by zone, only where touched. */
  minutes: Record<string, number>;
  seasonalPercent: number | null;
  reason: string;
}

const programsOf = (context: LogContext): Program[] => context.page?.programs ?? [];
const programOf = (context: LogContext, id: string): Program | undefined =>
  programsOf(context).find((program) => program.id === id);

/** The zones a program may run, by station, with the minutes set now. Exported for its test. */
export function zoneRows(context: LogContext, program: Program): { zone: Zone; now: number }[] {
  return (context.page?.zones ?? [])
    .filter((zone) => !zone.retired && zone.controllerId === program.controllerId)
    .sort((a, b) => a.station - b.station)
    .map((zone) => ({ zone, now: program.revision.runs.find((run) => run.zoneId === zone.id)?.runMinutes ?? 0 }));
}

const REASONS = texts({
  dry: 'field.reason.dry',
  wet: 'field.reason.wet',
  season: 'field.reason.season',
  client: 'field.reason.client',
  planting: 'field.reason.planting',
});

export const runTimeForm = defineForm<'run-time-change', Values>({
  kind: 'run-time-change',
  get title() {
    return say('field.do.run-time-change');
  },
  needsPage: true,
  blocked: (context) => (programsOf(context).length === 0 ? say('field.noProgram') : null),
  begin(context, from) {
    const program = programOf(context, from?.programId ?? '') ?? programsOf(context)[0];
    return {
      programId: program?.id ?? '',
      revisionId: from?.revisionId ?? newId(),
      minutes: Object.fromEntries((from?.runs ?? []).map((run) => [run.zoneId, run.runMinutes])),
      seasonalPercent: from?.seasonalPercent ?? program?.revision.seasonalPercent ?? 100,
      reason: from?.reason ?? '',
    };
  },
  Fields({ value, change, context }) {
    const settings = useSettings();
    const program = programOf(context, value.programId);
    if (program === undefined) return <p className="fd-fact">{say('field.programGone')}</p>;
    const now = program.revision;
    const scaled = (minutes: number) =>
      scaledMinutes(minutes, value.seasonalPercent ?? now.seasonalPercent, settings?.roundToMinutes ?? 1);
    return (
      <>
        {programsOf(context).length > 1 && (
          <Choice
            label={say('field.whichProgram')}
            value={value.programId}
            options={programsOf(context).map((one) => ({ id: one.id, word: say('field.program', { name: one.name }) }))}
            onChange={(programId) =>
              change({
                programId,
                minutes: {},
                seasonalPercent: programOf(context, programId)?.revision.seasonalPercent ?? 100,
              })
            }
          />
        )}
        <p className="fd-fact">
          <strong>{say('field.program', { name: program.name })}</strong>
          {say('field.programStarts', { enabled: now.enabled, startTimes: now.startTimes })}
        </p>
        <Stepper
          label={say('field.seasonal')}
          value={value.seasonalPercent}
          was={now.seasonalPercent}
          min={0}
          max={300}
          step={5}
          unit="%"
          onChange={(seasonalPercent) => change({ seasonalPercent })}
        />
        <ol className="fd-zones">
          {zoneRows(context, program).map(({ zone, now: before }) => {
            const after = value.minutes[zone.id] ?? before;
            return (
              <li key={zone.id}>
                <span className="fd-zone-name">
                  <b>{zone.station}</b> {zone.name}
                  {zone.betweenHouses ? <span className="fd-tag">{say('field.betweenHouses')}</span> : null}
                </span>
                <Stepper
                  label={say('field.minutesForZone', { station: zone.station, zone: zone.name })}
                  hideLabel
                  value={after}
                  was={before}
                  min={0}
                  max={720}
                  step={1}
                  digits={1}
                  unit={say('field.unit.min')}
                  onChange={(next) => change({ minutes: { ...value.minutes, [zone.id]: next ?? before } })}
                />
                {after !== before && (
                  <span className="fd-hint">
                    {after === 0
                      ? say('field.zoneOff')
                      : say('field.minutesChange', {
                          before,
                          after,
                          runs: scaled(after),
                          percent: value.seasonalPercent ?? now.seasonalPercent,
                        })}
                  </span>
                )}
              </li>
            );
          })}
        </ol>
        <div className="fd-quick" role="group" aria-label={say('field.usualReasons')}>
          {Object.values(REASONS).map((reason) => (
            <button
              key={reason}
              type="button"
              className="fd-chip"
              aria-pressed={value.reason === reason}
              onClick={() => change({ reason: value.reason === reason ? '' : reason })}
            >
              {reason}
            </button>
          ))}
        </div>
        <LineField
          label={say('field.why')}
          value={value.reason}
          maxLength={300}
          onChange={(reason) => change({ reason })}
        />
      </>
    );
  },
  finish(value, context) {
    const program = programOf(context, value.programId);
    if (program === undefined) return { problem: say('field.chooseProgram') };
    const before = new Map(zoneRows(context, program).map((row) => [row.zone.id, row.now]));
    const runs = Object.entries(value.minutes)
      .filter(([zoneId, minutes]) => before.has(zoneId) && before.get(zoneId) !== minutes)
      .map(([zoneId, runMinutes]) => ({ zoneId, runMinutes }));
    const percent = value.seasonalPercent ?? program.revision.seasonalPercent;
    if (runs.length === 0 && percent === program.revision.seasonalPercent)
      return {
        problem: say('field.nothingDiffers'),
      };
    return {
      detail: {
        kind: 'run-time-change',
        programId: program.id,
        revisionId: value.revisionId,
        runs,
        ...(percent === program.revision.seasonalPercent ? {} : { seasonalPercent: percent }),
        reason: value.reason.trim(),
      },
    };
  },
});
