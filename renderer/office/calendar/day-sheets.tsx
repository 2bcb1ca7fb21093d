import { useEffect, useState } from 'react';
import { createPortal } from 'react-dom';
import type { Technician } from '../../../core/people/contract.ts';
import type { OutputOf } from '../../../core/contract/index.ts';
import type { Failure } from '../../../core/errors.ts';
import {
  Button,
  DateField,
  Dialog,
  ErrorNote,
  formatWindow,
  SealLine,
  SelectField,
  type Seal,
  VISIT_WORDS,
  wordsOf,
} from '../../parts/index.ts';
import { ask } from '../../state/use-request.ts';
import { say, words } from '../../state/say.ts';

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
    else if (found.length === 0) setFailure(say('calendar.nothingBookedFor', { date }));
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
        title={say('calendar.printSheets')}
        isOpen
        onClose={onClose}
        size="small"
        footer={
          <Button look="primary" isDisabled={busy || date === null} onPress={() => void prepare()}>
            {say('calendar.printSheets')}
          </Button>
        }
      >
        <p className="quiet">{say('calendar.sheetsWhy')}</p>
        {failure === null ? null : <ErrorNote error={failure} />}
        <div className="form-grid visit-form">
          <DateField label={say('calendar.day')} value={date} onChange={setDate} isRequired />
          <SelectField
            label={say('calendar.technician')}
            value={who}
            onChange={setWho}
            options={[
              { id: '', label: say('calendar.everybody') },
              ...technicians.map(({ id, name }) => ({ id, label: name })),
            ]}
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
          {say('calendar.sheetHead', { date, stops: sheet.stops.length, minutes })}
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
                <strong>{VISIT_WORDS[stop.visit.kind]}</strong>, {words().duration(stop.visit.expectedMinutes)},{' '}
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
              {stop.visit.note === '' ? null : <p>{say('calendar.noteIs', { note: stop.visit.note })}</p>}
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
    [say('calendar.fact.gate'), stop.gateCode],
    [say('calendar.fact.dog'), stop.dogNote],
    [say('calendar.fact.access'), stop.accessNotes],
    [say('calendar.fact.shutoff'), stop.shutoffLocation],
    [
      say('calendar.fact.backflow'),
      stop.backflowKind === 'none' || stop.backflowKind === 'unknown'
        ? ''
        : [wordsOf(stop.backflowKind), stop.backflowLocation].filter((text) => text !== '').join(', '),
    ],
    [say('calendar.fact.water'), stop.waterSupply === 'reclaimed' ? say('calendar.reclaimed') : ''],
    [say('calendar.fact.zones'), stop.zoneCount === 0 ? '' : String(stop.zoneCount)],
  ];
  return facts.filter(([, value]) => value !== '');
}
