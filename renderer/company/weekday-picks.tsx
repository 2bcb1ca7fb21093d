import { Checkbox, CheckboxGroup, Label } from 'react-aria-components';
import { WEEKDAYS } from '../parts/index.ts';
import { say, words } from '../state/say.ts';

/** The seven weekdays, each to be picked or not; 1 = Monday. */
export function WeekdayPicks({
  label,
  value,
  onChange,
  hideLabel = false,
}: {
  label: string;
  value: number[];
  onChange: (value: number[]) => void;
  hideLabel?: boolean;
}) {
  return (
    <CheckboxGroup
      className="weekday-picks"
      value={value.map(String)}
      onChange={(next) => onChange(next.map(Number).toSorted((one, other) => one - other))}
    >
      <Label className={hideLabel ? 'visually-hidden' : 'field-label'}>{label}</Label>
      <div className="weekday-row">
        {WEEKDAYS.map((name, index) => (
          <Checkbox
            key={name}
            value={String(index + 1)}
            className="pick"
            aria-label={words().weekday(index + 1, 'long')}
          >
            {name}
          </Checkbox>
        ))}
      </div>
    </CheckboxGroup>
  );
}

/** Weekdays in words: "Mon–Fri", "Mon, Wed". */
export function weekdayWords(days: readonly number[]): string {
  const sorted = [...days].sort((one, other) => one - other);
  if (sorted.length === 0) return say('company.noDay');
  if (sorted.length === 7) return say('company.everyDay');
  const parts: string[] = [];
  for (let at = 0; at < sorted.length;) {
    let end = at;
    while (sorted[end + 1] === (sorted[end] ?? 0) + 1) end += 1;
    const name = (index: number) => WEEKDAYS[(sorted[index] ?? 1) - 1] ?? '';
    if (end - at >= 2) parts.push(`${name(at)}–${name(end)}`);
    else for (let index = at; index <= end; index += 1) parts.push(name(index));
    at = end + 1;
  }
  return parts.join(', ');
}
