import { Stepper } from '../choice.tsx';
import { measureOf } from '../measures.ts';
import { defineForm, type LogContext } from './form-spec.ts';
import { LineField, LinesField } from './line-field.tsx';
import { say, currentReader } from '../../state/say.ts';

interface MeterValues {
  meter: string;
  readingGallons: number | null;
}

/** The meter's latest reading in the property's recent ledger. */
function lastReading(context: LogContext, meter: string): { readingGallons: number; doneOn: string } | null {
  for (const entry of context.page?.ledger ?? []) {
    if (entry.detail.kind === 'meter-read' && entry.detail.meter === meter)
      return { readingGallons: entry.detail.readingGallons, doneOn: entry.doneOn };
  }
  return null;
}

export const meterForm = defineForm<'meter-read', MeterValues>({
  kind: 'meter-read',
  get title() {
    return say('field.do.meter-read');
  },
  needsPage: false,
  begin: (_context, from) => ({ meter: from?.meter ?? 'main', readingGallons: from?.readingGallons ?? null }),
  Fields({ value, change, context }) {
    const volume = measureOf('volume', currentReader().units);
    const last = lastReading(context, value.meter.trim());
    const backwards = last !== null && value.readingGallons !== null && value.readingGallons < last.readingGallons;
    return (
      <>
        <LineField
          label={say('field.whichMeter')}
          value={value.meter}
          maxLength={80}
          onChange={(meter) => change({ meter })}
        />
        <Stepper
          label={say('field.reading')}
          plain
          {...volume.bounds(0, 1e10)}
          value={volume.show(value.readingGallons)}
          onChange={(shown) => change({ readingGallons: volume.store(shown) })}
          hint={
            backwards ? (
              <strong className="fd-warn">
                {say('field.readingLower', { reading: volume.words(last.readingGallons), date: last.doneOn })}
              </strong>
            ) : last === null ? (
              say('field.noEarlierReading')
            ) : (
              say('field.readingWas', { reading: volume.words(last.readingGallons), date: last.doneOn })
            )
          }
        />
      </>
    );
  },
  finish: (value) =>
    value.readingGallons === null
      ? { problem: say('field.typeReading') }
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
  get title() {
    return say('field.do.photo');
  },
  needsPage: false,
  begin: (_context, from) => ({ fileName: from?.fileName ?? '', caption: from?.caption ?? '' }),
  Fields: ({ value, change }) => (
    <>
      <LineField
        label={say('field.fileName')}
        value={value.fileName}
        maxLength={260}
        hint={say('field.fileNameWhy')}
        onChange={(fileName) => change({ fileName })}
      />
      <label className="fd-file">
        <span>{say('field.nameFromPicture')}</span>
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
        label={say('field.whatItShows')}
        value={value.caption}
        maxLength={200}
        onChange={(caption) => change({ caption })}
      />
    </>
  ),
  finish: (value) =>
    value.fileName.trim() === ''
      ? { problem: say('field.giveFileName') }
      : { detail: { kind: 'photo', fileName: value.fileName.trim(), caption: value.caption.trim() } },
});

interface NoteValues {
  text: string;
}

export const noteForm = defineForm<'note', NoteValues>({
  kind: 'note',
  get title() {
    return say('field.do.note');
  },
  needsPage: false,
  begin: (_context, from) => ({ text: from?.text ?? '' }),
  Fields: ({ value, change }) => (
    <LinesField label={say('field.noteForNext')} value={value.text} rows={6} onChange={(text) => change({ text })} />
  ),
  finish: (value) =>
    value.text.trim() === ''
      ? { problem: say('field.writeNote') }
      : { detail: { kind: 'note', text: value.text.trim() } },
});
