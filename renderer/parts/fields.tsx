import { useId } from 'react';
import type { ReactNode } from 'react';
import {
  Button as AriaButton,
  Checkbox,
  ComboBox,
  FieldError,
  Group,
  Input,
  Label,
  ListBox,
  ListBoxItem,
  NumberField as AriaNumberField,
  Popover,
  Select,
  SelectValue,
  Switch,
  Text,
  TextArea,
  TextField as AriaTextField,
} from 'react-aria-components';
import { ChevronIcon } from './icons.tsx';
import { say } from '../state/say.ts';

interface Common {
  label: string;
  /** The label is read out, not shown. */
  hideLabel?: boolean;
  description?: ReactNode;
  /** What is wrong and how to mend it. */
  error?: string | null;
  isRequired?: boolean;
  isDisabled?: boolean;
  autoFocus?: boolean;
  className?: string;
}

function Top({ label, hideLabel, isRequired }: Pick<Common, 'label' | 'hideLabel' | 'isRequired'>) {
  return (
    <Label className={hideLabel === true ? 'visually-hidden' : 'field-label'}>
      {label}
      {isRequired === true ? <span className="quiet">{say('parts.needed')}</span> : null}
    </Label>
  );
}
function Bottom({ description, error }: Pick<Common, 'description' | 'error'>) {
  return (
    <>
      {description !== undefined && description !== null ? (
        <Text slot="description" className="field-note">
          {description}
        </Text>
      ) : null}
      <FieldError className="field-error">{error ?? undefined}</FieldError>
    </>
  );
}
const invalid = (error: string | null | undefined) => error !== undefined && error !== null && error !== '';

export interface TextFieldProps extends Common {
  value: string;
  onChange: (value: string) => void;
  type?: 'text' | 'tel' | 'email' | 'search' | 'time' | 'date' | 'url';
  rows?: number;
  maxLength?: number;
  placeholder?: string;
  name?: string;
  /** Can be read, reached and copied, not changed; say why in the description. */
  isReadOnly?: boolean;
}

/** One line of text, or several with `rows`. */
export function TextField({
  label,
  hideLabel,
  description,
  error,
  value,
  onChange,
  type = 'text',
  rows,
  placeholder,
  className = '',
  ...props
}: TextFieldProps) {
  return (
    <AriaTextField
      {...props}
      type={rows === undefined ? (type as 'text') : 'text'}
      value={value}
      onChange={onChange}
      isInvalid={invalid(error)}
      className={`field ${className}`}
      validationBehavior="aria"
    >
      <Top label={label} hideLabel={hideLabel ?? false} isRequired={props.isRequired ?? false} />
      {rows === undefined ? (
        <Input className="input" placeholder={placeholder ?? ''} />
      ) : (
        <TextArea className="input" rows={rows} placeholder={placeholder ?? ''} />
      )}
      <Bottom description={description} error={error ?? null} />
    </AriaTextField>
  );
}

/** A plain calendar date; null = none. */
export function DateField({
  value,
  onChange,
  ...props
}: Omit<TextFieldProps, 'value' | 'onChange' | 'type' | 'rows'> & {
  value: string | null;
  onChange: (value: string | null) => void;
}) {
  return (
    <TextField {...props} type="date" value={value ?? ''} onChange={(text) => onChange(text === '' ? null : text)} />
  );
}

/** A clock time HH:MM; null = none. */
export function TimeField({
  value,
  onChange,
  ...props
}: Omit<TextFieldProps, 'value' | 'onChange' | 'type' | 'rows'> & {
  value: string | null;
  onChange: (value: string | null) => void;
}) {
  return (
    <TextField {...props} type="time" value={value ?? ''} onChange={(text) => onChange(text === '' ? null : text)} />
  );
}

export interface NumberFieldProps extends Common {
  value: number | null;
  onChange: (value: number | null) => void;
  unit?: string;
  min?: number;
  max?: number;
  step?: number;
  digits?: number;
  /** Big minus and plus at the sides. */
  stepper?: boolean;
}

/** A figure with its unit beside it; empty = null. */
export function NumberField({
  label,
  hideLabel,
  description,
  error,
  value,
  onChange,
  unit,
  min,
  max,
  step,
  digits = 2,
  stepper = false,
  className = '',
  ...props
}: NumberFieldProps) {
  return (
    <AriaNumberField
      {...props}
      value={value ?? Number.NaN}
      onChange={(next) => onChange(Number.isNaN(next) ? null : next)}
      isInvalid={invalid(error)}
      className={`field ${stepper ? 'stepper' : ''} ${className}`}
      formatOptions={{ maximumFractionDigits: digits }}
      validationBehavior="aria"
      {...(min === undefined ? {} : { minValue: min })}
      {...(max === undefined ? {} : { maxValue: max })}
      {...(step === undefined ? {} : { step })}
    >
      <Top
        label={unit === undefined ? label : `${label}, ${unit}`}
        hideLabel={hideLabel ?? false}
        isRequired={props.isRequired ?? false}
      />
      <Group className="input number">
        {stepper ? (
          <AriaButton slot="decrement" className="step">
            −
          </AriaButton>
        ) : null}
        <Input className="number-input" />
        {unit === undefined ? null : (
          <span className="unit" aria-hidden="true">
            {unit}
          </span>
        )}
        {stepper ? (
          <AriaButton slot="increment" className="step">
            +
          </AriaButton>
        ) : null}
      </Group>
      <Bottom description={description} error={error ?? null} />
    </AriaNumberField>
  );
}

