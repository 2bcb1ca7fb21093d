import type { ClipboardEvent } from 'react';
import type { MonthlyNormal } from '../../core/weather/contract.ts';
import { fromStored, toStored, unitLabel } from '../../core/units.ts';
import type { UnitSystem } from '../../core/units.ts';
import type { PlainKey } from '../../core/text/say.ts';
import { NumberField } from '../parts/index.ts';
import { say, words } from '../state/say.ts';

type Field = keyof MonthlyNormal;

const KM_PER_MILE = 1.609344;

interface Column {
  field: Field;
  label: PlainKey;
  unit: (units: UnitSystem) => string;
  shown: (stored: number, units: UnitSystem) => number;
  stored: (shown: number, units: UnitSystem) => number;
  digits: (units: UnitSystem) => number;
}
const same = (value: number) => value;
const COLUMNS: readonly Column[] = [
  {
    field: 'tmaxF',
    label: 'company.highest',
    unit: (units) => unitLabel('temperature', units),
    shown: (value, units) => fromStored('temperature', value, units),
    stored: (value, units) => toStored('temperature', value, units),
    digits: () => 1,
  },
  {
    field: 'tminF',
    label: 'company.lowest',
    unit: (units) => unitLabel('temperature', units),
    shown: (value, units) => fromStored('temperature', value, units),
    stored: (value, units) => toStored('temperature', value, units),
    digits: () => 1,
  },
  {
    field: 'rainInches',
    label: 'company.rain',
    unit: (units) => unitLabel('depth', units),
    shown: (value, units) => fromStored('depth', value, units),
    stored: (value, units) => toStored('depth', value, units),
    digits: (units) => (units === 'us' ? 2 : 0),
  },
  { field: 'rhMeanPct', label: 'company.humidity', unit: () => '%', shown: same, stored: same, digits: () => 0 },
  {
    field: 'windMph',
    label: 'company.wind',
    unit: (units) => (units === 'us' ? 'mph' : 'km/h'),
    shown: (value, units) => (units === 'us' ? value : value * KM_PER_MILE),
    stored: (value, units) => (units === 'us' ? value : value / KM_PER_MILE),
    digits: () => 1,
  },
  {
    field: 'solarMjM2',
    label: 'company.sun',
    unit: () => say('company.megajoules'),
    shown: same,
    stored: same,
    digits: () => 1,
  },
];
const NEEDED: ReadonlySet<Field> = new Set<Field>(['tmaxF', 'tminF', 'rainInches']);

function rounded(value: number, digits: number): number {
  return Math.round(value * 10 ** digits) / 10 ** digits;
}

/** Twelve months by six figures, typed or pasted. Kept in the book's units; only a cell that was changed is converted. */
export function NormalsTable({
  normals,
  units,
  onChange,
  at,
}: {
  normals: MonthlyNormal[];
  units: UnitSystem;
  onChange: (month: number, change: Partial<MonthlyNormal>) => void;
  at: (month: number, field: Field) => string | null;
}) {
  const put = (month: number, column: Column, value: number | null) => {
    if (value === null && NEEDED.has(column.field)) return;
    onChange(month, { [column.field]: value === null ? null : rounded(column.stored(value, units), 4) });
  };
  const onPaste = (event: ClipboardEvent<HTMLTableElement>) => {
    const text = event.clipboardData.getData('text/plain');
    const cell = (event.target as HTMLElement).closest<HTMLElement>('td[data-month]');
    if (cell === null || !/[\t\n]/.test(text.trim())) return;
    event.preventDefault();
    const firstMonth = Number(cell.dataset['month']);
    const firstColumn = Number(cell.dataset['column']);
    for (const [down, line] of text.replace(/\r/g, '').replace(/\n+$/, '').split('\n').entries()) {
      for (const [across, part] of line.split('\t').entries()) {
        const column = COLUMNS[firstColumn + across];
        const value = part.trim() === '' ? null : Number(part.trim().replace(',', '.'));
        if (column === undefined || firstMonth + down > 11 || Number.isNaN(value)) continue;
        put(firstMonth + down, column, value);
      }
    }
  };
  return (
    <div className="table-scroll">
      <table className="data normals" onPaste={onPaste}>
        <thead>
          <tr>
            <th scope="col">{say('company.month')}</th>
            {COLUMNS.map((column) => (
              <th key={column.field} scope="col" className="figure">
                {say(column.label)},<br />
                {column.unit(units)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {normals.map((normal, month) => (
            <tr key={month}>
              <th scope="row">{words().month(month + 1)}</th>
              {COLUMNS.map((column, index) => {
                const stored = normal[column.field];
                const digits = column.digits(units);
                const value = stored === null ? null : rounded(column.shown(stored, units), digits);
                return (
                  <td key={column.field} data-month={month} data-column={index}>
                    <NumberField
                      label={`${words().month(month + 1)}, ${say(column.label).toLowerCase()}`}
                      hideLabel
                      value={value}
                      onChange={(next) => {
                        if (next !== value) put(month, column, next);
                      }}
                      digits={digits}
                      error={at(month, column.field)}
                    />
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
