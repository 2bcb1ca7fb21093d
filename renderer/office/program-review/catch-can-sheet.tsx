import { useState } from 'react';
import type { ReviewRow } from '../../../core/programs/contract.ts';
import type { Failure } from '../../../core/errors.ts';
import { MM_PER_INCH, type UnitSystem } from '../../../core/units.ts';
import { CatchCanPlot } from '../../charts/catch-can-plot.tsx';
import { lowQuarter } from '../../../core/agronomy/precipitation-rate.ts';
import {
  Button,
  DateField,
  ErrorNote,
  formatNumber,
  NumberField,
  SelectField,
  Sheet,
  TextField,
} from '../../parts/index.ts';
import { toast } from '../../state/toasts.ts';
import { useRequest } from '../../state/use-request.ts';
import { useUnits } from '../../state/use-settings.ts';
import { newId, write } from '../../state/write.ts';
import type { OpenProperty } from '../property/use-property-editor.ts';
import { AuditResult } from './audit-result.tsx';
import { CanGrid, FIRST_CANS } from './can-grid.tsx';
import { readVolume } from './can-volumes.ts';
import { useDebounced } from './use-debounced.ts';
import { say } from '../../state/say.ts';
import { STORED } from '../../../core/text/stored.ts';

type ThroatAs = 'diameter' | 'area';
interface Gauge {
  as: ThroatAs;
  /** Inches or square inches, whatever the reader's units. */
  stored: number | null;
  minutes: number | null;
}

/** Enters a catch-can test of one zone: what was caught, what it says, what it changes; then logs it. */
export function CatchCanSheet({
  row,
  property,
  today,
  onClose,
}: {
  row: ReviewRow;
  property: OpenProperty;
  today: string;
  onClose: () => void;
}) {
  const units = useUnits();
  const [texts, setTexts] = useState<string[]>(FIRST_CANS);
  const [gauge, setGauge] = useState<Gauge>(rememberedGauge);
  const [doneOn, setDoneOn] = useState<string | null>(today);
  const [technicianId, setTechnicianId] = useState('');
  const [note, setNote] = useState('');
  const [failure, setFailure] = useState<Failure | null>(null);
  const [saving, setSaving] = useState(false);
  const [ids] = useState(() => ({ writeId: newId(), entryId: newId() }));
  const people = useRequest('people.list', {}).data?.technicians.filter((person) => person.active) ?? [];

  const cans = texts
    .map((text, index) => ({ index, volume: readVolume(text) }))
    .filter((can): can is { index: number; volume: number } => can.volume !== null);
  const wrong = cans.find((can) => Number.isNaN(can.volume));
  const volumesMl = cans.map((can) => can.volume);
  const throatAreaIn2 =
    gauge.stored === null ? null : gauge.as === 'area' ? gauge.stored : (Math.PI * gauge.stored ** 2) / 4;
  const ready = wrong === undefined && volumesMl.length >= 4 && throatAreaIn2 !== null && gauge.minutes !== null;
  const input = useDebounced(ready ? JSON.stringify({ volumesMl, throatAreaIn2, runMinutes: gauge.minutes }) : 'null');
  const audit = useRequest(
    'zone.audit',
    JSON.parse(input) as { volumesMl: number[]; throatAreaIn2: number; runMinutes: number } | null,
  );
  const result = ready ? audit.data : undefined;
  const low = new Set(
    wrong === undefined && volumesMl.length >= 4 ? lowQuarter(volumesMl).map((at) => cans[at]?.index ?? -1) : [],
  );

  const save = async () => {
    if (!ready || doneOn === null || throatAreaIn2 === null || gauge.minutes === null) return;
    setSaving(true);
    const reply = await write(
      'visit.record',
      {
        writeId: ids.writeId,
        propertyId: property.property.id,
        doneOn,
        technicianId: technicianId === '' ? null : technicianId,
        closeVisit: false,
        entries: [
          {
            id: ids.entryId,
            note,
            detail: { kind: 'zone-audit', zoneId: row.zoneId, volumesMl, throatAreaIn2, runMinutes: gauge.minutes },
          },
        ],
      },
      { quiet: true },
    );
    setSaving(false);
    if (!reply.ok) {
      setFailure(reply.error);
      return;
    }
    rememberGauge(gauge);
    toast({
      text: say('pr.testLogged', { station: row.station }),
      undo: () =>
        void write('ledger.correct', {
          writeId: newId(),
          id: newId(),
          correctsId: ids.entryId,
          correction: 'void',
          reason: STORED.testTakenBack,
        }),
    });
    onClose();
  };

  return (
    <Sheet
      title={say('pr.testOf', { station: row.station, zone: row.zoneName })}
      isOpen
      onClose={onClose}
      footer={
        <>
          <Button onPress={onClose}>{say('pr.cancel')}</Button>
          <Button
            look="primary"
            isDisabled={!ready || result === undefined || saving || doneOn === null || doneOn > today}
            onPress={() => void save()}
          >
            {say('pr.logTest')}
          </Button>
        </>
      }
    >
      <p className="pr-lead">{say('pr.setOutCans')}</p>
      <div className="form-grid">
        <SelectField
          label={say('pr.cansGivenBy')}
          value={gauge.as}
          onChange={(as) => setGauge({ ...gauge, as: as as ThroatAs, stored: converted(gauge, as as ThroatAs) })}
          options={[
            { id: 'diameter', label: say('pr.byDiameter') },
            { id: 'area', label: say('pr.byArea') },
          ]}
        />
        <NumberField
          label={gauge.as === 'diameter' ? say('pr.throatDiameter') : say('pr.throatArea')}
          unit={throatUnit(gauge.as, units)}
          value={shownThroat(gauge, units)}
          min={0}
          digits={2}
          onChange={(value) =>
            setGauge({ ...gauge, stored: value === null ? null : storedThroat(value, gauge.as, units) })
          }
          description={
            gauge.as === 'diameter' && throatAreaIn2 !== null
              ? say('pr.makes', {
                  area: `${formatNumber(units === 'us' ? throatAreaIn2 : throatAreaIn2 * CM2, 2)} ${throatUnit('area', units)}`,
                })
              : undefined
          }
        />
        <NumberField
          label={say('pr.ranFor')}
          unit="min"
          value={gauge.minutes}
          min={0.5}
          max={240}
          digits={1}
          onChange={(minutes) => setGauge({ ...gauge, minutes })}
        />
      </div>
      <h3 className="form-part">
        {say('pr.caught')} <span className="quiet small">{say('pr.cans', { count: cans.length })}</span>
      </h3>
      <CanGrid texts={texts} low={low} onChange={setTexts} />
      {wrong === undefined ? null : (
        <p role="alert" className="field-error">
          {say('pr.canMust', { number: wrong.index + 1 })}
        </p>
      )}
      {result === undefined ? (
        <p className="quiet pr-waiting-for">{whatIsMissing(volumesMl.length, throatAreaIn2, gauge.minutes)}</p>
      ) : (
        <>
          {audit.error === null ? null : <ErrorNote error={audit.error} />}
          <CatchCanPlot
            volumesMl={volumesMl}
            canNumbers={cans.map((can) => can.index + 1)}
            meanMl={result.meanMl}
            lowQuarterMeanMl={result.lowQuarterMeanMl}
            depthsInches={result.depthsInches}
          />
          <AuditResult row={row} result={result} />
        </>
      )}
      {result === undefined && audit.error !== null && ready ? <ErrorNote error={audit.error} /> : null}
      <h3 className="form-part">{say('pr.logIt')}</h3>
      <div className="form-grid">
        <DateField
          label={say('pr.doneOn')}
          value={doneOn}
          onChange={setDoneOn}
          isRequired
          error={doneOn !== null && doneOn > today ? say('pr.notComeYet') : null}
        />
        <SelectField
          label={say('pr.doneBy')}
          value={technicianId}
          onChange={setTechnicianId}
          options={[
            { id: '', label: say('pr.theOffice') },
            ...people.map((person) => ({ id: person.id, label: person.name })),
          ]}
        />
        <TextField
          className="full"
          label={say('pr.remark')}
          value={note}
          onChange={setNote}
          description={say('pr.remarkWhy')}
        />
      </div>
      <p className="small quiet">
        {say('pr.testSets', { rate: { quantity: 'rate', value: row.precipitationRateInPerHour } })}
      </p>
      {failure === null ? null : <ErrorNote error={failure} />}
    </Sheet>
  );
}

