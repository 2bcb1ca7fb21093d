import { useState } from 'react';
import type { ProgramSettings } from '../../../core/programs/contract.ts';
import type { ReviewRow, WaterWeek } from '../../../core/programs/contract.ts';
import type { Failure } from '../../../core/errors.ts';
import { unitLabel } from '../../../core/units.ts';
import {
  Button,
  DateField,
  Dialog,
  ErrorNote,
  formatClock,
  formatEstimate,
  formatMinutes,
  formatNumber,
  SelectField,
  TextField,
  WarnIcon,
  ZoneTag,
} from '../../parts/index.ts';
import { Said } from '../../parts/said.tsx';
import { toast } from '../../state/toasts.ts';
import { useRequest } from '../../state/use-request.ts';
import { useUnits } from '../../state/use-settings.ts';
import { newId, write } from '../../state/write.ts';
import { sayDays } from '../property/programs-section.tsx';
import type { OpenProperty } from '../property/use-property-editor.ts';
import type { AcceptPlan, PlannedProgram } from '../../../core/programs/accept-plan.ts';
import type { WaterSums } from './gallons-now-then.tsx';
import { say, sayError, sayTold } from '../../state/say.ts';
import { STORED } from '../../../core/text/stored.ts';

/** Says exactly what accepting writes, then writes it. */
export function AcceptDialog({
  data,
  plan: given,
  rows,
  month,
  today,
  week,
  sums,
  onClose,
  onDone,
}: {
  data: OpenProperty;
  plan: AcceptPlan;
  rows: readonly ReviewRow[];
  month: number;
  today: string;
  week: WaterWeek | undefined;
  sums: WaterSums;
  onClose: () => void;
  onDone: () => void;
}) {
  const units = useUnits();
  const people = useRequest('people.list', {}).data?.technicians.filter((person) => person.active) ?? [];
  // As it was read when it was opened: where a program changes meanwhile, accepting is refused and says so.
  const [plan] = useState(given);
  const [doneOn, setDoneOn] = useState<string | null>(today);
  const [technicianId, setTechnicianId] = useState('');
  const [reason, setReason] = useState(() => say('pr.reviewFor', { month }));
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  // Made once, so that pressing again after a lost answer is the same write.
  const [ids] = useState(() => ({
    writeId: newId(),
    programs: plan.programs.map((program) => ({
      programId: program.programId ?? newId(),
      revisionId: newId(),
      entryId: newId(),
    })),
  }));
  const breaches = week?.breaches.length ?? 0;
  const otherMonth = doneOn !== null && Number(doneOn.slice(5, 7)) !== month;

  const accept = async () => {
    if (doneOn === null) return;
    setSaving(true);
    const reply = await write(
      'program.accept',
      {
        writeId: ids.writeId,
        propertyId: data.property.id,
        technicianId: technicianId === '' ? null : technicianId,
        doneOn,
        reason,
        programs: plan.programs.map((program, index) => ({
          ...(ids.programs[index] ?? { programId: newId(), revisionId: newId(), entryId: newId() }),
          controllerId: program.controllerId,
          name: program.name,
          settings: program.settings,
          seenRevisionId: program.revisionId,
        })),
      },
      { quiet: true },
    );
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    const { entryIds } = reply.data;
    toast({
      text: say('pr.newRevisions', { programs: plan.programs.map((program) => program.name) }),
      undo: () => void takeBack(entryIds),
    });
    onDone();
  };

  return (
    <Dialog
      title={plan.isWhole ? say('pr.acceptAll') : say('pr.acceptChosen')}
      size="wide"
      isOpen
      onClose={onClose}
      footer={
        <>
          <Button onPress={onClose}>{say('pr.cancel')}</Button>
          <Button look="primary" isDisabled={saving || doneOn === null} onPress={() => void accept()}>
            {say('pr.acceptAndRecord')}
          </Button>
        </>
      }
    >
      {failure === null ? null : <ErrorNote error={failure} />}
      <p className="pr-lead">{say('pr.thisWrites', { count: plan.programs.length })}</p>
      {otherMonth ? (
        <p className="pr-finding grave">
          <WarnIcon />
          <span>
            <b>{say('pr.mind')}</b> {say('pr.otherMonth', { month })}
          </span>
        </p>
      ) : null}
      {breaches > 0 ? (
        <p className="pr-finding grave">
          <WarnIcon />
          <span>
            <b>{say('pr.breaksRule')}</b> {say('pr.wouldBreak', { runs: breaches })}{' '}
            {week?.breaches[0] === undefined ? '' : sayTold(week.breaches[0].text)}
          </span>
        </p>
      ) : null}
      <ul className="pr-plan">
        {plan.programs.map((program, index) => (
          <li key={index}>
            <PlanOf program={program} data={data} />
          </li>
        ))}
      </ul>
      {plan.carried.length === 0 ? null : (
        <section className="pr-carried">
          <h3>{say('pr.keepMinutes')}</h3>
          <p>{say('pr.keepMinutesWhy')}</p>
          <ul>
            {plan.carried.map((zone) => {
              const row = rows.find((item) => item.zoneId === zone.zoneId);
              return (
                <li key={zone.zoneId}>
                  <ZoneTag station={row?.station ?? 0} /> {row?.zoneName}:{' '}
                  <Said
                    text={say('pr.carried')}
                    parts={{
                      minutes: formatNumber(zone.minutesADay),
                      daysNow: sayDays(zone.daysNow),
                      daysThen: <b>{sayDays(zone.daysThen)}</b>,
                      weekNow: formatMinutes(zone.minutesPerWeekNow),
                      weekThen: <b>{formatMinutes(zone.minutesPerWeekThen)}</b>,
                    }}
                  />
                  {zone.startsMerged ? ` ${say('pr.startsMerged')}` : ''}
                </li>
              );
            })}
          </ul>
        </section>
      )}
      <p className="pr-lead">
        {sums.counted === 0 ? (
          say('pr.gallonsUnknown')
        ) : (
          <Said
            text={say('pr.estimatedWater', { counted: sums.counted, zones: rows.length })}
            parts={{
              now: formatEstimate('volume', sums.now, units),
              after: (
                <b>
                  {formatEstimate('volume', sums.after, units)} {unitLabel('volume', units)}
                </b>
              ),
            }}
          />
        )}
      </p>
      <div className="form-grid">
        <DateField
          label={say('pr.setOn')}
          value={doneOn}
          onChange={setDoneOn}
          isRequired
          description={say('pr.inForceFrom')}
          error={
            doneOn !== null && doneOn > today
              ? say('pr.notComeYet')
              : failure?.field === 'doneOn'
                ? sayError(failure)
                : null
          }
        />
        <SelectField
          label={say('pr.setBy')}
          value={technicianId}
          onChange={setTechnicianId}
          options={[
            { id: '', label: say('pr.theOffice') },
            ...people.map((person) => ({ id: person.id, label: person.name })),
          ]}
        />
        <TextField
          className="full"
          label={say('pr.why')}
          value={reason}
          onChange={setReason}
          maxLength={300}
          description={say('pr.whyWhere')}
        />
      </div>
    </Dialog>
  );
}

