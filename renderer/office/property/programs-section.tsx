import { useState } from 'react';
import { addDays, weekStartOf } from '../../../core/dates.ts';
import type { Program, ProgramRevision, WateringDays } from '../../../core/contract/entities.ts';
import { WaterWeekChart } from '../../charts/water-week.tsx';
import {
  Button,
  Dialog,
  EmptyState,
  ErrorNote,
  formatClock,
  formatDate,
  formatDay,
  formatMinutes,
  formatNumber,
  plural,
  Section,
  WEEKDAYS,
  ZoneTag,
} from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { whyWaterIsOff } from './water-off.ts';
import { ProgramEditor } from './program-editor.tsx';
import type { OpenProperty } from './use-property-editor.ts';

/** "Mon, Wed, Fri" / "odd dates" / "every 3 days" */
export function sayDays(days: WateringDays): string {
  if (days.kind === 'weekdays')
    return days.weekdays.length === 7
      ? 'every day'
      : days.weekdays.length === 0
        ? 'no day'
        : [...days.weekdays]
            .sort((a, b) => a - b)
            .map((day) => WEEKDAYS[day - 1])
            .join(', ');
  if (days.kind === 'interval') return days.everyDays === 1 ? 'every day' : `every ${days.everyDays} days`;
  return days.kind === 'odd' ? `odd dates${days.monthEnd === 'skip' ? ', not the 31st' : ''}` : 'even dates';
}

/** What the controllers are told, and the week that follows from it. */
export function ProgramsSection({ data, today }: { data: OpenProperty; today: string }) {
  const [monday, setMonday] = useState<string | null>(null);
  const [editing, setEditing] = useState<{ program: Program | null; controllerId: string } | null>(null);
  const [history, setHistory] = useState<Program | null>(null);
  const shownWeek = monday ?? weekStartOf(today);
  const hasPrograms = data.programs.length > 0;
  const week = useRequest('program.week', hasPrograms ? { propertyId: data.property.id, date: shownWeek } : null);
  const controllers = data.controllers.filter((controller) => !controller.retired);
  const first = controllers[0];
  const add =
    first === undefined || data.zones.length === 0 ? null : (
      <Button look="quiet" onPress={() => setEditing({ program: null, controllerId: first.id })}>
        Add program
      </Button>
    );
  return (
    <Section title="Program" actions={add}>
      {!hasPrograms ? (
        <EmptyState
          title="No program yet"
          action={
            add === null ? undefined : (
              <Button look="primary" onPress={() => setEditing({ program: null, controllerId: first?.id ?? '' })}>
                Add program
              </Button>
            )
          }
        >
          {data.zones.length === 0
            ? 'Add the zones first; a program says on which days, when and how long each of them runs.'
            : 'Copy what the controller is set to: days, start times and minutes. The week draws itself.'}
        </EmptyState>
      ) : (
        <>
          <ul className="programs">
            {data.programs.map((program) => (
              <li key={program.id}>
                <ProgramLine
                  program={program}
                  controllerName={
                    controllers.length > 1
                      ? (data.controllers.find((item) => item.id === program.controllerId)?.name ?? '')
                      : ''
                  }
                />
                <span className="program-actions">
                  <Button
                    look="quiet"
                    aria-label={`${plural(program.revisionCount, 'revision')} of program ${program.name}`}
                    onPress={() => setHistory(program)}
                  >
                    {plural(program.revisionCount, 'revision')}
                  </Button>
                  <Button
                    aria-label={`Edit program ${program.name}`}
                    onPress={() => setEditing({ program, controllerId: program.controllerId })}
                  >
                    Edit program
                  </Button>
                </span>
              </li>
            ))}
          </ul>
          {week.error !== null ? (
            <ErrorNote error={week.error} onRetry={week.reload} />
          ) : week.data === undefined ? (
            <p className="waiting" role="status">
              Working out the week…
            </p>
          ) : (
            <WaterWeekChart
              week={week.data}
              today={today}
              off={whyWaterIsOff(data.season, week.data.weekStart)}
              title={`Water week from ${formatDay(week.data.weekStart)}`}
              actions={
                <>
                  <Button look="quiet" onPress={() => setMonday(addDays(shownWeek, -7))}>
                    Week before
                  </Button>
                  {monday === null ? null : (
                    <Button look="quiet" onPress={() => setMonday(null)}>
                      This week
                    </Button>
                  )}
                  <Button look="quiet" onPress={() => setMonday(addDays(shownWeek, 7))}>
                    Week after
                  </Button>
                </>
              }
            />
          )}
        </>
      )}
      {editing === null ? null : (
        <ProgramEditor
          data={data}
          program={editing.program}
          controllerId={editing.controllerId}
          today={today}
          onClose={() => setEditing(null)}
        />
      )}
      {history === null ? null : <HistoryDialog program={history} data={data} onClose={() => setHistory(null)} />}
    </Section>
  );
}

