import { useRef, useState } from 'react';
import type { FormEvent, ReactNode } from 'react';
import type { Failure } from '../../../../core/errors.ts';
import { Button, Dialog, ErrorNote, Sheet } from '../../../parts/index.ts';
import { say, sayError } from '../../../state/say.ts';

/** The sentence that belongs to a field, when the book refused it. */
export function errorAt(failure: Failure | null, field: string): string | null {
  if (failure?.field === undefined) return null;
  return failure.field === field || failure.field.endsWith(`.${field}`) ? sayError(failure) : null;
}

/** A form in a sheet or a small window: Enter saves, Escape leaves. */
export function FormSheet({
  title,
  save,
  saveWords,
  saving,
  failure,
  onClose,
  children,
  small = false,
  action,
  canSave = true,
}: {
  title: string;
  save: () => void;
  saveWords: string;
  saving: boolean;
  failure: Failure | null;
  onClose: () => void;
  children: ReactNode;
  small?: boolean;
  action?: ReactNode;
  canSave?: boolean;
}) {
  const form = useRef<HTMLFormElement>(null);
  const [touched, setTouched] = useState(false);
  const touch = () => setTouched(true);
  const Frame = small ? Dialog : Sheet;
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (!saving && canSave) save();
  };
  return (
    <Frame
      title={title}
      isOpen
      onClose={onClose}
      keepOpen={touched}
      footer={
        <>
          {action}
          <Button data-way-out onPress={onClose}>
            {say('forms.leave')}
          </Button>
          <Button look="primary" isDisabled={saving || !canSave} onPress={() => form.current?.requestSubmit()}>
            {saving ? say('forms.saving') : saveWords}
          </Button>
        </>
      }
    >
      <form ref={form} onSubmit={submit} onInputCapture={touch} onClickCapture={touch} noValidate>
        {failure === null ? null : (
          <ErrorNote error={failure.code === 'stale' && failure.field === 'version' ? say('forms.stale') : failure} />
        )}
        {children}
        <button type="submit" hidden />
      </form>
    </Frame>
  );
}
