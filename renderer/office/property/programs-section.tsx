import { useState } from 'react';
import { addDays, weekStartOf } from '../../../core/dates.ts';
import type { Program, ProgramRevision } from '../../../core/programs/contract.ts';
import type { WateringDays } from '../../../core/contract/parts.ts';
import { WaterWeekChart } from '../../charts/water-week.tsx';
import {
  Button,
  Dialog,
  EmptyState,
  ErrorNote,
  formatDate,
  formatNumber,
  Section,
  WEEKDAYS,
  ZoneTag,
} from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { say, sayStored, sayTold } from '../../state/say.ts';
import { whyWaterIsOff } from '../../../core/programs/water-off.ts';
import { ProgramEditor } from './program-editor.tsx';
import type { OpenProperty } from './use-property-editor.ts';

/** "Mon, Wed, Fri" / "odd dates" / "every 3 days" */
export function sayDays(days: WateringDays): string {
  if (days.kind === 'weekdays')
    return days.weekdays.length === 7
      ? say('property.program.everyDay')
      : days.weekdays.length === 0
        ? say('property.program.noDay')
        : [...days.weekdays]
            .sort((a, b) => a - b)
            .map((day) => WEEKDAYS[day - 1])
            .join(', ');
  if (days.kind === 'interval')
    return days.everyDays === 1
      ? say('property.program.everyDay')
      : say('property.program.everyDays', { count: days.everyDays });
  return days.kind === 'even'
    ? say('property.program.evenDates')
    : say(days.monthEnd === 'skip' ? 'property.program.oddDatesNot31' : 'property.program.oddDates');
}

/** What the controllers are told, and the week that follows from it. */
export function ProgramsSection({ data, today }: { data: OpenProperty; today: string }) {
  const [monday, setMonday] = useState<string | null>(null);
  const [editing, setEditing] = useState<{ program: Program | null; controllerId: string } | null>(null);
  const [history, setHistory] = useState<Program | null>(null);
  const shownWeek = monday ?? weekStartOf(today);
  const hasPrograms = data.programs.length > 0;
  const week = useRequest('program.week', hasPrograms ? { propertyId: data.property.id, date: shownWeek } : null);
  const off = week.data === undefined ? null : whyWaterIsOff(data.season, week.data.weekStart);
  const controllers = data.controllers.filter((controller) => !controller.retired);
  const first = controllers[0];
  const add =
    first === undefined || data.zones.length === 0 ? null : (
      <Button look="quiet" onPress={() => setEditing({ program: null, controllerId: first.id })}>
        {say('property.program.add')}
      </Button>
    );
  return (
    <Section title={say('property.program.title')} actions={add}>
      {!hasPrograms ? (
        <EmptyState
          title={say('property.program.none')}
          action={
            add === null ? undefined : (
              <Button look="primary" onPress={() => setEditing({ program: null, controllerId: first?.id ?? '' })}>
                {say('property.program.add')}
              </Button>
            )
          }
        >
          {data.zones.length === 0 ? say('property.program.zonesFirst') : say('property.program.copy')}
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
                    aria-label={say('property.program.revisionsOf', {
                      count: program.revisionCount,
                      name: program.name,
                    })}
                    onPress={() => setHistory(program)}
                  >
                    {say('property.program.revisions', { count: program.revisionCount })}
                  </Button>
                  <Button
                    aria-label={say('property.program.editNamed', { name: program.name })}
                    onPress={() => setEditing({ program, controllerId: program.controllerId })}
                  >
                    {say('property.program.edit')}
                  </Button>
                </span>
              </li>
            ))}
          </ul>
          {week.error !== null ? (
            <ErrorNote error={week.error} onRetry={week.reload} />
          ) : week.data === undefined ? (
            <p className="waiting" role="status">
              {say('property.program.workingOut')}
            </p>
          ) : (
            <WaterWeekChart
              week={week.data}
              today={today}
              off={off === null ? null : sayTold(off)}
              title={say('property.program.weekFrom', { date: week.data.weekStart })}
              actions={
                <>
                  <Button look="quiet" onPress={() => setMonday(addDays(shownWeek, -7))}>
                    {say('property.program.weekBefore')}
                  </Button>
                  {monday === null ? null : (
                    <Button look="quiet" onPress={() => setMonday(null)}>
                      {say('property.program.thisWeek')}
                    </Button>
                  )}
                  <Button look="quiet" onPress={() => setMonday(addDays(shownWeek, 7))}>
                    {say('property.program.weekAfter')}
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
      {revision.enabled ? null : <strong className="bad">{say('property.program.off')}</strong>}
      <span>{sayDays(revision.days)}</span>
      <span>
        {revision.startTimes.length === 0
          ? say('property.program.noStart')
          : say('property.program.startsAt', { clocks: revision.startTimes })}
      </span>
      <span>
        {say('property.program.zonesMinutes', {
          zones: running.length,
          minutes: running.reduce((sum, run) => sum + run.runMinutes, 0),
        })}
      </span>
      <span className="percent-now">{revision.seasonalPercent} %</span>
      <span className="quiet small">{say('property.program.since', { date: revision.effectiveDate })}</span>
    </p>
  );
}

function HistoryDialog({ program, data, onClose }: { program: Program; data: OpenProperty; onClose: () => void }) {
  const { data: history, error, reload } = useRequest('program.history', { programId: program.id });
  const stations = new Map(data.zones.map((zone) => [zone.id, zone]));
  return (
    <Dialog title={say('property.program.everyRevision', { name: program.name })} size="wide" isOpen onClose={onClose}>
      {error === null ? null : <ErrorNote error={error} onRetry={reload} />}
      <ol className="revisions">
        {history?.revisions.map((revision, index) => (
          <li key={revision.id}>
            <div className="revision-when">
              <strong>{formatDate(revision.effectiveDate)}</strong>
              <span className="quiet small">
                {sayStored(revision.madeBy)}
                {revision.id === program.revision.id ? ` · ${say('property.program.inForce')}` : ''}
                {revision.isVoid ? ` · ${say('property.program.isVoid')}` : ''}
              </span>
            </div>
            <div>
              <p>
                {say('property.program.revisionLine', {
                  days: sayDays(revision.days),
                  clocks: revision.startTimes,
                  percent: revision.seasonalPercent,
                  enabled: revision.enabled,
                  reason: sayStored(revision.reason),
                })}
              </p>
              <RevisionRuns
                revision={revision}
                before={history.revisions.slice(index + 1).find((one) => !one.isVoid)}
                stations={stations}
              />
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
