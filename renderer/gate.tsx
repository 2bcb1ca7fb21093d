import type { ReactNode } from 'react';
import { useEffect } from 'react';
import { useDrafts } from './field/draft.ts';
import { Button } from './parts/index.ts';
import { draftSecret, useAccess } from './state/session.ts';
import { answerTab, useTabs } from './state/tabs.ts';
import { ask } from './state/use-request.ts';
import { say } from './state/say.ts';

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
        {say('shell.opening')}
      </p>
    );
  if (access.state === 'out') {
    const message = access.closed
      ? `${access.message} ${say('session.closedWhy')}`
      : !heard
        ? access.message
        : refused
          ? say('session.tabRefused')
          : say('session.otherTab');
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
          <p>{say('session.tabAsks')}</p>
          <Button look="primary" onPress={() => void answerTab(tab, true)}>
            {say('session.letIn')}
          </Button>
          <Button onPress={() => void answerTab(tab, false)}>{say('session.keepOut')}</Button>
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