export interface Option {
  id: string;
  label: string;
  description?: string;
}
export interface SelectFieldProps extends Common {
  value: string;
  onChange: (value: string) => void;
  options: readonly Option[];
  placeholder?: string;
}

/** One of a short list. The empty id '' may be an option ("any", "none"). */
export function SelectField({
  label,
  hideLabel,
  description,
  error,
  value,
  onChange,
  options,
  placeholder = say('parts.choose'),
  className = '',
  ...props
}: SelectFieldProps) {
  return (
    <Select
      {...props}
      selectedKey={toKey(value)}
      onSelectionChange={(key) => onChange(fromKey(key))}
      isInvalid={invalid(error)}
      placeholder={placeholder}
      className={`field ${className}`}
      validationBehavior="aria"
    >
      <Top label={label} hideLabel={hideLabel ?? false} isRequired={props.isRequired ?? false} />
      <AriaButton className="input select-button">
        <SelectValue className="select-value" />
        <ChevronIcon />
      </AriaButton>
      <Bottom description={description} error={error ?? null} />
      <Popover className="popover">
        <Options options={options} />
      </Popover>
    </Select>
  );
}

// React Aria reads an empty key as "nothing chosen".
const EMPTY = '∅';
const toKey = (value: string) => (value === '' ? EMPTY : value);
const fromKey = (key: unknown) => (key === null || key === EMPTY ? '' : String(key));

function Options({ options }: { options: readonly Option[] }) {
  return (
    <ListBox className="options">
      {options.map((option) => (
        <ListBoxItem key={toKey(option.id)} id={toKey(option.id)} textValue={option.label} className="option">
          <Text slot="label">{option.label}</Text>
          {option.description === undefined ? null : (
            <Text slot="description" className="field-note">
              {option.description}
            </Text>
          )}
        </ListBoxItem>
      ))}
    </ListBox>
  );
}

/** One of a long list, found by typing any part of it. */
export function ComboField({
  label,
  hideLabel,
  description,
  error,
  value,
  onChange,
  options,
  placeholder = '',
  className = '',
  ...props
}: SelectFieldProps) {
  return (
    <ComboBox
      {...props}
      selectedKey={value === '' ? null : value}
      onSelectionChange={(key) => onChange(key === null ? '' : String(key))}
      isInvalid={invalid(error)}
      menuTrigger="focus"
      className={`field ${className}`}
      validationBehavior="aria"
    >
      <Top label={label} hideLabel={hideLabel ?? false} isRequired={props.isRequired ?? false} />
      <Group className="input combo">
        <Input className="number-input" placeholder={placeholder} />
        <AriaButton className="step">
          <ChevronIcon />
        </AriaButton>
      </Group>
      <Bottom description={description} error={error ?? null} />
      <Popover className="popover">
        <Options options={options} />
      </Popover>
    </ComboBox>
  );
}

interface TickProps {
  label: ReactNode;
  value: boolean;
  onChange: (value: boolean) => void;
  isDisabled?: boolean;
  description?: ReactNode;
  className?: string;
}

/** Yes or no, ticked. */
export function CheckField({ label, value, onChange, description, className = '', ...props }: TickProps) {
  const note = useId();
  return (
    <div className={`tick ${className}`}>
      <Checkbox
        {...props}
        isSelected={value}
        onChange={onChange}
        className="check"
        {...(description === undefined ? {} : { 'aria-describedby': note })}
      >
        <span className="check-box" aria-hidden="true">
          <svg viewBox="0 0 16 16">
            <path d="M3 8.5l3.2 3.2L13 4.8" />
          </svg>
        </span>
        <span>{label}</span>
      </Checkbox>
      {description === undefined ? null : (
        <p id={note} className="field-note">
          {description}
        </p>
      )}
    </div>
  );
}

/** On or off, at once. */
export function SwitchField({ label, value, onChange, description, className = '', ...props }: TickProps) {
  const note = useId();
  return (
    <div className={`tick ${className}`}>
      <Switch
        {...props}
        isSelected={value}
        onChange={onChange}
        className="switch"
        {...(description === undefined ? {} : { 'aria-describedby': note })}
      >
        <span className="switch-track" aria-hidden="true">
          <span className="switch-knob" />
        </span>
        <span>{label}</span>
      </Switch>
      {description === undefined ? null : (
        <p id={note} className="field-note">
          {description}
        </p>
      )}
    </div>
  );
}
