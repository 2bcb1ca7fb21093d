import { useId, useState } from 'react';
import type { ReactNode } from 'react';
import { Label, Radio, RadioGroup } from 'react-aria-components';
import { say, words } from '../state/say.ts';

export interface ChoiceOption<T extends string> {
  id: T;
  word: string;
  /** A sign beside the word, so that the meaning does not hang on colour. */
  sign?: string;
  tone?: 'good' | 'bad' | 'plain';
}

/** One of a few answers, each a large target. */
export function Choice<T extends string>({
  label,
  options,
  value,
  onChange,
}: {
  label: string;
  options: readonly ChoiceOption<T>[];
  value: T | null;
  onChange: (value: T) => void;
}) {
  return (
    <RadioGroup className="fd-choice" value={value} onChange={(next) => onChange(next as T)} orientation="horizontal">
      <Label>{label}</Label>
      <div className="fd-choice-row">
        {options.map((option) => (
          <Radio key={option.id} value={option.id} className="fd-choice-option" data-tone={option.tone ?? 'plain'}>
            {option.sign !== undefined && (
              <span aria-hidden="true" className="fd-choice-sign">
                {option.sign}
              </span>
            )}
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
  /** Where minus and plus begin while there is no value yet. */
  startAt?: number | null;
  /** Without minus and plus: a figure to be read off. */
  plain?: boolean;
}

/** A number with a large minus and plus; can also be typed, and what is typed counts at once, not only when the field is left. */
export function Stepper({
  label,
  hideLabel,
  value,
  onChange,
  min,
  max,
  step,
  unit,
  digits = 0,
  was,
  hint,
  startAt = null,
  plain = false,
}: StepperProps) {
  const id = useId();
  /** What is being typed; null = the value stands there. */
  const [text, setText] = useState<string | null>(null);
  const problem = text === null ? null : problemOf(text, min, max, digits);
  const changed = was !== undefined && was !== value;
  const type = (typed: string) => {
    setText(typed);
    onChange(problemOf(typed, min, max, digits) === null ? numberOf(typed) : null);
  };
  const nudgeBy = (by: number) => {
    setText(null);
    onChange(value === null && startAt !== null ? startAt : nudge(value, by, min, max, digits));
  };
  return (
    <div className="fd-stepper" data-changed={changed || undefined}>
      <label htmlFor={id} className={hideLabel === true ? 'visually-hidden' : undefined}>
        {label}
        {unit === '' ? null : <span className="visually-hidden">, {unit}</span>}
      </label>
      <div className="fd-stepper-row">
        {was !== undefined && (
          <span className="fd-was">
            <span className="fd-was-word">{say('field.was')}</span> {was === null ? '–' : words().number(was, digits)}
          </span>
        )}
        <div className="fd-stepper-group">
          {plain ? null : (
            <button
              type="button"
              className="fd-step"
              aria-label={say('field.less', { label })}
              disabled={value !== null && value <= min}
              onClick={() => nudgeBy(-step)}
            >
              −
            </button>
          )}
          <input
            id={id}
            className="fd-stepper-input"
            inputMode={digits === 0 ? 'numeric' : 'decimal'}
            autoComplete="off"
            aria-invalid={problem !== null}
            aria-describedby={`${id}-hint`}
            value={text ?? (value === null ? '' : words().number(value, digits))}
            onChange={(event) => type(event.target.value)}
            onBlur={() => {
              if (problem === null) setText(null);
            }}
          />
          {plain ? null : (
            <button
              type="button"
              className="fd-step"
              aria-label={say('field.more', { label })}
              disabled={value !== null && value >= max}
              onClick={() => nudgeBy(step)}
            >
              +
            </button>
          )}
        </div>
        <span className="fd-unit" aria-hidden="true">
          {unit}
        </span>
      </div>
      <div className="fd-hint" id={`${id}-hint`}>
        {problem === null ? hint : <strong className="fd-warn">▲ {problem}</strong>}
      </div>
    </div>
  );
}

const numberOf = (text: string): number | null => (text.trim() === '' ? null : Number(text.replaceAll(',', '').trim()));

/** What is wrong with a typed figure, in words; null = nothing. Exported for its test. */
export function problemOf(text: string, min: number, max: number, digits: number): string | null {
  const value = numberOf(text);
  if (value === null) return null;
  if (!/^\d{1,3}(,?\d{3})*(\.\d*)?$|^\d+(\.\d*)?$|^\.\d+$/.test(text.trim()) || Number.isNaN(value))
    return say('field.mustBeNumber', { min, max });
  if (value < min || value > max) return say('field.mustBeWithin', { min, max });
  const decimals = /\.(\d+)/.exec(text)?.[1]?.length ?? 0;
  if (decimals > digits) return digits === 0 ? say('field.mustBeWhole') : say('field.decimals', { count: digits });
  return null;
}

/** The next value of a stepper: onto the step's grid, inside its bounds. Exported for its test. */
export function nudge(value: number | null, by: number, min: number, max: number, digits: number): number {
  const from = value ?? (by > 0 ? min - by : min);
  const size = Math.abs(by);
  const onGrid = by > 0 ? Math.floor(from / size + 1e-9) * size + size : Math.ceil(from / size - 1e-9) * size - size;
  return Number(Math.min(max, Math.max(min, onGrid)).toFixed(digits));
}
