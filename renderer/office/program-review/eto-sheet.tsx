import { useState } from 'react';
import type { InputOf } from '../../../core/contract/index.ts';
import type { WeatherStation } from '../../../core/contract/entities.ts';
import { fromStored, MM_PER_INCH, toMeters, toStored, unitLabel } from '../../../core/units.ts';
import type { UnitSystem } from '../../../core/units.ts';
import {
  DateField,
  ErrorNote,
  formatDate,
  formatMeasure,
  formatNumber,
  NumberField,
  SelectField,
  Sheet,
} from '../../parts/index.ts';
import { useRequest } from '../../state/use-request.ts';
import { useUnits } from '../../state/use-settings.ts';
import type { OpenProperty } from '../property/use-property-editor.ts';
import { useDebounced } from './use-debounced.ts';
import { sayTold } from '../../state/say.ts';

type Input = InputOf<'agronomy.eto'>;
/** The day's weather as the reader typed it; null = not known. */
interface Day {
  date: string;
  tmaxF: number | null;
  tminF: number | null;
  rhMeanPct: number | null;
  windMph: number | null;
  solarMjM2: number | null;
  reference: 'short' | 'tall';
}

const MPH = 0.44704;
const celsius = (fahrenheit: number) => fromStored('temperature', fahrenheit, 'metric');

const METHODS: Record<string, string> = {
  'fao56-penman-monteith': 'Penman–Monteith, as in FAO-56',
  'asce-short': 'ASCE standardized, short reference (clipped grass)',
  'asce-tall': 'ASCE standardized, tall reference (alfalfa)',
  'hargreaves-samani': 'Hargreaves–Samani, from temperature alone',
};
/** A method's name for readers. */
export const methodWords = (method: string): string => METHODS[method] ?? method;

/** How reference evapotranspiration of a day comes about: every step with its value, its unit and its source. */
export function EtoSheet({
  data,
  stationName,
  month,
  today,
  onClose,
}: {
  data: OpenProperty;
  stationName: string;
  month: number;
  today: string;
  onClose: () => void;
}) {
  const stations = useRequest('station.list', {});
  if (stations.data === undefined)
    return (
      <Sheet title="How ETo is worked out" isOpen onClose={onClose}>
        {stations.error === null ? (
          <p className="waiting" role="status">
            Reading the station…
          </p>
        ) : (
          <ErrorNote error={stations.error} onRetry={stations.reload} />
        )}
      </Sheet>
    );
  const station =
    stations.data.stations.find((one) => one.name === stationName) ??
    stations.data.stations.find((one) => one.id === data.property.weatherStationId);
  return <Worked data={data} station={station} month={month} today={today} onClose={onClose} />;
}

