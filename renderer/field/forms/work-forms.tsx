import { Caution } from '../caution.tsx';
import { Choice, Stepper } from '../choice.tsx';
import { CheckRow } from './check-row.tsx';
import { FindingPick } from './finding-pick.tsx';
import { defineForm } from './form-spec.ts';
import { LineField, LinesField } from './line-field.tsx';
import { ZonePick } from './zone-pick.tsx';
import { say, texts } from '../../state/say.ts';

interface RepairValues {
  zoneId: string;
  what: string;
  minutesSpent: number | null;
  closesFindingId: string;
}
const REPAIRS = texts({
  head: 'field.repair.head',
  nozzle: 'field.repair.nozzle',
  raised: 'field.repair.raised',
  valve: 'field.repair.valve',
  line: 'field.repair.line',
  wire: 'field.repair.wire',
});

export const repairForm = defineForm<'repair', RepairValues>({
  kind: 'repair',
  get title() {
    return say('field.do.repair');
  },
  needsPage: false,
  begin: (_context, from) => ({
    zoneId: from?.zoneId ?? '',
    what: from?.what ?? '',
    minutesSpent: from?.minutesSpent ?? null,
    closesFindingId: from?.closesFindingId ?? '',
  }),
  Fields: ({ value, change, context }) => (
    <>
      <ZonePick context={context} value={value.zoneId} onChange={(zoneId) => change({ zoneId })} />
      <div className="fd-quick" role="group" aria-label={say('field.usualRepairs')}>
        {Object.values(REPAIRS).map((what) => (
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
      <LineField
        label={say('field.whatMended')}
        value={value.what}
        maxLength={300}
        onChange={(what) => change({ what })}
      />
      <Stepper
        label={say('field.timeSpent')}
        value={value.minutesSpent}
        min={0}
        max={1440}
        step={5}
        unit={say('field.unit.min')}
        onChange={(minutesSpent) => change({ minutesSpent })}
        hint={say('field.mainsCaution')}
      />
      <FindingPick
        context={context}
        value={value.closesFindingId ?? ''}
        onChange={(closesFindingId) => change({ closesFindingId })}
      />
    </>
  ),
  finish: (value) =>
    value.what.trim() === ''
      ? { problem: say('field.sayMended') }
      : {
          detail: {
            kind: 'repair',
            zoneId: value.zoneId === '' ? null : value.zoneId,
            what: value.what.trim(),
            minutesSpent: value.minutesSpent,
            // A form half filled in before there were findings holds none.
            closesFindingId: (value.closesFindingId ?? '') === '' ? null : value.closesFindingId,
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
  get title() {
    return say('field.do.part-used');
  },
  needsPage: false,
  begin: (_context, from) => ({
    part: from?.part ?? '',
    quantity: from?.quantity ?? 1,
    price: from === null || from.unitPriceCents === null ? '' : (from.unitPriceCents / 100).toFixed(2),
  }),
  Fields: ({ value, change }) => (
    <>
      <LineField
        label={say('field.part')}
        value={value.part}
        maxLength={160}
        hint={say('field.partExample')}
        onChange={(part) => change({ part })}
      />
      <Stepper
        label={say('field.howMany')}
        value={value.quantity}
        min={0.25}
        max={10000}
        step={1}
        digits={2}
        unit={say('field.unit.pieces')}
        onChange={(quantity) => change({ quantity })}
      />
      <LineField
        label={say('field.priceEach')}
        value={value.price}
        maxLength={12}
        inputMode="decimal"
        onChange={(price) => change({ price })}
      />
    </>
  ),
  finish(value) {
    const unitPriceCents = centsOf(value.price);
    if (value.part.trim() === '') return { problem: say('field.namePart') };
    if (value.quantity === null || value.quantity <= 0) return { problem: say('field.sayHowMany') };
    if (unitPriceCents === undefined) return { problem: say('field.badPrice') };
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
  get title() {
    return say('field.do.backflow-test');
  },
  needsPage: false,
  begin: (context, from) => ({
    passed: from === null ? '' : from.passed ? 'yes' : 'no',
    tester: from?.tester ?? context.technicianName,
    licenceNumber: from?.licenceNumber ?? '',
    nextDue: from === null ? aYearAfter(context.doneOn) : (from.nextDue ?? ''),
  }),
  Fields: ({ value, change, context }) => (
    <>
      <Caution title={say('field.drinkingTitle')}>{say('field.drinkingCaution')}</Caution>
      {context.page !== null && context.page.property.backflowSerial !== '' && (
        <p className="fd-fact">{say('field.serial', { serial: context.page.property.backflowSerial })}</p>
      )}
      <Choice
        label={say('field.result')}
        value={value.passed === '' ? null : value.passed}
        onChange={(passed) => change({ passed })}
        options={[
          { id: 'yes', word: say('field.passed'), sign: '✓', tone: 'good' },
          { id: 'no', word: say('field.failed'), sign: '✕', tone: 'bad' },
        ]}
      />
      <LineField
        label={say('field.tester')}
        value={value.tester}
        maxLength={120}
        onChange={(tester) => change({ tester })}
      />
      <LineField
        label={say('field.license')}
        value={value.licenceNumber}
        maxLength={60}
        onChange={(licenceNumber) => change({ licenceNumber })}
      />
      <label className="fd-text">
        <span>{say('field.nextTest')}</span>
        <input
          type="date"
          value={value.nextDue}
          min="2000-01-01"
          max="2199-12-31"
          onChange={(event) => change({ nextDue: event.target.value })}
        />
        <span className="fd-hint">{say('field.nextTestWhy')}</span>
      </label>
    </>
  ),
  finish(value) {
    if (value.passed === '') return { problem: say('field.sayPassed') };
    if (value.tester.trim() === '' || value.licenceNumber.trim() === '') return { problem: say('field.sayTester') };
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
  get title() {
    return say('field.do.walk-through');
  },
  needsPage: false,
  begin: (_context, from) => ({ clientPresent: from?.clientPresent ?? false, topics: from?.topics ?? '' }),
  Fields: ({ value, change }) => (
    <>
      <CheckRow
        label={say('field.clientAlong')}
        value={value.clientPresent}
        onChange={(clientPresent) => change({ clientPresent })}
      />
      <LinesField label={say('field.lookedAt')} value={value.topics} onChange={(topics) => change({ topics })} />
    </>
  ),
  finish: (value) =>
    value.topics.trim() === '' && !value.clientPresent
      ? { problem: say('field.sayLookedAt') }
      : { detail: { kind: 'walk-through', clientPresent: value.clientPresent, topics: value.topics.trim() } },
});
