import { useMemo, useState } from 'react';
import { Label, Radio, RadioGroup } from 'react-aria-components';
import type { Settings } from '../../core/contract/entities.ts';
import type { Failure } from '../../core/errors.ts';
import { ComboField, ErrorNote, NumberField, Section, SelectField, TextField, TimeField } from '../parts/index.ts';
import { useRequest } from '../state/use-request.ts';
import { toast } from '../state/toasts.ts';
import { setTheme, useView } from '../state/view.ts';
import type { Theme } from '../state/view.ts';
import { newId, write } from '../state/write.ts';
import { MonthDayField } from './month-day-field.tsx';
import { placedErrors } from './placed-errors.ts';
import { SaveBar } from './save-bar.tsx';
import { useDraft } from './use-draft.ts';

const ROUNDING = [
  { id: '1', label: 'Whole minutes' },
  { id: '0.5', label: 'Half minutes' },
  { id: '0.1', label: 'Tenths of a minute' },
  { id: String(1 / 60), label: 'Seconds' },
  { id: '5', label: 'Five minutes' },
];

/** How the company works: names, units, seasons, intervals. */
export function SettingsPage() {
  const saved = useRequest('settings.get', {});
  const { draft, set, replace, changed, reset } = useDraft('settings', saved.data);
  const [failure, setFailure] = useState<Failure | null>(null);
  const [busy, setBusy] = useState(false);
  const zones = useMemo(
    () => Intl.supportedValuesOf('timeZone').map((id) => ({ id, label: id.replaceAll('_', ' ') })),
    [],
  );
  if (draft === undefined)
    return saved.error === null ? (
      <p className="waiting" role="status">
        Reading the settings…
      </p>
    ) : (
      <ErrorNote error={saved.error} onRetry={saved.reload} />
    );

  const errors = placedErrors(failure);
  const at = (field: keyof Settings) => errors.at(`settings.${field}`);
  const save = async (settings: Settings, before: Settings | undefined) => {
    setBusy(true);
    const reply = await write('settings.save', { writeId: newId(), settings }, { quiet: true });
    setBusy(false);
    setFailure(reply.ok ? null : reply.error);
    if (!reply.ok) return;
    replace(reply.data);
    toast(
      before === undefined
        ? { text: 'Settings are as before.' }
        : { text: 'Settings saved.', undo: () => void save(before, undefined) },
    );
  };
  const roundings = ROUNDING.some(({ id }) => Number(id) === draft.roundToMinutes)
    ? ROUNDING
    : [...ROUNDING, { id: String(draft.roundToMinutes), label: `${draft.roundToMinutes} min` }];
  return (
    <>
      <h1>Settings</h1>
      <Section title="The company">
        <div className="form-grid">
          <TextField
            label="Company name"
            value={draft.companyName}
            onChange={(companyName) => set({ companyName })}
            isRequired
            error={at('companyName')}
            description="Stands on day sheets and clients' sheets."
          />
          <SelectField
            label="Units"
            value={draft.units}
            onChange={(units) => set({ units: units as Settings['units'] })}
            options={[
              { id: 'us', label: 'Inches, gallons, °F' },
              { id: 'metric', label: 'Millimeters, liters, °C' },
            ]}
            error={at('units')}
            description="How figures are shown and typed. What is in the book does not change."
          />
          <ComboField
            label="Time zone"
            value={draft.timeZone}
            onChange={(timeZone) => {
              if (timeZone !== '') set({ timeZone });
            }}
            options={
              zones.some(({ id }) => id === draft.timeZone)
                ? zones
                : [{ id: draft.timeZone, label: draft.timeZone }, ...zones]
            }
            error={at('timeZone')}
          />
          <TextField
            label="Country of phone numbers"
            value={draft.phoneRegion}
            onChange={(text) => set({ phoneRegion: text.toUpperCase().slice(0, 2) })}
            error={at('phoneRegion')}
            description="Two letters, such as US or CA: how numbers without a country code are read."
          />
        </div>
      </Section>
      <Section title="What comes due" note="Decides when something turns amber, and when red.">
        <div className="form-grid">
          <NumberField
            label="Battery life"
            unit="months"
            value={draft.batteryLifeMonths}
            onChange={(value) => set({ batteryLifeMonths: value ?? draft.batteryLifeMonths })}
            min={1}
            max={120}
            digits={0}
            error={at('batteryLifeMonths')}
            description="A sensor's battery is due this long after its last swap."
          />
          <NumberField
            label="Sensor check every"
            unit="months"
            value={draft.sensorCheckMonths}
            onChange={(value) => set({ sensorCheckMonths: value ?? draft.sensorCheckMonths })}
            min={1}
            max={60}
            digits={0}
            error={at('sensorCheckMonths')}
            description="Rain trip, freeze trip, signal."
          />
        </div>
      </Section>
      <Section
        title="Seasons"
        note="Properties without the visit booked turn up in the to-book list around these days."
      >
        <div className="form-grid season-windows">
          <MonthDayField
            label="Start-ups from"
            value={draft.startUpFrom}
            onChange={(startUpFrom) => set({ startUpFrom })}
            error={at('startUpFrom')}
          />
          <MonthDayField
            label="Start-ups until"
            value={draft.startUpTo}
            onChange={(startUpTo) => set({ startUpTo })}
            error={at('startUpTo')}
          />
          <MonthDayField
            label="Winterizations from"
            value={draft.winterizationFrom}
            onChange={(winterizationFrom) => set({ winterizationFrom })}
            error={at('winterizationFrom')}
          />
          <MonthDayField
            label="Winterizations until"
            value={draft.winterizationTo}
            onChange={(winterizationTo) => set({ winterizationTo })}
            error={at('winterizationTo')}
          />
        </div>
      </Section>
      <Section title="Programs" note="What program advice keeps to.">
        <div className="form-grid">
          <TimeField
            label="Watering ends by"
            value={draft.waterEndsBy}
            onChange={(value) => set({ waterEndsBy: value ?? draft.waterEndsBy })}
            error={at('waterEndsBy')}
            description="The last zone should have ended by then, before wind and sun take their share."
          />
          <SelectField
            label="Run times round to"
            value={String(draft.roundToMinutes)}
            onChange={(value) => set({ roundToMinutes: Number(value) })}
            options={roundings}
            error={at('roundToMinutes')}
            description="As most controllers here do after the seasonal percentage."
          />
          <NumberField
            label="Show both when they differ by"
            unit="%"
            value={Math.round(draft.thumbDiffersShare * 100)}
            onChange={(value) => set({ thumbDiffersShare: (value ?? 25) / 100 })}
            min={5}
            max={200}
            digits={0}
            error={at('thumbDiffersShare')}
            description="Physics and rule of thumb stand side by side when they are further apart than this."
          />
        </div>
      </Section>
      {errors.rest() === null ? null : <ErrorNote error={errors.rest() ?? ''} />}
      <SaveBar
        changed={changed}
        busy={busy}
        onReset={() => {
          reset();
          setFailure(null);
        }}
        // Backups are chosen on the Book page; a draft kept here would take that back.
        onSave={() => void save({ ...draft, backups: saved.data?.backups ?? draft.backups }, saved.data)}
        label="Save settings"
      />
      <ThemeChoice />
    </>
  );
}

const THEMES: { id: Theme; label: string }[] = [
  { id: 'auto', label: 'As this machine is set' },
  { id: 'light', label: 'Light' },
  { id: 'dark', label: 'Dark' },
];

function ThemeChoice() {
  const theme = useView((view) => view.theme);
  return (
    <Section title="On this machine" note="Kept here, not in the book.">
      <RadioGroup
        className="theme-choice"
        value={theme}
        onChange={(next) => setTheme(next as Theme)}
        orientation="horizontal"
      >
        <Label className="field-label">Light or dark</Label>
        <div className="theme-row">
          {THEMES.map(({ id, label }) => (
            <Radio key={id} value={id} className="pick">
              {label}
            </Radio>
          ))}
        </div>
      </RadioGroup>
    </Section>
  );
}
