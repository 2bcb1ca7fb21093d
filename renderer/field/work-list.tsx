import { formatDate } from '../parts/format.ts';
import type { LedgerEntry } from '../../core/contract/ledger-entries.ts';
import type { Settings } from '../../core/contract/entities.ts';
import { Button } from '../parts/button.tsx';
import type { DraftEntry, FormKind } from './draft.ts';
import { draftWords, WORK_WORDS } from './entry-words.ts';
import type { PropertyPage } from './forms/form-spec.ts';
import { WorkGlyph } from './glyphs.tsx';
import { sayTold } from '../state/say.ts';

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
                {entry.note === '' ? null : <span className="fd-last-words">“{entry.note}”</span>}
                {entry.correction === 'void' ? (
                  <span className="fd-tag">✕ did not happen</span>
                ) : entry.historyLength > 0 ? (
                  <span className="fd-tag">corrected</span>
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
  settings,
  onChange,
  onRemove,
}: {
  entries: readonly DraftEntry[];
  sentCount: number;
  page: PropertyPage | null;
  settings: Settings;
  onChange: (entry: DraftEntry) => void;
  onRemove: (entry: DraftEntry) => void;
}) {
  if (entries.length === 0 && sentCount === 0) return null;
  return (
    <section className="fd-part fd-unsaved" aria-label="To be saved">
      <h3>
        <span aria-hidden="true">◌ </span>To be saved
      </h3>
      {sentCount > 0 && (
        <p className="fd-quiet">
          {sentCount === 1 ? 'One fact was' : `${sentCount} facts were`} sent, but no answer came back.
        </p>
      )}
      <ul>
        {entries.map((entry) => (
          <li key={entry.id}>
            <div className="fd-unsaved-words">
              <strong>{WORK_WORDS[entry.detail.kind]}</strong>
              <span>{draftWords(entry.detail, page, settings)}</span>
              {entry.note === '' ? null : <span>“{entry.note}”</span>}
            </div>
            <div className="fd-unsaved-acts">
              {entry.detail.kind === 'zone-audit' ? null : (
                <Button big onPress={() => onChange(entry)} aria-label={`Change: ${WORK_WORDS[entry.detail.kind]}`}>
                  Change
                </Button>
              )}
              <Button
                big
                look="quiet"
                onPress={() => onRemove(entry)}
                aria-label={`Take off the list: ${WORK_WORDS[entry.detail.kind]}`}
              >
                Take off
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
    <section className="fd-part" aria-label="Log work">
      <h3>Log work</h3>
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
              {half(form.kind) ? <span className="fd-half">half filled in</span> : null}
            </span>
          </button>
        ))}
      </div>
    </section>
  );
}
