import { Input, Label, TextArea, TextField } from 'react-aria-components';

/** One line of text in the field's size. */
export function LineField({
  label,
  value,
  onChange,
  maxLength,
  hint,
  inputMode,
}: {
  label: string;
  value: string;
  onChange: (value: string) => void;
  maxLength: number;
  hint?: string;
  inputMode?: 'text' | 'numeric' | 'decimal';
}) {
  return (
    <TextField className="fd-text" value={value} onChange={onChange} maxLength={maxLength}>
      <Label>{label}</Label>
      <Input inputMode={inputMode} />
      {hint !== undefined && <span className="fd-hint">{hint}</span>}
    </TextField>
  );
}

/** Several lines of text in the field's size. */
export function LinesField({
  label,
  value,
  onChange,
  maxLength = 4000,
  rows = 4,
}: {
  label: string;
  value: string;
  onChange: (value: string) => void;
  maxLength?: number;
  rows?: number;
}) {
  return (
    <TextField className="fd-text" value={value} onChange={onChange} maxLength={maxLength}>
      <Label>{label}</Label>
      <TextArea rows={rows} />
    </TextField>
  );
}
