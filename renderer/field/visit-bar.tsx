import { useState } from 'react';
import { Button } from '../parts/button.tsx';
import { toast } from '../state/toasts.ts';
import { navigate } from '../state/view.ts';
import type { VisitKind } from '../../core/contract/parts.ts';
import { useDrafts, type Draft, type DraftEntry, type FormKind } from './draft.ts';
import { WORK_WORDS } from './entry-words.ts';
import { formOf } from './forms/all-forms.ts';
import { releaseSent, saveDraft, undoSave } from './save.ts';
import type { Stop } from './stop.ts';
import { say, sayTold } from '../state/say.ts';

/** Work without which closing such a visit is probably a slip. */
const NEEDED: Partial<Record<VisitKind, FormKind>> = {
  'start-up': 'start-up',
  winterization: 'winterization',
  'sensor-check': 'sensor-check',
  'battery-swap': 'battery-swap',
  'program-adjustment': 'run-time-change',
  'backflow-test': 'backflow-test',
};

interface VisitBarProps {
  stop: Stop;
  draft: Draft | undefined;
  readOnly: boolean;
  waiting: number;
  hint: string | null;
  /** The stop's draft, made if there is none yet. */
  ensure: () => Draft;
  onOpen: (kind: FormKind) => void;
  next: { href: string; words: string } | null;
}

