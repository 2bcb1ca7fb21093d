import { Button } from '../parts/index.ts';

/** Comes up when something was changed: save it, or put it back. */
export function SaveBar({
  changed,
  busy,
  onSave,
  onReset,
  label,
}: {
  changed: boolean;
  busy: boolean;
  onSave: () => void;
  onReset: () => void;
  label: string;
}) {
  return (
    <div className="save-bar" data-changed={changed || undefined}>
      <p role="status">{changed ? 'Changed, not saved yet.' : ''}</p>
      <Button isDisabled={!changed || busy} onPress={onReset}>
        Put back
      </Button>
      <Button look="primary" isDisabled={!changed || busy} onPress={onSave}>
        {label}
      </Button>
    </div>
  );
}
