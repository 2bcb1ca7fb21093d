import { useState } from 'react';
import type { PathChoiceName } from '../../core/contract/places.ts';
import { say, sayError } from '../state/say.ts';
import { toast } from '../state/toasts.ts';
import { Button } from './button.tsx';
import { TextField, type TextFieldProps } from './fields.tsx';
import { PathDialog } from './path-dialog.tsx';

/** A path, typed or chosen: by the system's dialog in the desktop window, by our own list of places in a browser. */
export function PathField({
  choice,
  ...field
}: Omit<TextFieldProps, 'rows' | 'type' | 'className'> & { choice: PathChoiceName }) {
  const [open, setOpen] = useState(false);
  const choose = async () => {
    if (window.valvebook === undefined) return setOpen(true);
    const reply = await window.valvebook.choosePath(choice, field.value);
    if (!reply.ok) toast({ text: sayError(reply.error), tone: 'error' });
    else if (reply.data !== null) field.onChange(reply.data);
  };
  return (
    <div className="path-field">
      <TextField {...field} />
      <Button
        isDisabled={field.isDisabled ?? false}
        aria-label={say('places.chooseFor', { title: say(`places.title.${choice}`) })}
        onPress={() => void choose()}
      >
        {say('places.choose')}
      </Button>
      {open ? (
        <PathDialog
          choice={choice}
          from={field.value}
          onClose={() => setOpen(false)}
          onTake={(path) => {
            setOpen(false);
            field.onChange(path);
          }}
        />
      ) : null}
    </div>
  );
}