/** Declares the entries void: the revisions they made are never in force, the earlier ones are again, and the ledger keeps both. */
async function takeBack(entryIds: readonly string[]): Promise<void> {
  for (const correctsId of entryIds) {
    const reply = await write('ledger.correct', {
      writeId: newId(),
      id: newId(),
      correctsId,
      correction: 'void',
      reason: STORED.acceptanceTakenBack,
    });
    if (!reply.ok) return;
  }
  toast({ text: say('pr.takenBack') });
}

function PlanOf({ program, data }: { program: PlannedProgram; data: OpenProperty }) {
  const { before, settings } = program;
  const controller = data.controllers.find((item) => item.id === program.controllerId);
  const stations = new Map(data.zones.map((zone) => [zone.id, zone]));
  const old = new Map(before?.runs.map((run) => [run.zoneId, run]));
  const zoneIds = [...new Set([...settings.runs, ...(before?.runs ?? [])].map((run) => run.zoneId))].sort(
    (a, b) => (stations.get(a)?.station ?? 0) - (stations.get(b)?.station ?? 0),
  );
  const lines = [
    { what: say('pr.days'), was: before === null ? '–' : sayDays(before.days), becomes: sayDays(settings.days) },
    { what: say('pr.start'), was: before === null ? '–' : sayStarts(before), becomes: sayStarts(settings) },
    {
      what: say('pr.seasonal'),
      was: before === null ? '–' : `${before.seasonalPercent} %`,
      becomes: `${settings.seasonalPercent} %`,
    },
  ];
  return (
    <>
      <h3>
        {say('pr.programNamed', { name: program.name })}{' '}
        {data.controllers.length > 1 && controller !== undefined ? `, ${controller.name}` : ''}{' '}
        {program.programId === null ? (
          <span className="pr-tagged">{say('pr.new')}</span>
        ) : !settings.enabled ? (
          <span className="pr-tagged">{say('pr.switchedOff')}</span>
        ) : null}
      </h3>
      {settings.enabled ? (
        <>
          <dl className="pr-plan-lines">
            {lines.map((line) => (
              <div key={line.what}>
                <dt>{line.what}</dt>
                <dd>
                  {line.was === line.becomes ? (
                    <>
                      {line.becomes} <span className="quiet">{say('pr.asNow')}</span>
                    </>
                  ) : (
                    <>
                      {before === null ? null : (
                        <>
                          <s>{line.was}</s> →{' '}
                        </>
                      )}
                      <b>{line.becomes}</b>
                    </>
                  )}
                </dd>
              </div>
            ))}
          </dl>
          <ul className="pr-plan-runs">
            {zoneIds.map((zoneId) => {
              const was = old.get(zoneId)?.runMinutes ?? 0;
              const run = settings.runs.find((item) => item.zoneId === zoneId);
              const is = run?.runMinutes ?? 0;
              if (was === 0 && is === 0) return null;
              return (
                <li key={zoneId} title={stations.get(zoneId)?.name}>
                  <ZoneTag station={stations.get(zoneId)?.station ?? 0} />{' '}
                  {was === is ? (
                    formatNumber(is)
                  ) : (
                    <>
                      {before === null ? null : (
                        <>
                          <s>{formatNumber(was)}</s> →{' '}
                        </>
                      )}
                      <b>{is === 0 ? say('pr.off') : formatNumber(is)}</b>
                    </>
                  )}
                  {is === 0 ? '' : ' min'}
                  {run !== undefined && is > 0 && run.cycleMinutes !== null && run.cycleMinutes < is ? (
                    <span className="quiet small">
                      {say('pr.cyclesOf', { cycleMinutes: run.cycleMinutes, soakMinutes: run.soakMinutes })}
                    </span>
                  ) : null}
                </li>
              );
            })}
          </ul>
        </>
      ) : (
        <p>{say('pr.noZoneLeft')}</p>
      )}
    </>
  );
}

const sayStarts = (settings: ProgramSettings) =>
  settings.startTimes.length === 0 ? say('pr.noStart') : settings.startTimes.map(formatClock).join(', ');
