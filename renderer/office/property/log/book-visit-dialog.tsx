import { useState } from 'react';
import { addDays, minutesOfClock, weekdayOf } from '../../../../core/dates.ts';
import { VISIT_KINDS } from '../../../../core/contract/parts.ts';
import type { Technician } from '../../../../core/people/contract.ts';
import type { Visit } from '../../../../core/visits/contract.ts';
import type { VisitKind } from '../../../../core/contract/parts.ts';
import { SKILL_FOR_VISIT } from '../../../../core/visits/contract.ts';
import type { Failure } from '../../../../core/errors.ts';
import {
  Button,
  DateField,
  formatAway,
  formatWeekday,
  NumberField,
  SelectField,
  TextField,
  TimeField,
  VISIT_WORDS,
  WarnIcon,
} from '../../../parts/index.ts';
import { toast } from '../../../state/toasts.ts';
import { useRequest } from '../../../state/use-request.ts';
import { newId, write } from '../../../state/write.ts';
import { say, sayTold } from '../../../state/say.ts';
import { errorAt, FormSheet } from '../edit/form-sheet.tsx';
import { STORED } from '../../../../core/text/stored.ts';

/** What is to be booked; with `visit` a planned one is moved. */
export interface BookingWish {
  kind?: VisitKind;
  dueOn?: string;
  visit?: Visit;
  date?: string;
}

/** Books or moves a visit, with the days' loads in view so that a full day is seen before it is chosen. */
export function BookVisitDialog({
  property,
  wish,
  today,
  onClose,
}: {
  property: { id: string; street: string; clientName: string };
  wish: BookingWish;
  today: string;
  onClose: () => void;
}) {
  const moving = wish.visit ?? null;
  const [ids] = useState(() => ({ writeId: newId(), visitId: moving?.id ?? newId() }));
  const [kind, setKind] = useState<VisitKind>(moving?.kind ?? wish.kind ?? 'repair');
  const [date, setDate] = useState<string | null>(
    wish.date ?? (moving !== null && moving.date >= today ? moving.date : addDays(today, 1)),
  );
  const [technicianId, setTechnicianId] = useState(moving?.technicianId ?? '');
  const [windowFrom, setWindowFrom] = useState<string | null>(moving?.windowFrom ?? null);
  const [windowTo, setWindowTo] = useState<string | null>(moving?.windowTo ?? null);
  const [expectedMinutes, setExpectedMinutes] = useState<number | null>(moving?.expectedMinutes ?? null);
  const [note, setNote] = useState(moving?.note ?? '');
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const technicians = (useRequest('people.list', {}).data?.technicians ?? []).filter((person) => person.active);
  const skill = SKILL_FOR_VISIT[kind];
  const save = async () => {
    if (date === null) return;
    setSaving(true);
    const slot = { date, windowFrom, windowTo, technicianId: technicianId === '' ? null : technicianId };
    const writeId = failure === null ? ids.writeId : newId();
    const reply =
      moving === null
        ? await write(
            'visit.book',
            {
              writeId,
              visitId: ids.visitId,
              propertyId: property.id,
              kind,
              ...slot,
              note,
              ...(expectedMinutes === null ? {} : { expectedMinutes }),
            },
            { quiet: true },
          )
        : await write('visit.move', { writeId, visitId: moving.id, ...slot, note }, { quiet: true });
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    toast({
      text: say(moving === null ? 'work.booked' : 'work.moved', {
        visit: VISIT_WORDS[kind],
        date,
        notes: reply.data.warnings.map(sayTold),
      }),
      undo: () => {
        if (moving === null)
          void write('visit.cancel', { writeId: newId(), visitId: ids.visitId, reason: STORED.bookingTakenBack });
        else
          void write('visit.move', {
            writeId: newId(),
            visitId: moving.id,
            date: moving.date,
            windowFrom: moving.windowFrom,
            windowTo: moving.windowTo,
            technicianId: moving.technicianId,
            orderInDay: moving.orderInDay,
            note: moving.note,
          });
      },
    });
    onClose();
  };
  return (
    <FormSheet
      small
      title={say(moving === null ? 'work.bookTitle' : 'work.moveTitle', {
        client: property.clientName,
        street: property.street,
      })}
      save={() => void save()}
      saveWords={moving === null ? say('property.bookVisit') : say('property.moveVisit')}
      saving={saving}
      failure={failure}
      onClose={onClose}
      canSave={date !== null}
    >
      {wish.dueOn === undefined ? null : (
        <p className="form-lead">{say('work.due', { date: wish.dueOn, away: formatAway(wish.dueOn, today) })}</p>
      )}
      <div className="form-grid">
        <SelectField
          label={say('property.visit')}
          value={kind}
          onChange={(id) => setKind(id as VisitKind)}
          isDisabled={moving !== null}
          options={VISIT_KINDS.map((id) => ({ id, label: VISIT_WORDS[id] }))}
          autoFocus
        />
        <DateField
          label={say('property.day')}
          value={date}
          onChange={setDate}
          isRequired
          error={errorAt(failure, 'date')}
        />
        <SelectField
          label={say('work.technician')}
          value={technicianId}
          onChange={setTechnicianId}
          error={errorAt(failure, 'technicianId')}
          options={[
            { id: '', label: say('office.nobodyYet') },
            ...technicians.map((person) => ({
              id: person.id,
              label: person.name,
              ...(skill !== undefined && !person.skills.includes(skill)
                ? { description: say('work.notMarkedFor', { visit: VISIT_WORDS[kind] }) }
                : {}),
            })),
          ]}
        />
        <NumberField
          label={say('work.takes')}
          unit="min"
          value={expectedMinutes}
          min={5}
          max={600}
          step={5}
          digits={0}
          onChange={setExpectedMinutes}
          isDisabled={moving !== null}
          description={moving === null ? say('work.takesWhy') : undefined}
          error={errorAt(failure, 'expectedMinutes')}
        />
        <TimeField
          label={say('work.notBefore')}
          value={windowFrom}
          onChange={setWindowFrom}
          error={errorAt(failure, 'windowFrom')}
        />
        <TimeField
          label={say('work.notAfter')}
          value={windowTo}
          onChange={setWindowTo}
          error={errorAt(failure, 'windowTo')}
        />
        <TextField
          className="full"
          label={say('work.noteForTechnician')}
          rows={2}
          value={note}
          onChange={setNote}
          error={errorAt(failure, 'note')}
        />
      </div>
      <DayLoads
        technicians={technicians}
        from={today}
        date={date}
        technicianId={technicianId === '' ? null : technicianId}
        onChoose={setDate}
      />
    </FormSheet>
  );
}

