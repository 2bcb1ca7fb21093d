import { useEffect, useState } from 'react';
import { createPortal } from 'react-dom';
import type { Technician } from '../../../core/contract/entities.ts';
import type { OutputOf } from '../../../core/contract/index.ts';
import type { Failure } from '../../../core/errors.ts';
import {
  Button,
  DateField,
  Dialog,
  ErrorNote,
  formatLongDay,
  formatMinutes,
  formatWindow,
  plural,
  SealLine,
  SelectField,
  type Seal,
  VISIT_WORDS,
  wordsOf,
} from '../../parts/index.ts';
import { ask } from '../../state/use-request.ts';

type DaySheet = OutputOf<'day.open'>;

/** Prints a page a technician with everything needed at each gate, black on white. */
export function DaySheetsDialog({
  technicians,
  date: firstDate,
  onClose,
}: {
  technicians: Technician[];
  date: string;
  onClose: () => void;
}) {
  const [date, setDate] = useState<string | null>(firstDate);
  const [who, setWho] = useState('');
  const [sheets, setSheets] = useState<DaySheet[] | null>(null);
  const [seal, setSeal] = useState<Seal | undefined>();
  const [failure, setFailure] = useState<Failure | string | null>(null);
  const [busy, setBusy] = useState(false);

  const prepare = async () => {
    if (date === null) return;
    setBusy(true);
    setFailure(null);
    const found: DaySheet[] = [];
    for (const technician of technicians.filter(({ id }) => who === '' || id === who)) {
      const reply = await ask('day.open', { technicianId: technician.id, date });
      if (!reply.ok) {
        setFailure(reply.error);
        setBusy(false);
        return;
      }
      if (reply.data.stops.length > 0) found.push(reply.data);
    }
    const sealed = await ask('book.seal', {});
    if (sealed.ok) setSeal(sealed.data);
    setBusy(false);
    if (!sealed.ok) setFailure(sealed.error);
    else if (found.length === 0)
      setFailure(`Nothing is booked for ${formatLongDay(date)}. Choose another day, or book visits first.`);
    else setSheets(found);
  };

  useEffect(() => {
    if (sheets === null) return;
    // The sheets are in the page now; the print window holds everything up until it is closed.
    window.print();
    onClose();
  }, [sheets, onClose]);

  return (
    <>
      <Dialog
        title="Print day sheets"
        isOpen
        onClose={onClose}
        size="small"
        footer={
          <Button look="primary" isDisabled={busy || date === null} onPress={() => void prepare()}>
            Print day sheets
          </Button>
        }
      >
        <p className="quiet">One sheet a technician: stops in order with gate code, dog, shutoff and a box to tick.</p>
        {failure === null ? null : <ErrorNote error={failure} />}
        <div className="form-grid visit-form">
          <DateField label="Day" value={date} onChange={setDate} isRequired />
          <SelectField
            label="Technician"
            value={who}
            onChange={setWho}
            options={[{ id: '', label: 'Everybody' }, ...technicians.map(({ id, name }) => ({ id, label: name }))]}
          />
        </div>
      </Dialog>
      {sheets === null || date === null
        ? null
        : createPortal(
            <div className="print-sheets">
              {sheets.map((sheet) => (
                <OneSheet key={sheet.technician.id} sheet={sheet} date={date} seal={seal} />
              ))}
            </div>,
            document.body,
          )}
    </>
  );
}

function OneSheet({ sheet, date, seal }: { sheet: DaySheet; date: string; seal: Seal | undefined }) {
  const minutes = sheet.stops.reduce((sum, { visit }) => sum + visit.expectedMinutes, 0);
  return (
    <article className="print-sheet">
      <header>
        <h1>{sheet.technician.name}</h1>
        <p>
          {formatLongDay(date)} · {plural(sheet.stops.length, 'stop')} · {formatMinutes(minutes)} of work
          {sheet.truck === null ? '' : ` · ${sheet.truck.name}`}
        </p>
      </header>
      <ol>
        {sheet.stops.map((stop) => (
          <li key={stop.visit.id}>
            <span className="print-tick" />
            <div>
              <p className="print-where">
                {stop.street}
                {stop.city === '' ? '' : `, ${stop.city}`}
              </p>
              <p>
                <strong>{VISIT_WORDS[stop.visit.kind]}</strong>, {stop.visit.expectedMinutes} min,{' '}
                {formatWindow(stop.visit.windowFrom, stop.visit.windowTo)}. {stop.clientName}
                {stop.phone === '' ? '' : `, ${stop.phone}`}
              </p>
              <p>
                {factsOf(stop).map(([name, value]) => (
                  <span key={name} className="print-fact">
                    {name}: <strong>{value}</strong>
                  </span>
                ))}
              </p>
              {stop.visit.note === '' ? null : <p>Note: {stop.visit.note}</p>}
            </div>
          </li>
        ))}
      </ol>
      <SealLine seal={seal} />
    </article>
  );
}

function factsOf(stop: DaySheet['stops'][number]): [string, string][] {
  const facts: [string, string][] = [
    ['Gate', stop.gateCode],
    ['Dog', stop.dogNote],
    ['Access', stop.accessNotes],
    ['Shutoff', stop.shutoffLocation],
    [
      'Backflow',
      stop.backflowKind === 'none' || stop.backflowKind === 'unknown'
        ? ''
        : [wordsOf(stop.backflowKind), stop.backflowLocation].filter((text) => text !== '').join(', '),
    ],
    ['Water', stop.waterSupply === 'reclaimed' ? 'reclaimed, not for drinking' : ''],
    ['Zones', stop.zoneCount === 0 ? '' : String(stop.zoneCount)],
  ];
  return facts.filter(([, value]) => value !== '');
}