function whatIsMissing(cans: number, area: number | null, minutes: number | null): string {
  const missing = [
    ...(area === null ? [say('pr.throatSize')] : []),
    ...(minutes === null ? [say('pr.howLong')] : []),
    ...(cans < 4 ? [say('pr.moreCans', { count: 4 - cans })] : []),
  ];
  return missing.length === 0 ? say('pr.workingOut') : say('pr.stillNeeded', { what: missing });
}

const CM = MM_PER_INCH / 10;
const CM2 = CM * CM;
const throatUnit = (as: ThroatAs, units: UnitSystem) => `${units === 'us' ? 'in' : 'cm'}${as === 'area' ? '²' : ''}`;
const factor = (as: ThroatAs, units: UnitSystem) => (units === 'us' ? 1 : as === 'area' ? CM2 : CM);
const storedThroat = (value: number, as: ThroatAs, units: UnitSystem) => value / factor(as, units);
const shownThroat = (gauge: Gauge, units: UnitSystem) =>
  gauge.stored === null ? null : Math.round(gauge.stored * factor(gauge.as, units) * 1000) / 1000;

/** The same throat said the other way. */
function converted(gauge: Gauge, as: ThroatAs): number | null {
  if (gauge.stored === null || as === gauge.as) return gauge.stored;
  return as === 'area' ? (Math.PI * gauge.stored ** 2) / 4 : Math.sqrt((4 * gauge.stored) / Math.PI);
}

// A company has one set of cans: the next test starts with the last one's.
const GAUGE_KEY = 'valvebook-catch-cans';

function rememberedGauge(): Gauge {
  try {
    const kept = JSON.parse(window.localStorage.getItem(GAUGE_KEY) ?? '') as Partial<Gauge>;
    const figure = (value: unknown) =>
      typeof value === 'number' && Number.isFinite(value) && value > 0 ? value : null;
    return { as: kept.as === 'area' ? 'area' : 'diameter', stored: figure(kept.stored), minutes: figure(kept.minutes) };
  } catch {
    return { as: 'diameter', stored: null, minutes: null };
  }
}

function rememberGauge(gauge: Gauge): void {
  try {
    window.localStorage.setItem(GAUGE_KEY, JSON.stringify(gauge));
  } catch {
    // Without storage they are typed again.
  }
}
