import { Checkbox } from 'react-aria-components';

/** A yes-or-no fact as one wide target. */
export function CheckRow({
  label,
  value,
  onChange,
}: {
  label: string;
  value: boolean;
  onChange: (value: boolean) => void;
}) {
  return (
    <Checkbox className="fd-check" isSelected={value} onChange={onChange}>
      <span className="fd-check-box" aria-hidden="true">
        {value ? '✓' : ''}
      </span>
      <span>{label}</span>
    </Checkbox>
  );
}
