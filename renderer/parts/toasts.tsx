import { useEffect, useRef, useState } from 'react';
import { canUndo, dismissToast, undoLatest, UNDO_MS, useToasts } from '../state/toasts.ts';
import type { Toast } from '../state/toasts.ts';
import { say } from '../state/say.ts';
import { Button, Kbd } from './button.tsx';
import { CloseIcon, WarnIcon } from './icons.tsx';

// From here on the words get the whole width of a phone, and the buttons stand below them.
const LONG = 60;
const isMac = /Mac|iP(hone|ad)/.test(navigator.platform);

/** What was just done, with the way back. */
export function Toasts() {
  const toasts = useToasts((state) => state.toasts);
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key.toLowerCase() !== 'z' || event.shiftKey || event.altKey || !(event.ctrlKey || event.metaKey))
        return;
      // A text being typed has its own undo.
      if (event.target instanceof HTMLElement && event.target.matches('input, textarea, [contenteditable]')) return;
      if (!canUndo()) return;
      event.preventDefault();
      void undoLatest();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
  return (
    // Above any open window, and not hidden from the keyboard by it.
    <div className="toasts" role="region" aria-label={say('parts.messages')} data-react-aria-top-layer="true">
      <div aria-live="polite" aria-relevant="additions">
        {toasts.map((item) => (
          <OneToast key={item.id} item={item} />
        ))}
      </div>
    </div>
  );
}

function OneToast({ item }: { item: Toast }) {
  const [held, setHeld] = useState(false);
  const left = useRef(item.tone === 'error' ? UNDO_MS * 1.5 : item.undo === undefined ? 5000 : UNDO_MS);
  useEffect(() => {
    if (held) return undefined;
    const started = Date.now();
    const timer = setTimeout(() => dismissToast(item.id), left.current);
    return () => {
      clearTimeout(timer);
      left.current = Math.max(1500, left.current - (Date.now() - started));
    };
  }, [held, item.id]);
  return (
    <div
      className={`toast ${item.tone}${item.text.length > LONG ? ' long' : ''}`}
      onMouseEnter={() => setHeld(true)}
      onMouseLeave={() => setHeld(false)}
      onFocus={() => setHeld(true)}
      onBlur={() => setHeld(false)}
    >
      {item.tone === 'error' ? <WarnIcon /> : null}
      <p>{item.text}</p>
      {item.undo === undefined ? null : (
        <Button
          onPress={() => {
            dismissToast(item.id);
            item.undo?.();
          }}
        >
          {say('parts.undo')} <Kbd>{say(isMac ? 'parts.undoKeysMac' : 'parts.undoKeys')}</Kbd>
        </Button>
      )}
      <Button
        look="quiet"
        className="icon-button"
        aria-label={say('parts.dismiss')}
        onPress={() => dismissToast(item.id)}
      >
        <CloseIcon />
      </Button>
    </div>
  );
}
