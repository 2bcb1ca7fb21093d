import { Caution } from '../caution.tsx';
import { Choice, Stepper } from '../choice.tsx';
import { CheckRow } from './check-row.tsx';
import { defineForm } from './form-spec.ts';
import { LineField, LinesField } from './line-field.tsx';
import { ZonePick } from './zone-pick.tsx';

interface RepairValues {
  zoneId: string;
  what: string;
  minutesSpent: number | null;
}
const REPAIRS = [
  'Head replaced',
  'Nozzle cleaned',
  'Head raised',
  'Valve rebuilt',
  'Line leak mended',
  'Wire joint remade',
] as const;

export const repairForm = defineForm<'repair', RepairValues>({
  kind: 'repair',
  title: 'Log repair',
  needsPage: false,
  begin: (_context, from) => ({
    zoneId: from?.zoneId ?? '',
    what: from?.what ?? '',
    minutesSpent: from?.minutesSpent ?? null,
  }),
  Fields: ({ value, change, context }) => (
    <>
      <ZonePick context={context} value={value.zoneId} onChange={(zoneId) => change({ zoneId })} />
      <div className="fd-quick" role="group" aria-label="Usual repairs">
        {REPAIRS.map((what) => (
          <button
            key={what}
            type="button"
            className="fd-chip"
            aria-pressed={value.what === what}
            onClick={() => change({ what })}
          >
            {what}
          </button>
        ))}
      </div>
      <LineField label="What was mended" value={value.what} maxLength={300} onChange={(what) => change({ what })} />
      <Stepper
        label="Time spent"
        value={value.minutesSpent}
        min={0}
        max={1440}
        step={5}
        unit="min"
        onChange={(minutesSpent) => change({ minutesSpent })}
        hint="Wiring above extra-low voltage, such as the controller's mains side, belongs to a licensed electrician."
      />
    </>
  ),
  finish: (value) =>
    value.what.trim() === ''
      ? { problem: 'Say what was mended.' }
      : {
          detail: {
            kind: 'repair',
            zoneId: value.zoneId === '' ? null : value.zoneId,
            what: value.what.trim(),
            minutesSpent: value.minutesSpent,
          },
        },
});

interface PartValues {
  part: string;
  quantity: number | null;
  price: string;
}

/** Cents from what was typed, null for nothing, undefined for what is no price. Exported for its test. */
export function centsOf(text: string): number | null | undefined {
  const cleaned = text.trim().replace(/^\$/, '').replace(',', '.');
  if (cleaned === '') return null;
  return /^\d{1,5}(\.\d{1,2})?$/.test(cleaned) ? Math.round(Number(cleaned) * 100) : undefined;
}

export const partForm = defineForm<'part-used', PartValues>({
  kind: 'part-used',
  title: 'Log parts used',
  needsPage: false,
  begin: (_context, from) => ({
    part: from?.part ?? '',
    quantity: from?.quantity ?? 1,
    price: from === null || from.unitPriceCents === null ? '' : (from.unitPriceCents / 100).toFixed(2),
  }),
  Fields: ({ value, change }) => (
    <>
      <LineField
        label="Part"
        value={value.part}
        maxLength={160}
        hint="For example: 4 in pop-up body"
        onChange={(part) => change({ part })}
      />
      <Stepper
        label="How many"
        value={value.quantity}
        min={0.25}
        max={10000}
        step={1}
        digits={2}
        unit="pieces or ft"
        onChange={(quantity) => change({ quantity })}
      />
      <LineField
        label="Price each, $ (may be left empty)"
        value={value.price}
        maxLength={12}
        inputMode="decimal"
        onChange={(price) => change({ price })}
      />
    </>
  ),
  finish(value) {
    const unitPriceCents = centsOf(value.price);
    if (value.part.trim() === '') return { problem: 'Name the part.' };
    if (value.quantity === null || value.quantity <= 0) return { problem: 'Say how many were used.' };
    if (unitPriceCents === undefined) return { problem: 'The price must be an amount such as 4.25, or empty.' };
    return { detail: { kind: 'part-used', part: value.part.trim(), quantity: value.quantity, unitPriceCents } };
  },
});

