import { useState } from 'react';
import type { Technician } from '../../../core/people/contract.ts';
import type { VisitRow } from '../../../core/visits/contract.ts';
import type { Failure } from '../../../core/errors.ts';
import {
  Button,
  ButtonLink,
  CheckField,
  Dialog,
  ErrorNote,
  formatLongDay,
  PhoneLink,
  TextField,
  VisitMark,
  VISIT_STATE_WORDS,
} from '../../parts/index.ts';
import { orderOf, SlotFields } from './slot-fields.tsx';
import type { SlotForm } from './slot-fields.tsx';
import type { CalendarActions } from './use-calendar-actions.ts';
import { say, sayError, sayStored, words } from '../../state/say.ts';

/** One visit: where it stands, and everything that can be done to it without a mouse. */
export function VisitDialog({
  visit,
  technicians,
  actions,
  onClose,
}: {
  visit: VisitRow;
  technicians: Technician[];
  actions: CalendarActions;
  onClose: () => void;
}) {
  const [form, setForm] = useState<SlotForm>({
    date: visit.date,
    technicianId: visit.technicianId ?? '',
    place: 'keep',
    windowFrom: visit.windowFrom,
    windowTo: visit.windowTo,
  });
  const [locked, setLocked] = useState(visit.locked);
  const [note, setNote] = useState(visit.note);
  const [reason, setReason] = useState<string | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);
  const errors = (field: string) => (failure?.field === field ? sayError(failure) : null);
  const finish = (error: Failure | null) => (error === null ? onClose() : setFailure(error));
  const planned = visit.state === 'planned';
  const staysPut = form.date === visit.date && form.technicianId === (visit.technicianId ?? '');
  const save = async () => {
    if (form.date === null) {
      setFailure({ code: 'bad-input', message: say('calendar.dayItGoesTo'), field: 'date' });
      return;
    }
    finish(
      await actions.move(visit, {
        date: form.date,
        technicianId: form.technicianId === '' ? null : form.technicianId,
        windowFrom: form.windowFrom,
        windowTo: form.windowTo,
        locked,
        note,
        ...(form.place === 'keep' ? { orderInDay: visit.orderInDay } : orderOf(form.place)),
      }),
    );
  };
  const knownField = ['date', 'technicianId', 'orderInDay', 'windowFrom', 'windowTo', 'note', 'reason'].includes(
    failure?.field ?? '',
  );
  return (
    <Dialog
      title={visit.street}
      isOpen
      onClose={onClose}
      footer={
        planned && reason === null ? (
          <>
            <Button look="danger" onPress={() => setReason('')}>
              {say('calendar.cancelThisMore')}
            </Button>
            <Button look="primary" onPress={() => void save()}>
              {staysPut ? say('calendar.saveVisit') : say('calendar.moveVisit')}
            </Button>
          </>
        ) : planned ? (
          <>
            <Button onPress={() => setReason(null)}>{say('calendar.keepBooked')}</Button>
            <Button look="danger" onPress={() => void actions.cancel(visit, reason ?? '').then(finish)}>
              {say('calendar.cancelVisit')}
            </Button>
          </>
        ) : visit.state === 'cancelled' ? (
          <Button look="primary" onPress={() => void actions.restore(visit).then(finish)}>
            {say('calendar.bookAgain')}
          </Button>
        ) : undefined
      }
    >
      <div className="visit-about">
        <p>
          <VisitMark kind={visit.kind} />{' '}
          <span className="quiet">
            {words().duration(visit.expectedMinutes)} ·{' '}
            {visit.state === 'done' && visit.doneOn !== null
              ? say('calendar.stateOn', { state: VISIT_STATE_WORDS[visit.state], day: formatLongDay(visit.doneOn) })
              : say('calendar.stateFor', { state: VISIT_STATE_WORDS[visit.state], day: formatLongDay(visit.date) })}
          </span>
        </p>
        <p>
          {visit.clientName}
          {visit.phone === '' ? null : (
            <>
              {' '}
              · <PhoneLink phone={visit.phone} />
            </>
          )}
          {visit.city === '' ? null : ` · ${visit.city}`}
        </p>
        {visit.state === 'cancelled' && visit.cancelReason !== '' ? (
          <p className="quiet">{say('calendar.cancelledWhy', { reason: sayStored(visit.cancelReason) })}</p>
        ) : null}
        {!planned && visit.note !== '' ? <p className="quiet">{visit.note}</p> : null}
        <p>
          <ButtonLink look="quiet" href={`#/office/property/${visit.propertyId}`}>
            {say('calendar.openProperty')}
          </ButtonLink>
        </p>
      </div>
      {failure !== null && !knownField ? <ErrorNote error={failure} /> : null}
      {planned && reason === null ? (
        <div className="visit-form">
          <SlotFields
            form={form}
            onChange={(next) => {
              setForm(next);
              setFailure(null);
            }}
            technicians={technicians}
            movedId={visit.id}
            errors={errors}
            {...(staysPut ? { keepLabel: say('calendar.asItIs', { place: visit.orderInDay }) } : {})}
          />
          <TextField
            label={say('calendar.noteForTechnician')}
            value={note}
            onChange={setNote}
            rows={2}
            error={errors('note')}
          />
          <CheckField
            label={say('calendar.lock')}
            value={locked}
            onChange={setLocked}
            description={say('calendar.lockWhy')}
          />
        </div>
      ) : null}
      {planned && reason !== null ? (
        <div className="visit-form">
          <TextField
            label={say('calendar.whyCancelled')}
            value={reason}
            onChange={setReason}
            description={say('calendar.whyCancelledWhy')}
            error={errors('reason')}
            autoFocus
          />
        </div>
      ) : null}
    </Dialog>
  );
}
