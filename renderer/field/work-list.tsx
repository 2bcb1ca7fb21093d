import { formatDate } from '../parts/format.ts';
import type { LedgerEntry } from '../../core/ledger/entry-contract.ts';
import { Button } from '../parts/button.tsx';
import { findingWords } from '../parts/finding-words.ts';
import type { DraftEntry, FormKind } from './draft.ts';
import { draftWords, WORK_WORDS } from './entry-words.ts';
import type { PropertyPage } from './forms/form-spec.ts';
import { WorkGlyph } from './glyphs.tsx';
import { say, sayTold } from '../state/say.ts';

/** What the ledger says: done before, or just now. */
export function Recorded({ title, entries, none }: { title: string; entries: readonly LedgerEntry[]; none: string }) {
  return (
    <section className="fd-part" aria-label={title}>
      <h3>{title}</h3>
      {entries.length === 0 ? (
        <p className="fd-quiet">{none}</p>
      ) : (
        <ul className="fd-last">
          {entries.map((entry) => (
            <li key={entry.id}>
              {entry.kind === 'zone-audit' ? null : <WorkGlyph kind={entry.kind} />}
              <div>
                <span className="fd-last-head">
                  <strong>{WORK_WORDS[entry.kind]}</strong>{' '}
                  <span className="fd-quiet">
                    {formatDate(entry.doneOn)}
                    {entry.technicianName === null ? '' : `, ${entry.technicianName}`}
                  </span>
                </span>
                <span className="fd-last-words">{sayTold(entry.summary)}</span>
                {findingWords(entry) === null ? null : <span className="fd-last-words">{findingWords(entry)}</span>}
                {entry.note === '' ? null : <span className="fd-last-words">“{entry.note}”</span>}
                {entry.correction === 'void' ? (
                  <span className="fd-tag">{say('field.didNotHappen')}</span>
                ) : entry.historyLength > 0 ? (
                  <span className="fd-tag">{say('field.corrected')}</span>
                ) : null}
              </div>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** What waits on this device: plainly not in the book yet. */
export function ToBeSaved({
  entries,
  sentCount,
  page,
  onChange,
  onRemove,
}: {
  entries: readonly DraftEntry[];
  sentCount: number;
  page: PropertyPage | null;
  onChange: (entry: DraftEntry) => void;
  onRemove: (entry: DraftEntry) => void;
}) {
  if (entries.length === 0 && sentCount === 0) return null;
  return (
    <section className="fd-part fd-unsaved" aria-label={say('field.toBeSaved')}>
      <h3>
        <span aria-hidden="true">◌ </span>
        {say('field.toBeSaved')}
      </h3>
      {sentCount > 0 && <p className="fd-quiet">{say('field.sentFacts', { count: sentCount })}</p>}
      <ul>
        {entries.map((entry) => (
          <li key={entry.id}>
            <div className="fd-unsaved-words">
              <strong>{WORK_WORDS[entry.detail.kind]}</strong>
              <span>{draftWords(entry.detail, page)}</span>
              {entry.note === '' ? null : <span>“{entry.note}”</span>}
            </div>
            <div className="fd-unsaved-acts">
              {entry.detail.kind === 'zone-audit' ? null : (
                <Button
                  big
                  onPress={() => onChange(entry)}
                  aria-label={say('field.changeWork', { work: WORK_WORDS[entry.detail.kind] })}
                >
                  {say('field.change')}
                </Button>
              )}
              <Button
                big
                look="quiet"
                onPress={() => onRemove(entry)}
                aria-label={say('field.takeOffWork', { work: WORK_WORDS[entry.detail.kind] })}
              >
                {say('field.takeOff')}
              </Button>
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The tiles that open a form. */
export function LogTiles({
  forms,
  half,
  onOpen,
}: {
  forms: readonly { kind: FormKind; title: string; expected: boolean }[];
  half: (kind: FormKind) => boolean;
  onOpen: (kind: FormKind) => void;
}) {
  return (
    <section className="fd-part" aria-label={say('field.logWork')}>
      <h3>{say('field.logWork')}</h3>
      <div className="fd-tiles">
        {forms.map((form) => (
          <button
            key={form.kind}
            type="button"
            id={`log-${form.kind}`}
            className="fd-tile"
            data-expected={form.expected || undefined}
            onClick={() => onOpen(form.kind)}
          >
            <WorkGlyph kind={form.kind} />
            <span>
              {form.title}
              {half(form.kind) ? <span className="fd-half">{say('field.halfFilled')}</span> : null}
            </span>
          </button>
        ))}
      </div>
    </section>
  );
}
