import type { ReactNode } from 'react';
import { Button, Group, Label, NumberField, Input, Radio, RadioGroup } from 'react-aria-components';

export interface ChoiceOption<T extends string> {
  id: T;
  word: string;
  /** A sign beside the word, so that the meaning does not hang on colour. */
  sign?: string;
  tone?: 'good' | 'bad' | 'plain';
}

/** One of a few answers, each a large target. */
export function Choice<T extends string>({ label, options, value, onChange }: { label: string; options: readonly ChoiceOption<T>[]; value: T | null; onChange: (value: T) => void }) {
  return (
    <RadioGroup className="fd-choice" value={value} onChange={(next) => onChange(next as T)} orientation="horizontal">
      <Label>{label}</Label>
      <div className="fd-choice-row">
        {options.map((option) => (
          <Radio key={option.id} value={option.id} className="fd-choice-option" data-tone={option.tone ?? 'plain'}>
            {option.sign !== undefined && <span aria-hidden="true" className="fd-choice-sign">{option.sign}</span>}
            <span>{option.word}</span>
          </Radio>
        ))}
      </div>
    </RadioGroup>
  );
}

export interface StepperProps {
  label: string;
  /** Shown in place of a visible label when the row already names it. */
  hideLabel?: boolean;
  value: number | null;
  onChange: (value: number | null) => void;
  min: number;
  max: number;
  step: number;
  unit: string;
  digits?: number;
  /** The value before, shown beside the new one. */
  was?: number | null;
  hint?: ReactNode;
}

/** A number with a large minus and plus; can also be typed. */
export function Stepper({ label, hideLabel, value, onChange, min, max, step, unit, digits = 0, was, hint }: StepperProps) {
  const changed = was !== undefined && was !== value;
  return (
    <NumberField
      className="fd-stepper" data-changed={changed || undefined} {...(hideLabel === true ? { 'aria-label': label } : {})}
      value={value ?? Number.NaN} onChange={(next) => onChange(Number.isNaN(next) ? null : next)}
      minValue={min} maxValue={max} formatOptions={{ maximumFractionDigits: digits, useGrouping: digits === 0 && max > 9999 }}
      isWheelDisabled
    >
      {hideLabel !== true && <Label>{label}</Label>}
      <div className="fd-stepper-row">
        {was !== undefined && (
          <span className="fd-was"><span className="fd-was-word">was</span> {was === null ? '–' : was}</span>
        )}
        <Group className="fd-stepper-group">
          <Button slot={null} className="fd-step" aria-label={`Less: ${label}`} isDisabled={value !== null && value <= min} onPress={() => onChange(nudge(value, -step, min, max, digits))}>−</Button>
          <Input className="fd-stepper-input" />
          <Button slot={null} className="fd-step" aria-label={`More: ${label}`} isDisabled={value !== null && value >= max} onPress={() => onChange(nudge(value, step, min, max, digits))}>+</Button>
        </Group>
        <span className="fd-unit">{unit}</span>
      </div>
      {hint !== undefined && <div className="fd-hint">{hint}</div>}
    </NumberField>
  );
}

/** The next value of a stepper: onto the step's grid, inside its bounds. Exported for its test. */
export function nudge(value: number | null, by: number, min: number, max: number, digits: number): number {
  const from = value ?? (by > 0 ? min - by : min);
  const size = Math.abs(by);
  const onGrid = by > 0 ? Math.floor(from / size + 1e-9) * size + size : Math.ceil(from / size - 1e-9) * size - size;
  return Number(Math.min(max, Math.max(min, onGrid)).toFixed(digits));
}
