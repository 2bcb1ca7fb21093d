import { MONTHS, NumberField, SelectField } from '../parts/index.ts';
import { say } from '../state/say.ts';

const LONGEST = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** A day of the year, MM-DD, as month and day. */
export function MonthDayField({
  label,
  value,
  onChange,
  error,
}: {
  label: string;
  value: string;
  onChange: (value: string) => void;
  error: string | null;
}) {
  const [month = '01', day = '01'] = value.split('-');
  const longest = LONGEST[Number(month) - 1] ?? 31;
  const put = (nextMonth: string, nextDay: number) => {
    const most = LONGEST[Number(nextMonth) - 1] ?? 31;
    onChange(`${nextMonth}-${String(Math.min(Math.max(1, nextDay), most)).padStart(2, '0')}`);
  };
  return (
    <div className="month-day" role="group" aria-label={label}>
      <SelectField
        label={label}
        value={month}
        onChange={(next) => put(next, Number(day))}
        options={MONTHS.map((name, index) => ({ id: String(index + 1).padStart(2, '0'), label: name }))}
        error={error}
      />
      <NumberField
        label={say('company.dayOf', { label })}
        hideLabel
        value={Number(day)}
        onChange={(next) => put(month, next ?? 1)}
        min={1}
        max={longest}
        digits={0}
      />
    </div>
  );
}
