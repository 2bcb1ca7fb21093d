import { Button } from '../parts/index.ts';
import { say } from '../state/say.ts';

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
      <p role="status">{changed ? say('company.changed') : ''}</p>
      <Button isDisabled={!changed || busy} onPress={onReset}>
        {say('company.putBack')}
      </Button>
      <Button look="primary" isDisabled={!changed || busy} onPress={onSave}>
        {label}
      </Button>
    </div>
  );
}
