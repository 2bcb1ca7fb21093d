import { useEffect, useMemo, useState } from 'react';
import { Label, Radio, RadioGroup } from 'react-aria-components';
import type { Settings } from '../../core/settings/contract.ts';
import type { Failure } from '../../core/errors.ts';
import type { PlainKey } from '../../core/text/say.ts';
import { LANGUAGES } from '../../core/text/words.ts';
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
import { chooseReader, say, useReaderChoice, words } from '../state/say.ts';

const roundingSteps = () => [
  { id: '1', label: say('company.round.whole') },
  { id: '0.5', label: say('company.round.half') },
  { id: '0.1', label: say('company.round.tenth') },
  { id: String(1 / 60), label: say('company.round.second') },
  { id: '5', label: say('company.round.five') },
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
        {say('company.readingSettings')}
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
        ? { text: say('company.settingsAsBefore') }
        : { text: say('company.settingsSaved'), undo: () => void save(before, undefined) },
    );
  };
  const steps = roundingSteps();
  const roundings = steps.some(({ id }) => Number(id) === draft.roundToMinutes)
    ? steps
    : [...steps, { id: String(draft.roundToMinutes), label: words().minutes(draft.roundToMinutes) }];
  return (
    <>
      <h1>{say('company.settings')}</h1>
      <Section title={say('company.theCompany')}>
        <div className="form-grid">
          <TextField
            label={say('company.name')}
            value={draft.companyName}
            onChange={(companyName) => set({ companyName })}
            isRequired
            error={at('companyName')}
            description={say('company.nameWhy')}
          />
          <SelectField
            label={say('shell.language')}
            value={draft.language}
            onChange={(language) => set({ language: language as Settings['language'] })}
            options={LANGUAGES.map((id) => ({ id, label: say(`shell.language.${id}`) }))}
            error={at('language')}
            description={say('company.languageWhy')}
          />
          <SelectField
            label={say('company.units')}
            value={draft.units}
            onChange={(units) => set({ units: units as Settings['units'] })}
            options={[
              { id: 'us', label: say('company.unitsUs') },
              { id: 'metric', label: say('company.unitsMetric') },
            ]}
            error={at('units')}
            description={say('company.unitsWhy')}
          />
          <ComboField
            label={say('company.timeZone')}
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
            label={say('company.phoneCountry')}
            value={draft.phoneRegion}
            onChange={(text) => set({ phoneRegion: text.toUpperCase().slice(0, 2) })}
            error={at('phoneRegion')}
            description={say('company.phoneCountryWhy')}
          />
        </div>
      </Section>
      <Section title={say('company.whatComesDue')} note={say('company.whatComesDueWhy')}>
        <div className="form-grid">
          <NumberField
            label={say('company.batteryLife')}
            unit={say('company.months')}
            value={draft.batteryLifeMonths}
            onChange={(value) => set({ batteryLifeMonths: value ?? draft.batteryLifeMonths })}
            min={1}
            max={120}
            digits={0}
            error={at('batteryLifeMonths')}
            description={say('company.batteryLifeWhy')}
          />
          <NumberField
            label={say('company.checkEvery')}
            unit={say('company.months')}
            value={draft.sensorCheckMonths}
            onChange={(value) => set({ sensorCheckMonths: value ?? draft.sensorCheckMonths })}
            min={1}
            max={60}
            digits={0}
            error={at('sensorCheckMonths')}
            description={say('company.checkEveryWhy')}
          />
        </div>
      </Section>
      <Section title={say('company.seasons')} note={say('company.seasonsWhy')}>
        <div className="form-grid season-windows">
          <MonthDayField
            label={say('company.startUpsFrom')}
            value={draft.startUpFrom}
            onChange={(startUpFrom) => set({ startUpFrom })}
            error={at('startUpFrom')}
          />
          <MonthDayField
            label={say('company.startUpsUntil')}
            value={draft.startUpTo}
            onChange={(startUpTo) => set({ startUpTo })}
            error={at('startUpTo')}
          />
          <MonthDayField
            label={say('company.winterFrom')}
            value={draft.winterizationFrom}
            onChange={(winterizationFrom) => set({ winterizationFrom })}
            error={at('winterizationFrom')}
          />
          <MonthDayField
            label={say('company.winterUntil')}
            value={draft.winterizationTo}
            onChange={(winterizationTo) => set({ winterizationTo })}
            error={at('winterizationTo')}
          />
        </div>
      </Section>
      <Section title={say('company.programs')} note={say('company.programsWhy')}>
        <div className="form-grid">
          <TimeField
            label={say('company.waterEnds')}
            value={draft.waterEndsBy}
            onChange={(value) => set({ waterEndsBy: value ?? draft.waterEndsBy })}
            error={at('waterEndsBy')}
            description={say('company.waterEndsWhy')}
          />
          <SelectField
            label={say('company.roundTo')}
            value={String(draft.roundToMinutes)}
            onChange={(value) => set({ roundToMinutes: Number(value) })}
            options={roundings}
            error={at('roundToMinutes')}
            description={say('company.roundToWhy')}
          />
          <NumberField
            label={say('company.showBoth')}
            unit="%"
            value={Math.round(draft.thumbDiffersShare * 100)}
            onChange={(value) => set({ thumbDiffersShare: (value ?? 25) / 100 })}
            min={5}
            max={200}
            digits={0}
            error={at('thumbDiffersShare')}
            description={say('company.showBothWhy')}
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
        label={say('company.saveSettings')}
      />
      <MachineChoices />
    </>
  );
}

