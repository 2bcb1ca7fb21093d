import type { ReactNode } from 'react';
import { useEffect } from 'react';
import { useDrafts } from './field/draft.ts';
import { Button } from './parts/index.ts';
import { draftSecret, useAccess } from './state/session.ts';
import { answerTab, useTabs } from './state/tabs.ts';
import { ask } from './state/use-request.ts';

/** Shows the book's screens only to a page that is let in; to any other, why not and what to do. */
export function Gate({ children }: { children: ReactNode }) {
  const access = useAccess();
  const { asking, heard, refused } = useTabs();
  const isIn = access.state === 'in';
  useEffect(() => {
    if (isIn && draftSecret()?.takesPlain === true) void sealOldDrafts();
  }, [isIn]);
  if (access.state === 'opening')
    return (
      <p className="waiting" role="status">
        Opening…
      </p>
    );
  if (access.state === 'out') {
    const message = access.closed
      ? `${access.message} Work typed in the field and not saved is kept on this device. If it was not you, press Enter where Valvebook runs and open the new address.`
      : !heard
        ? access.message
        : refused
          ? 'This tab was not let in. Load it again to ask once more.'
          : 'Valvebook is open in another tab of this browser. Go to that tab and choose “Let it in”.';
    return (
      <main className="gate">
        <h1>Valvebook</h1>
        <p role="alert">{message}</p>
      </main>
    );
  }
  return (
    <>
      {asking.map((tab) => (
        <div key={tab} className="tab-asks" role="alert">
          <p>Another tab of this browser asks to see the book. Let it in only if you have just opened it.</p>
          <Button look="primary" onPress={() => void answerTab(tab, true)}>
            Let it in
          </Button>
          <Button onPress={() => void answerTab(tab, false)}>Keep it out</Button>
        </div>
      ))}
      {children}
    </>
  );
}

/** Drafts of an earlier version lie here for anyone to read until they are opened once. */
async function sealOldDrafts(): Promise<void> {
  const info = await ask('book.info', {});
  if (info.ok) useDrafts.getState().open(info.data.path);
}
