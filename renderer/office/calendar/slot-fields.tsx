import type { Technician } from '../../../core/people/contract.ts';
import type { VisitRow } from '../../../core/visits/contract.ts';
import { DateField, SelectField, TimeField } from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { readLoad } from './calendar-model.ts';
import { say } from '../../state/say.ts';

/** Which day, whose, when and where in the day, as a form holds it. */
export interface SlotForm {
  date: string | null;
  technicianId: string;
  /** 'keep' = as it is, 'end' = last, otherwise a place from 1. */
  place: string;
  windowFrom: string | null;
  windowTo: string | null;
}

interface SlotFieldsProps {
  form: SlotForm;
  onChange: (form: SlotForm) => void;
  technicians: Technician[];
  /** The visit being moved: not counted among its neighbours. */
  movedId: string | null;
  errors: (field: string) => string | null;
  keepLabel?: string;
}

/** The fields that say where a visit goes; each technician's room on that day stands beside the name. */
export function SlotFields({ form, onChange, technicians, movedId, errors, keepLabel }: SlotFieldsProps) {
  const day = useRequest('visit.list', form.date === null ? null : { fromDate: form.date, toDate: form.date }, {
    keepPrevious: false,
  });
  const stops = (day.data?.visits ?? []).filter(
    (visit) => (visit.technicianId ?? '') === form.technicianId && visit.id !== movedId,
  );
  const room = (technicianId: string) => {
    const load = day.data?.load.find((entry) => entry.technicianId === technicianId);
    return load === undefined ? '' : readLoad(load).word;
  };
  const set = (change: Partial<SlotForm>) =>
    onChange({
      ...form,
      ...change,
      place: change.date !== undefined || change.technicianId !== undefined ? 'end' : (change.place ?? form.place),
    });
  return (
    <div className="form-grid">
      <DateField
        label={say('calendar.day')}
        value={form.date}
        onChange={(date) => set({ date })}
        isRequired
        error={errors('date')}
      />
      <SelectField
        label={say('calendar.technician')}
        value={form.technicianId}
        onChange={(technicianId) => set({ technicianId })}
        error={errors('technicianId')}
        options={[
          ...technicians.map(({ id, name }) => ({ id, label: room(id) === '' ? name : `${name}: ${room(id)}` })),
          { id: '', label: say('calendar.nobodyYet') },
        ]}
      />
      <SelectField
        label={say('calendar.placeInDay')}
        value={form.place}
        onChange={(place) => set({ place })}
        options={placeOptions(stops, keepLabel)}
        error={errors('orderInDay')}
      />
      <TimeField
        label={say('calendar.notBefore')}
        value={form.windowFrom}
        onChange={(windowFrom) => set({ windowFrom })}
        error={errors('windowFrom')}
      />
      <TimeField
        label={say('calendar.notAfter')}
        value={form.windowTo}
        onChange={(windowTo) => set({ windowTo })}
        error={errors('windowTo')}
      />
    </div>
  );
}

function placeOptions(stops: VisitRow[], keepLabel: string | undefined) {
  return [
    ...(keepLabel === undefined ? [] : [{ id: 'keep', label: keepLabel }]),
    {
      id: 'end',
      label:
        stops.length === 0
          ? say('calendar.onlyStop')
          : say('calendar.lastAfter', { street: stops.at(-1)?.street ?? '' }),
    },
    ...stops.map((stop, index) => ({
      id: String(index + 1),
      label:
        index === 0
          ? say('calendar.firstBefore', { street: stop.street })
          : say('calendar.placeBefore', { place: index + 1, street: stop.street }),
    })),
  ];
}

/** The place asked for, as the book wants it. */
export function orderOf(place: string): { orderInDay?: number } {
  const order = Number(place);
  return Number.isInteger(order) && order > 0 ? { orderInDay: order } : {};
}