/** The foot of a stop: "Done here", what stands in its way, and the next stop peeking. */
export function VisitBar({ stop, draft, readOnly, waiting, hint, ensure, onOpen, next }: VisitBarProps) {
  const [busy, setBusy] = useState(false);
  const [fault, setFault] = useState<{ message: string; unsure: boolean } | null>(null);
  const [asking, setAsking] = useState<FormKind | null>(null);
  const storeFault = useDrafts((state) => state.storeFault);
  const done = stop.visit?.state === 'done';
  const half = Object.entries(draft?.forms ?? {})
    .filter(([, form]) => form.touched)
    .map(([kind]) => kind as FormKind);
  const stuck =
    fault === null && draft?.sent !== null && draft?.sent !== undefined && !busy
      ? {
          message: say('field.sentNoAnswer'),
          unsure: true,
        }
      : fault;

  const save = async (close: boolean, sure = false) => {
    if (busy) return;
    const halfFirst = half[0];
    if (halfFirst !== undefined) {
      setFault({
        message: say('field.halfFirst', { form: formOf(halfFirst).title }),
        unsure: false,
      });
      return;
    }
    const needed = close && stop.kind !== null ? NEEDED[stop.kind] : undefined;
    const sentKinds = draft?.sent?.entries.map((entry) => entry.detail.kind) ?? [];
    // Where nobody could work the visit is not closed, so nothing is missing from it.
    const couldNot = [...sentKinds, ...(draft?.entries ?? []).map((entry) => entry.detail.kind)].includes('not-done');
    if (
      !sure &&
      !couldNot &&
      needed !== undefined &&
      ![...sentKinds, ...(draft?.entries ?? []).map((entry) => entry.detail.kind)].includes(needed)
    ) {
      setAsking(needed);
      return;
    }
    setAsking(null);
    setFault(null);
    setBusy(true);
    const base = ensure();
    if (useDrafts.getState().drafts[stop.id] === undefined) useDrafts.getState().put(base);
    const result = await saveDraft(stop.id, close);
    setBusy(false);
    if (!result.ok) {
      setFault({ message: result.message, unsure: result.unsure });
      return;
    }
    document.querySelector('.fd-stop')?.parentElement?.scrollTo({ top: 0 });
    const kinds = [...new Set(result.sentEntries.map((entry) => WORK_WORDS[entry.detail.kind].toLowerCase()))];
    const said =
      kinds.length === 0 ? say('field.visitClosed') : say('field.saved', { work: kinds, closed: result.closed });
    const cautions = result.saved.cautions.length === 0 ? '' : ` ${result.saved.cautions.map(sayTold).join(' ')}`;
    if (result.sentEntries.length === 0) toast({ text: said + cautions });
    else toast({ text: said + cautions, undo: () => void takeBack(base, result.sentEntries) });
  };
  const release = async () => {
    setBusy(true);
    const outcome = await releaseSent(stop.id);
    setBusy(false);
    if (outcome === 'no-answer') setFault({ message: say('field.stillNoAnswer'), unsure: true });
    else {
      setFault(null);
      toast({
        text: outcome === 'saved' ? say('field.bookHasIt') : say('field.bookHasNot'),
      });
    }
  };

  const halfFirst = half[0];
  return (
    <footer className="fd-bar">
      {storeFault !== null && (
        <p className="fd-problem" role="alert">
          ▲ {say(storeFault)}
        </p>
      )}
      {stuck !== null && (
        <div className="fd-bar-fault" role="alert">
          <p>
            ▲ <strong>{say('field.notSaved')}</strong> {stuck.message}
          </p>
          {stuck.unsure && (
            <Button big isDisabled={busy} onPress={() => void release()}>
              {say('field.askBook')}
            </Button>
          )}
          {!stuck.unsure && halfFirst !== undefined && (
            <Button big onPress={() => onOpen(halfFirst)}>
              {say('field.openIt')}
            </Button>
          )}
        </div>
      )}
      {asking !== null && (
        <div className="fd-bar-fault" role="alert">
          <p>
            {say('field.nothingSays', {
              work: WORK_WORDS[asking],
              season: asking === 'winterization' || asking === 'start-up',
            })}
          </p>
          <div className="fd-pair">
            <Button
              big
              look="primary"
              onPress={() => {
                setAsking(null);
                onOpen(asking);
              }}
            >
              {formOf(asking).title}
            </Button>
            <Button big onPress={() => void save(true, true)}>
              {say('field.closeWithout')}
            </Button>
            <Button big look="quiet" onPress={() => setAsking(null)}>
              {say('field.notYet')}
            </Button>
          </div>
        </div>
      )}
      {hint !== null && stuck === null && asking === null && <p className="fd-bar-hint">◌ {hint}</p>}
      {!readOnly && asking === null && (
        <div className="fd-pair">
          {done || (stop.visit === null && waiting === 0) ? null : (
            <Button big look="primary" className="fd-done" isDisabled={busy} onPress={() => void save(true)}>
              {busy ? say('field.saving') : stuck?.unsure === true ? say('parts.tryAgain') : say('field.doneHere')}
            </Button>
          )}
          {waiting > 0 && (done || stuck?.unsure !== true) && (
            <Button
              big
              look={done ? 'primary' : 'plain'}
              className={done ? 'fd-done' : ''}
              isDisabled={busy}
              onPress={() => void save(false)}
            >
              {done
                ? stuck?.unsure === true
                  ? say('parts.tryAgain')
                  : say('field.saveFacts', { count: waiting })
                : say('field.saveStay')}
            </Button>
          )}
        </div>
      )}
      {next === null ? (
        <p className="fd-next fd-next-none">{say('field.noOtherOpen')}</p>
      ) : (
        <a className="fd-next" href={next.href}>
          <span className="fd-next-word">{say('field.next')}</span>
          <span>{next.words}</span>
          <span aria-hidden="true">›</span>
        </a>
      )}
    </footer>
  );
}

async function takeBack(draft: Draft, entries: readonly DraftEntry[]): Promise<void> {
  const { undone, message, visitId, stillClosed } = await undoSave(draft, entries);
  if (visitId !== draft.visitId && window.location.hash.endsWith(`/${draft.visitId}`))
    navigate(window.location.hash.replace(draft.visitId, visitId), { replace: true });
  if (message !== null)
    toast({ text: say('field.takenBackSome', { undone, total: entries.length, message }), tone: 'error' });
  else toast({ text: say('field.takenBack', { undone, stillClosed }) });
}