function ProgramLine({ program, controllerName }: { program: Program; controllerName: string }) {
  const { revision } = program;
  const running = revision.runs.filter((run) => run.runMinutes > 0);
  return (
    <p className="program-line">
      <strong className="program-name">{program.name}</strong>
      {controllerName === '' ? null : <span className="quiet">{controllerName}</span>}
      {revision.enabled ? null : <strong className="bad">Off</strong>}
      <span>{sayDays(revision.days)}</span>
      <span>
        {revision.startTimes.length === 0 ? 'no start time' : `at ${revision.startTimes.map(formatClock).join(', ')}`}
      </span>
      <span>
        {plural(running.length, 'zone')}, {formatMinutes(running.reduce((sum, run) => sum + run.runMinutes, 0))} at 100
        %
      </span>
      <span className="percent-now">{revision.seasonalPercent} %</span>
      <span className="quiet small">since {formatDate(revision.effectiveDate)}</span>
    </p>
  );
}

function HistoryDialog({ program, data, onClose }: { program: Program; data: OpenProperty; onClose: () => void }) {
  const { data: history, error, reload } = useRequest('program.history', { programId: program.id });
  const stations = new Map(data.zones.map((zone) => [zone.id, zone]));
  return (
    <Dialog title={`Program ${program.name}: every revision`} size="wide" isOpen onClose={onClose}>
      {error === null ? null : <ErrorNote error={error} onRetry={reload} />}
      <ol className="revisions">
        {history?.revisions.map((revision, index) => (
          <li key={revision.id}>
            <div className="revision-when">
              <strong>{formatDate(revision.effectiveDate)}</strong>
              <span className="quiet small">
                {revision.madeBy}
                {index === 0 ? ' · in force' : ''}
              </span>
            </div>
            <div>
              <p>
                {sayDays(revision.days)} at {revision.startTimes.map(formatClock).join(', ') || 'no time'} ·{' '}
                {revision.seasonalPercent} %{revision.enabled ? '' : ' · off'}
                {revision.reason === '' ? '' : ` · “${revision.reason}”`}
              </p>
              <RevisionRuns revision={revision} before={history.revisions[index + 1]} stations={stations} />
            </div>
          </li>
        ))}
      </ol>
    </Dialog>
  );
}

function RevisionRuns({
  revision,
  before,
  stations,
}: {
  revision: ProgramRevision;
  before: ProgramRevision | undefined;
  stations: Map<string, { station: number; name: string }>;
}) {
  const old = new Map(before?.runs.map((run) => [run.zoneId, run.runMinutes]));
  return (
    <ul className="revision-runs">
      {revision.runs.map((run) => {
        const was = old.get(run.zoneId);
        const changed = before !== undefined && was !== run.runMinutes;
        return (
          <li key={run.zoneId} title={stations.get(run.zoneId)?.name}>
            <ZoneTag station={stations.get(run.zoneId)?.station ?? 0} />
            {changed ? (
              <>
                <s className="quiet">{was === undefined ? '–' : formatNumber(was)}</s>{' '}
                <strong>{formatNumber(run.runMinutes)}</strong>
              </>
            ) : (
              formatNumber(run.runMinutes)
            )}{' '}
            min
          </li>
        );
      })}
    </ul>
  );
}