interface BackflowValues {
  passed: 'yes' | 'no' | '';
  tester: string;
  licenceNumber: string;
  nextDue: string;
}

export const backflowForm = defineForm<'backflow-test', BackflowValues>({
  kind: 'backflow-test',
  title: 'Log backflow test',
  needsPage: false,
  begin: (context, from) => ({
    passed: from === null ? '' : from.passed ? 'yes' : 'no',
    tester: from?.tester ?? context.technicianName,
    licenceNumber: from?.licenceNumber ?? '',
    nextDue: from === null ? aYearAfter(context.doneOn) : (from.nextDue ?? ''),
  }),
  Fields: ({ value, change, context }) => (
    <>
      <Caution title="drinking water">
        A backflow assembly keeps dirty water out of the drinking water. Only a tester licensed under the local code
        tests or repairs it. If it fails, tell the client and the office before you leave.
      </Caution>
      {context.page !== null && context.page.property.backflowSerial !== '' && (
        <p className="fd-fact">Serial number {context.page.property.backflowSerial}</p>
      )}
      <Choice
        label="Result"
        value={value.passed === '' ? null : value.passed}
        onChange={(passed) => change({ passed })}
        options={[
          { id: 'yes', word: 'Passed', sign: '✓', tone: 'good' },
          { id: 'no', word: 'Failed', sign: '✕', tone: 'bad' },
        ]}
      />
      <LineField
        label="Licensed tester"
        value={value.tester}
        maxLength={120}
        onChange={(tester) => change({ tester })}
      />
      <LineField
        label="License number"
        value={value.licenceNumber}
        maxLength={60}
        onChange={(licenceNumber) => change({ licenceNumber })}
      />
      <label className="fd-text">
        <span>Next test due</span>
        <input
          type="date"
          value={value.nextDue}
          min="2000-01-01"
          max="2199-12-31"
          onChange={(event) => change({ nextDue: event.target.value })}
        />
        <span className="fd-hint">A year from now unless the local code says otherwise.</span>
      </label>
    </>
  ),
  finish(value) {
    if (value.passed === '') return { problem: 'Say whether the assembly passed or failed.' };
    if (value.tester.trim() === '' || value.licenceNumber.trim() === '')
      return { problem: 'Write down the licensed tester and the license number: a test counts only with them.' };
    return {
      detail: {
        kind: 'backflow-test',
        passed: value.passed === 'yes',
        tester: value.tester.trim(),
        licenceNumber: value.licenceNumber.trim(),
        nextDue: value.nextDue === '' ? null : value.nextDue,
      },
    };
  },
});

function aYearAfter(date: string): string {
  const year = Number(date.slice(0, 4)) + 1;
  return `${year}${date.slice(4) === '-02-29' ? '-02-28' : date.slice(4)}`;
}

interface WalkValues {
  clientPresent: boolean;
  topics: string;
}

export const walkForm = defineForm<'walk-through', WalkValues>({
  kind: 'walk-through',
  title: 'Log walk-through',
  needsPage: false,
  begin: (_context, from) => ({ clientPresent: from?.clientPresent ?? false, topics: from?.topics ?? '' }),
  Fields: ({ value, change }) => (
    <>
      <CheckRow
        label="The client walked along"
        value={value.clientPresent}
        onChange={(clientPresent) => change({ clientPresent })}
      />
      <LinesField
        label="What was looked at and agreed"
        value={value.topics}
        onChange={(topics) => change({ topics })}
      />
    </>
  ),
  finish: (value) =>
    value.topics.trim() === '' && !value.clientPresent
      ? { problem: 'Write down what was looked at, or tick that the client walked along.' }
      : { detail: { kind: 'walk-through', clientPresent: value.clientPresent, topics: value.topics.trim() } },
});