const THEMES: { id: Theme; label: PlainKey }[] = [
  { id: 'auto', label: 'company.themeAuto' },
  { id: 'light', label: 'shell.themeLight' },
  { id: 'dark', label: 'shell.themeDark' },
];

/** Which choice made the page be drawn anew, so that the focus goes on where it was. */
let chosen: 'language' | 'units' | null = null;

function MachineChoices() {
  const theme = useView((view) => view.theme);
  const { language, units } = useReaderChoice();
  useEffect(() => {
    if (chosen !== null) document.querySelector<HTMLInputElement>(`#reader-${chosen} input:checked`)?.focus();
    chosen = null;
  }, []);
  const choose = (what: 'language' | 'units', choice: Parameters<typeof chooseReader>[0]) => {
    chosen = what;
    chooseReader(choice);
  };
  return (
    <Section title={say('company.onThisMachine')} note={say('company.onThisMachineWhy')}>
      <RadioGroup
        className="theme-choice"
        value={theme}
        onChange={(next) => setTheme(next as Theme)}
        orientation="horizontal"
      >
        <Label className="field-label">{say('company.lightOrDark')}</Label>
        <div className="theme-row">
          {THEMES.map(({ id, label }) => (
            <Radio key={id} value={id} className="pick">
              {say(label)}
            </Radio>
          ))}
        </div>
      </RadioGroup>
      <RadioGroup
        id="reader-language"
        className="theme-choice"
        value={language ?? ''}
        onChange={(next) => choose('language', { language: LANGUAGES.find((one) => one === next) ?? null })}
        orientation="horizontal"
      >
        <Label className="field-label">{say('shell.language')}</Label>
        <div className="theme-row">
          {(['', ...LANGUAGES] as const).map((id) => (
            <Radio key={id} value={id} className="pick" {...(id === '' ? {} : { lang: id })}>
              {id === '' ? say('shell.asCompany') : say(`shell.language.${id}`)}
            </Radio>
          ))}
        </div>
      </RadioGroup>
      <RadioGroup
        id="reader-units"
        className="theme-choice"
        value={units ?? ''}
        onChange={(next) => choose('units', { units: next === 'us' || next === 'metric' ? next : null })}
        orientation="horizontal"
      >
        <Label className="field-label">{say('shell.units')}</Label>
        <div className="theme-row">
          {(['', 'us', 'metric'] as const).map((id) => (
            <Radio key={id} value={id} className="pick">
              {id === '' ? say('shell.asCompany') : id === 'us' ? say('company.unitsUs') : say('company.unitsMetric')}
            </Radio>
          ))}
        </div>
      </RadioGroup>
    </Section>
  );
}
