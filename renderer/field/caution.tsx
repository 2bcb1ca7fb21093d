import type { ReactNode } from 'react';
import { say } from '../state/say.ts';

/** A caution where work can hurt: a sign, the word and the reason. */
export function Caution({ title, children }: { title: string; children: ReactNode }) {
  return (
    <aside className="fd-caution" role="note" aria-label={say('field.caution', { title })}>
      <svg viewBox="0 0 24 24" width="30" height="30" aria-hidden="true" focusable="false">
        <path d="M12 3L22 20.5H2z" fill="none" stroke="currentColor" strokeWidth="2" strokeLinejoin="round" />
        <path d="M12 9v6M12 17.4v.4" stroke="currentColor" strokeWidth="2.4" strokeLinecap="round" />
      </svg>
      <div>
        <strong>{say('field.caution', { title })}</strong>
        <div>{children}</div>
      </div>
    </aside>
  );
}
