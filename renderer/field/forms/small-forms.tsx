import { formatDate } from '../../parts/format.ts';
import { Stepper } from '../choice.tsx';
import { measureOf } from '../measures.ts';
import { defineForm, type LogContext } from './form-spec.ts';
import { LineField, LinesField } from './line-field.tsx';

interface MeterValues {
  meter: string;
  readingGallons: number | null;
}

/** The meter's latest reading in the property's recent ledger. */
function lastReading(context: LogContext, meter: string): { readingGallons: number; doneOn: string } | null {
  for (const entry of context.page?.ledger ?? []) {
    if (entry.detail.kind === 'meter-read' && entry.detail.meter === meter && entry.correction !== 'void')
      return { readingGallons: entry.detail.readingGallons, doneOn: entry.doneOn };
  }
  return null;
}

export const meterForm = defineForm<'meter-read', MeterValues>({
  kind: 'meter-read',
  title: 'Log meter reading',
  needsPage: false,
  begin: (_context, from) => ({ meter: from?.meter ?? 'main', readingGallons: from?.readingGallons ?? null }),
  Fields({ value, change, context }) {
    const volume = measureOf('volume', context.settings.units);
    const last = lastReading(context, value.meter.trim());
    const backwards = last !== null && value.readingGallons !== null && value.readingGallons < last.readingGallons;
    return (
      <>
        <LineField label="Which meter" value={value.meter} maxLength={80} onChange={(meter) => change({ meter })} />
        <Stepper
          label="Reading"
          plain
          {...volume.bounds(0, 1e10)}
          value={volume.show(value.readingGallons)}
          onChange={(shown) => change({ readingGallons: volume.store(shown) })}
          hint={
            backwards ? (
              <strong className="fd-warn">
                ▲ Lower than the {volume.words(last.readingGallons)} read on {formatDate(last.doneOn)}. Check the
                digits; log it if the meter was changed.
              </strong>
            ) : last === null ? (
              'No earlier reading among the latest entries.'
            ) : (
              `Read ${volume.words(last.readingGallons)} on ${formatDate(last.doneOn)}.`
            )
          }
        />
      </>
    );
  },
  finish: (value) =>
    value.readingGallons === null
      ? { problem: 'Type the figure on the meter.' }
      : {
          detail: {
            kind: 'meter-read',
            meter: value.meter.trim() === '' ? 'main' : value.meter.trim(),
            readingGallons: value.readingGallons,
          },
        },
});

interface PhotoValues {
  fileName: string;
  caption: string;
}

export const photoForm = defineForm<'photo', PhotoValues>({
  kind: 'photo',
  title: 'Log photo',
  needsPage: false,
  begin: (_context, from) => ({ fileName: from?.fileName ?? '', caption: from?.caption ?? '' }),
  Fields: ({ value, change }) => (
    <>
      <LineField
        label="File name"
        value={value.fileName}
        maxLength={260}
        hint="The book keeps the name only; the picture stays on your phone or camera."
        onChange={(fileName) => change({ fileName })}
      />
      <label className="fd-file">
        <span>Take the name from a picture</span>
        <input
          type="file"
          accept="image/*"
          onChange={(event) => {
            const file = event.target.files?.[0];
            if (file !== undefined) change({ fileName: file.name });
          }}
        />
      </label>
      <LineField
        label="What it shows"
        value={value.caption}
        maxLength={200}
        onChange={(caption) => change({ caption })}
      />
    </>
  ),
  finish: (value) =>
    value.fileName.trim() === ''
      ? { problem: "Give the photo's file name." }
      : { detail: { kind: 'photo', fileName: value.fileName.trim(), caption: value.caption.trim() } },
});

interface NoteValues {
  text: string;
}

export const noteForm = defineForm<'note', NoteValues>({
  kind: 'note',
  title: 'Log note',
  needsPage: false,
  begin: (_context, from) => ({ text: from?.text ?? '' }),
  Fields: ({ value, change }) => (
    <LinesField
      label="Note for the next person here"
      value={value.text}
      rows={6}
      onChange={(text) => change({ text })}
    />
  ),
  finish: (value) =>
    value.text.trim() === ''
      ? { problem: 'Write the note first.' }
      : { detail: { kind: 'note', text: value.text.trim() } },
});
