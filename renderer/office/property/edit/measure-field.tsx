import { fromStored, toStored, unitLabel } from '../../../../core/units.ts';
import type { Quantity } from '../../../../core/units.ts';
import { NumberField } from '../../../parts/index.ts';
import type { NumberFieldProps } from '../../../parts/index.ts';
import { useUnits } from '../../../state/use-settings.ts';

/** A measure in the reader's unit, kept in the book's. */
export function MeasureField({
  quantity,
  value,
  onChange,
  ...props
}: Omit<NumberFieldProps, 'unit'> & { quantity: Quantity }) {
  const units = useUnits();
  return (
    <NumberField
      {...props}
      unit={unitLabel(quantity, units)}
      value={value === null ? null : fromStored(quantity, value, units)}
      onChange={(next) => onChange(next === null ? null : toStored(quantity, next, units))}
    />
  );
}
