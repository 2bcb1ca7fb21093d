import { useState } from 'react';
import type { DueItem } from '../../../core/due/contract.ts';
import type { Technician } from '../../../core/people/contract.ts';
import type { Failure } from '../../../core/errors.ts';
import { Button, Dialog, DueMark, ErrorNote, formatDayNear, NumberField, TextField } from '../../parts/index.ts';
import { useToday } from '../../state/use-settings.ts';
import { dueKey } from './calendar-model.ts';
import { orderOf, SlotFields } from './slot-fields.tsx';
import type { SlotForm } from './slot-fields.tsx';
import type { BookingResult, BookingSlot } from './use-calendar-actions.ts';
import { say, sayError } from '../../state/say.ts';

const SHOWN = 8;

/** Books what is due without a mouse: one stop or many, all on one day of one technician. */
export function BookDialog({
  items: asked,
  date,
  technicians,
  onBook,
  onClose,
}: {
  items: DueItem[];
  /** Where the form starts. */
  date: string;
  technicians: Technician[];
  onBook: (items: DueItem[], slot: BookingSlot) => Promise<BookingResult>;
  onClose: () => void;
}) {
  const today = useToday();
  const [items, setItems] = useState(asked);
  const [form, setForm] = useState<SlotForm>({
    date,
    technicianId: '',
    place: 'end',
    windowFrom: null,
    windowTo: null,
  });
  const [minutes, setMinutes] = useState<number | null>(null);
  const [note, setNote] = useState('');
  const [failure, setFailure] = useState<Failure | null>(null);
  const [busy, setBusy] = useState(false);
  const known = ['date', 'technicianId', 'orderInDay', 'windowFrom', 'windowTo', 'expectedMinutes', 'note'];
  const errors = (field: string) => (failure?.field === field ? sayError(failure) : null);
  const book = async () => {
    if (form.date === null) {
      setFailure({ code: 'bad-input', message: say('calendar.chooseDay'), field: 'date' });
      return;
    }
    setBusy(true);
    const { failure: error, left } = await onBook(items, {
      date: form.date,
      technicianId: form.technicianId === '' ? null : form.technicianId,
      windowFrom: form.windowFrom,
      windowTo: form.windowTo,
      note,
      ...orderOf(form.place),
      ...(minutes === null ? {} : { expectedMinutes: minutes }),
    });
    setBusy(false);
    if (error === null) onClose();
    else {
      setFailure(error);
      setItems(left);
    }
  };
  const many = say('calendar.bookMany', { count: items.length });
  const title = items.length === 1 ? say('calendar.bookAt', { street: items[0]?.street ?? '' }) : many;
  return (
    <Dialog
      title={title}
      isOpen
      onClose={onClose}
      footer={
        <Button look="primary" isDisabled={busy} onPress={() => void book()}>
          {items.length === 1 ? say('calendar.bookVisit') : many}
        </Button>
      }
    >
      <ul className="book-list">
        {items.slice(0, SHOWN).map((item) => (
          <li key={dueKey(item)}>
            <DueMark kind={item.kind} late={item.daysLate > 0} /> {item.street}, {item.clientName}{' '}
            <span className="quiet">{say('calendar.dueOn', { day: formatDayNear(item.dueOn, today) })}</span>
          </li>
        ))}
        {items.length > SHOWN ? (
          <li className="quiet">{say('calendar.andMore', { count: items.length - SHOWN })}</li>
        ) : null}
      </ul>
      {failure !== null && !known.includes(failure.field ?? '') ? <ErrorNote error={failure} /> : null}
      <div className="visit-form">
        <SlotFields
          form={form}
          onChange={(next) => {
            setForm(next);
            setFailure(null);
          }}
          technicians={technicians}
          movedId={null}
          errors={errors}
        />
        <NumberField
          label={say('calendar.timeEach')}
          unit="min"
          value={minutes}
          onChange={setMinutes}
          min={5}
          max={600}
          digits={0}
          description={say('calendar.usualTime')}
          error={errors('expectedMinutes')}
        />
        <TextField
          label={say('calendar.noteForTechnician')}
          value={note}
          onChange={setNote}
          rows={2}
          error={errors('note')}
        />
      </div>
    </Dialog>
  );
}