function Worked({
  data,
  station,
  month,
  today,
  onClose,
}: {
  data: OpenProperty;
  station: WeatherStation | undefined;
  month: number;
  today: string;
  onClose: () => void;
}) {
  const units = useUnits();
  const [day, setDay] = useState<Day>(() => usualDay(station, month, today));
  const latitudeDeg = station?.latitudeDeg ?? data.property.latitudeDeg;
  const elevationFt = station?.elevationFt ?? data.property.elevationFt ?? 0;
  const input: Input | null =
    latitudeDeg === null || day.tmaxF === null || day.tminF === null
      ? null
      : {
          latitudeDeg,
          elevationM: toMeters(elevationFt),
          date: day.date,
          tmaxC: celsius(day.tmaxF),
          tminC: celsius(day.tminF),
          reference: day.reference === 'tall' ? 'tall' : undefined,
          ...(day.rhMeanPct === null ? {} : { rhMeanPct: day.rhMeanPct }),
          ...(day.windMph === null ? {} : { windMps: day.windMph * MPH }),
          ...(day.solarMjM2 === null ? {} : { solarMjM2: day.solarMjM2 }),
        };
  const key = useDebounced(JSON.stringify(input));
  const eto = useRequest('agronomy.eto', JSON.parse(key) as Input | null);
  const set = (part: Partial<Day>) => setDay((old) => ({ ...old, ...part }));
  const temperature = (value: number | null) => (value === null ? null : toStored('temperature', value, units));
  const wind = windUnit(units);
  return (
    <Sheet title="How ETo is worked out" isOpen onClose={onClose}>
      <p className="pr-lead">
        Reference evapotranspiration (ETo) is the water that well-watered grass gives to the air in a day. It starts
        from a usual day of the month at {station?.name ?? 'the property'}; change any figure, or empty it to see how a
        missing reading is replaced.
      </p>
      <div className="form-grid">
        <DateField
          label="Day"
          value={day.date}
          onChange={(date) => {
            if (date !== null) set({ date });
          }}
          description="For the height of the sun"
        />
        <NumberField
          label="Warmest"
          unit={unitLabel('temperature', units)}
          digits={1}
          value={shown(day.tmaxF, units)}
          onChange={(value) => set({ tmaxF: temperature(value) })}
          isRequired
        />
        <NumberField
          label="Coldest"
          unit={unitLabel('temperature', units)}
          digits={1}
          value={shown(day.tminF, units)}
          onChange={(value) => set({ tminF: temperature(value) })}
          isRequired
        />
        <NumberField
          label="Mean humidity"
          unit="%"
          digits={0}
          value={day.rhMeanPct}
          onChange={(rhMeanPct) => set({ rhMeanPct })}
        />
        <NumberField
          label="Mean wind, 2 m up"
          unit={wind.label}
          digits={1}
          value={day.windMph === null ? null : day.windMph * wind.factor}
          onChange={(value) => set({ windMph: value === null ? null : value / wind.factor })}
        />
        <NumberField
          label="Solar radiation"
          unit="MJ/m²/d"
          digits={1}
          value={day.solarMjM2}
          onChange={(solarMjM2) => set({ solarMjM2 })}
        />
        <SelectField
          label="Reference"
          value={day.reference}
          onChange={(reference) => set({ reference: reference as Day['reference'] })}
          options={[
            { id: 'short', label: 'Short, as clipped grass' },
            { id: 'tall', label: 'Tall, as alfalfa' },
          ]}
        />
      </div>
      {eto.error !== null ? (
        <ErrorNote error={eto.error} />
      ) : input === null ? (
        <p className="quiet pr-waiting-for">The warmest and coldest of the day and the place are needed at least.</p>
      ) : eto.data === undefined ? (
        <p className="waiting" role="status">
          Working it out…
        </p>
      ) : (
        <>
          <p className="pr-audit-figures">
            <span>
              <b>{formatNumber(eto.data.etoMm, 2)} mm</b> on {formatDate(day.date)}
            </span>
            {units === 'us' ? (
              <span>
                <b>{formatMeasure('depth', eto.data.etoMm / MM_PER_INCH, 'us')}</b>
              </span>
            ) : null}
            <span className="quiet">{methodWords(eto.data.method)}</span>
          </p>
          <div className="table-scroll pr-steps-box" tabIndex={0} role="region" aria-label="Steps">
            <table className="data pr-steps">
              <caption className="visually-hidden">Every step from the readings to ETo</caption>
              <thead>
                <tr>
                  <th scope="col">Step</th>
                  <th scope="col">Sign</th>
                  <th scope="col" className="figure">
                    Value
                  </th>
                  <th scope="col">Unit</th>
                  <th scope="col">Where from</th>
                </tr>
              </thead>
              <tbody>
                {eto.data.steps.map((step, index) => (
                  <tr key={`${step.symbol} ${index}`}>
                    <th scope="row">{sayTold(step.name)}</th>
                    <td>{step.symbol}</td>
                    <td className="figure">{digits(step.value)}</td>
                    <td>{step.unit}</td>
                    <td className="small">{sayTold(step.how)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </>
      )}
    </Sheet>
  );
}

const shown = (value: number | null, units: UnitSystem) =>
  value === null ? null : Math.round(fromStored('temperature', value, units) * 10) / 10;
const windUnit = (units: UnitSystem) => (units === 'us' ? { label: 'mph', factor: 1 } : { label: 'm/s', factor: MPH });

/** Four figures that count, so that 0.000665 does not become 0. */
const digits = (value: number) => new Intl.NumberFormat('en-US', { maximumSignificantDigits: 5 }).format(value);

function usualDay(station: WeatherStation | undefined, month: number, today: string): Day {
  const normal = station?.normals[month - 1];
  const date =
    Number(today.slice(5, 7)) === month ? today : `${today.slice(0, 4)}-${String(month).padStart(2, '0')}-15`;
  return {
    date,
    tmaxF: normal?.tmaxF ?? null,
    tminF: normal?.tminF ?? null,
    rhMeanPct: normal?.rhMeanPct ?? null,
    windMph: normal?.windMph ?? null,
    solarMjM2: normal?.solarMjM2 ?? null,
    reference: 'short',
  };
}
