import { useState } from 'react';
import type { InputOf } from '../../../core/contract/index.ts';
import type { WeatherStation } from '../../../core/weather/contract.ts';
import { fromStored, MM_PER_INCH, toMeters, toStored, unitLabel } from '../../../core/units.ts';
import type { UnitSystem } from '../../../core/units.ts';
import {
  DateField,
  ErrorNote,
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
import { say, sayTold, words } from '../../state/say.ts';

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

/** A method's name for readers; one from a newer version is shown as it is written. */
export function methodWords(method: string): string {
  const key = `pr.method.${method}`;
  const said = sayTold({ key });
  return said === key ? method : said;
}

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
      <Sheet title={say('pr.howEto')} isOpen onClose={onClose}>
        {stations.error === null ? (
          <p className="waiting" role="status">
            {say('pr.readingStation')}
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
    <Sheet title={say('pr.howEto')} isOpen onClose={onClose}>
      <p className="pr-lead">{say('pr.etoLead', { place: station?.name ?? say('pr.theProperty') })}</p>
      <div className="form-grid">
        <DateField
          label={say('pr.day')}
          value={day.date}
          onChange={(date) => {
            if (date !== null) set({ date });
          }}
          description={say('pr.heightOfSun')}
        />
        <NumberField
          label={say('pr.warmest')}
          unit={unitLabel('temperature', units)}
          digits={1}
          value={shown(day.tmaxF, units)}
          onChange={(value) => set({ tmaxF: temperature(value) })}
          isRequired
        />
        <NumberField
          label={say('pr.coldest')}
          unit={unitLabel('temperature', units)}
          digits={1}
          value={shown(day.tminF, units)}
          onChange={(value) => set({ tminF: temperature(value) })}
          isRequired
        />
        <NumberField
          label={say('pr.humidity')}
          unit="%"
          digits={0}
          value={day.rhMeanPct}
          onChange={(rhMeanPct) => set({ rhMeanPct })}
        />
        <NumberField
          label={say('pr.wind2m')}
          unit={wind.label}
          digits={1}
          value={day.windMph === null ? null : day.windMph * wind.factor}
          onChange={(value) => set({ windMph: value === null ? null : value / wind.factor })}
        />
        <NumberField
          label={say('pr.solar')}
          unit="MJ/m²/d"
          digits={1}
          value={day.solarMjM2}
          onChange={(solarMjM2) => set({ solarMjM2 })}
        />
        <SelectField
          label={say('pr.reference')}
          value={day.reference}
          onChange={(reference) => set({ reference: reference as Day['reference'] })}
          options={[
            { id: 'short', label: say('pr.refShort') },
            { id: 'tall', label: say('pr.refTall') },
          ]}
        />
      </div>
      {eto.error !== null ? (
        <ErrorNote error={eto.error} />
      ) : input === null ? (
        <p className="quiet pr-waiting-for">{say('pr.neededAtLeast')}</p>
      ) : eto.data === undefined ? (
        <p className="waiting" role="status">
          {say('pr.workingOutStatus')}
        </p>
      ) : (
        <>
          <p className="pr-audit-figures">
            <span>
              <b>{formatNumber(eto.data.etoMm, 2)} mm</b> {say('pr.onDay', { date: day.date })}
            </span>
            {units === 'us' ? (
              <span>
                <b>{formatMeasure('depth', eto.data.etoMm / MM_PER_INCH, 'us')}</b>
              </span>
            ) : null}
            <span className="quiet">{methodWords(eto.data.method)}</span>
          </p>
          <div className="table-scroll pr-steps-box" tabIndex={0} role="region" aria-label={say('pr.steps')}>
            <table className="data pr-steps">
              <caption className="visually-hidden">{say('pr.everyStep')}</caption>
              <thead>
                <tr>
                  <th scope="col">{say('pr.step')}</th>
                  <th scope="col">{say('pr.sign')}</th>
                  <th scope="col" className="figure">
                    {say('pr.value')}
                  </th>
                  <th scope="col">{say('pr.unit')}</th>
                  <th scope="col">{say('pr.whereFrom')}</th>
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
const digits = (value: number) => words().significant(value, 5);

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