/** Fourteen days, each with how full it is; press one to choose it. */
function DayLoads({
  technicians,
  from,
  date,
  technicianId,
  onChoose,
}: {
  technicians: readonly Technician[];
  from: string;
  date: string | null;
  technicianId: string | null;
  onChoose: (date: string) => void;
}) {
  const start = date !== null && date > addDays(from, 13) ? addDays(date, -4) : from;
  const { data } = useRequest('visit.list', {
    fromDate: start,
    toDate: addDays(start, 13),
    technicianId,
    states: ['planned'],
  });
  const days = Array.from({ length: 14 }, (_, index) => addDays(start, index));
  return (
    <div className="day-loads" role="group" aria-label={say('work.howFull')}>
      {days.map((day) => {
        const crew = technicians.filter(
          (person) =>
            (technicianId === null || person.id === technicianId) && person.workWeekdays.includes(weekdayOf(day)),
        );
        const room = crew.reduce(
          (sum, person) => sum + minutesOfClock(person.dayEnd) - minutesOfClock(person.dayStart),
          0,
        );
        const loads = (data?.load ?? []).filter(
          (load) => load.date === day && (technicianId === null || load.technicianId === technicianId),
        );
        const booked = loads.reduce((sum, load) => sum + load.bookedMinutes, 0);
        const visits = loads.reduce((sum, load) => sum + load.visits, 0);
        const share = room === 0 ? (booked > 0 ? 1 : 0) : booked / room;
        const full = share >= 1;
        const off = room === 0 && technicians.length > 0;
        return (
          <Button
            key={day}
            aria-pressed={day === date}
            className={`day-load${day === date ? ' toggled' : ''}${full ? ' full' : ''}${off ? ' off' : ''}`}
            onPress={() => onChoose(day)}
          >
            <span>
              {formatWeekday(day)} {Number(day.slice(8))}
            </span>
            <span className="load-track" aria-hidden="true">
              <span className="load-fill" style={{ width: `${Math.min(100, share * 100)}%` }} />
            </span>
            <span className="visually-hidden">
              {say('work.dayBooked', { visits, bookedMinutes: booked, roomMinutes: room })}
            </span>
            <span className="small">
              {off ? (
                say('work.off')
              ) : full ? (
                <>
                  <WarnIcon /> {say('work.full')}
                </>
              ) : visits === 0 ? (
                say('work.free')
              ) : (
                visits
              )}
            </span>
          </Button>
        );
      })}
    </div>
  );
}
