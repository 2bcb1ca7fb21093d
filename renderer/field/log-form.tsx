import { useEffect, useRef, useState } from 'react';
import { Button } from '../parts/button.tsx';
import { ErrorNote } from '../parts/layout.tsx';
import { newId } from '../state/write.ts';
import type { Failure } from '../../core/errors.ts';
import type { DraftEntry, FormDraft, FormKind } from './draft.ts';
import { formOf } from './forms/all-forms.ts';
import type { LogContext } from './forms/form-spec.ts';
import { LinesField } from './forms/line-field.tsx';
import { say } from '../state/say.ts';

/** One form on its own screen. Every keystroke goes into the draft, so leaving or losing the page loses nothing. */
export function LogForm({
  kind,
  draft,
  context,
  pageError,
  onRetry,
  onChange,
  onBack,
  onAdd,
  onDiscard,
}: {
  kind: FormKind;
  draft: FormDraft | undefined;
  context: LogContext;
  pageError: Failure | null;
  onRetry: () => void;
  onChange: (form: FormDraft) => void;
  onBack: () => void;
  onAdd: (entry: DraftEntry) => void;
  onDiscard: () => void;
}) {
  const form = formOf(kind);
  const heading = useRef<HTMLHeadingElement>(null);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    heading.current?.focus({ preventScroll: true });
    heading.current?.closest('.fd-scroll')?.scrollTo({ top: 0 });
  }, [kind]);

  const waiting = form.needsPage && context.page === null;
  const blocked = waiting ? null : (form.blocked?.(context) ?? null);
  const current: FormDraft = draft ?? { values: form.begin(context, null), note: '', entryId: null, touched: false };
  const change = (patch: Partial<FormDraft>) => {
    setProblem(null);
    onChange({ ...current, ...patch, touched: true });
  };
  const add = () => {
    const wrong = heading.current?.closest('.fd-form')?.querySelector<HTMLElement>('[aria-invalid="true"]');
    if (wrong != null) {
      setProblem(say('field.oneFigureWrong'));
      wrong.focus();
      return;
    }
    const finished = form.finish(current.values, context);
    if (finished.problem !== undefined) {
      setProblem(finished.problem);
      return;
    }
    onAdd({ id: current.entryId ?? newId(), detail: finished.detail, note: current.note.trim() });
  };
  const Fields = form.Fields;
  return (
    <section className="fd-form" aria-labelledby="fd-form-title">
      <header className="fd-form-head">
        <Button big look="quiet" onPress={onBack} aria-label={say('field.backToStop')}>
          {say('field.back')}
        </Button>
        <h2 id="fd-form-title" ref={heading} tabIndex={-1}>
          {form.title}
        </h2>
      </header>
      {waiting &&
        (pageError === null ? (
          <p className="fd-quiet" role="status">
            {say('field.readingSet')}
          </p>
        ) : (
          <ErrorNote
            error={pageError}
            action={
              <Button big onPress={onRetry}>
                {say('parts.tryAgain')}
              </Button>
            }
          />
        ))}
      {blocked !== null && <p className="fd-fact">{blocked}</p>}
      {!waiting && blocked === null && (
        <>
          <div className="fd-fields">
            <Fields
              value={current.values}
              change={(patch) => change({ values: { ...current.values, ...patch } })}
              context={context}
            />
          </div>
          {kind === 'note' ? null : (
            <LinesField
              label={say('field.worthSaying')}
              value={current.note}
              rows={2}
              onChange={(note) => change({ note })}
            />
          )}
          {problem !== null && (
            <p className="fd-problem" role="alert">
              ▲ {problem}
            </p>
          )}
          <div className="fd-form-foot">
            <Button big look="primary" className="fd-wide" onPress={add}>
              {current.entryId === null ? say('field.putOnList') : say('field.keepChange')}
            </Button>
            {current.touched && (
              <Button big look="quiet" onPress={onDiscard}>
                {current.entryId === null ? say('field.clear') : say('field.leaveAsWas')}
              </Button>
            )}
          </div>
        </>
      )}
    </section>
  );
}
