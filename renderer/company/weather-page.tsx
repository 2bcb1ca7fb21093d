import { useState } from 'react';
import type { WeatherStation } from '../../core/contract/entities.ts';
import {
  formatMeasure,
  Button,
  ButtonLink,
  EmptyState,
  ErrorNote,
  formatCount,
  formatDate,
  formatFigure,
  MONTHS,
  Section,
} from '../parts/index.ts';
import { ScrollRegion } from '../parts/scroll-region.tsx';
import { unitLabel } from '../../core/units.ts';
import { useRequest } from '../state/use-request.ts';
import { useUnits } from '../state/use-settings.ts';
import { newId } from '../state/write.ts';
import { StationSheet } from './station-sheet.tsx';

/** A temperate year to start from, so that the twelve rows are there to be typed over. */
const BLANK_NORMALS = [45, 48, 57, 64, 73, 84, 90, 87, 79, 66, 53, 45].map((tmaxF) => ({
  tmaxF,
  tminF: tmaxF - 25,
  rainInches: 1,
  rhMeanPct: null,
  windMph: null,
  solarMjM2: null,
}));

/** The weather the company counts on. */
export function WeatherPage() {
  const stations = useRequest('station.list', {});
  const units = useUnits();
  const [opened, setOpened] = useState<{ station: WeatherStation; isNew: boolean } | null>(null);
  if (stations.data === undefined)
    return stations.error === null ? (
      <p className="waiting" role="status">
        Reading the stations…
      </p>
    ) : (
      <ErrorNote error={stations.error} onRetry={stations.reload} />
    );
  const list = stations.data.stations;
  const add = () =>
    setOpened({
      isNew: true,
      station: {
        id: newId(),
        name: '',
        latitudeDeg: 40,
        longitudeDeg: -105,
        elevationFt: 5000,
        source: '',
        normals: BLANK_NORMALS,
      },
    });
  return (
    <>
      <h1>Weather stations</h1>
      <Section
        title="Stations"
        note="Water need is worked out from a station's months, or from its daily records where there are enough."
        actions={<Button onPress={add}>Add station</Button>}
      >
        {list.length === 0 ? (
          <EmptyState
            title="No weather station yet"
            action={
              <Button look="primary" onPress={add}>
                Add station
              </Button>
            }
          >
            Take the twelve monthly means of the nearest public weather station. With them every zone gets its water
            need; daily records, imported as CSV, make freeze dates and past seasons exact.
          </EmptyState>
        ) : (
          <ul className="stations">
            {list.map((station) => (
              <li key={station.id} className="card station">
                <div className="restriction-head">
                  <div>
                    <h3>{station.name}</h3>
                    <p className="small quiet">
                      {Math.abs(station.latitudeDeg).toFixed(2)}° {station.latitudeDeg >= 0 ? 'N' : 'S'},{' '}
                      {Math.abs(station.longitudeDeg).toFixed(2)}° {station.longitudeDeg >= 0 ? 'E' : 'W'},{' '}
                      {formatMeasure('length', station.elevationFt, units)}
                      {station.source === '' ? '' : ` · ${station.source}`}
                    </p>
                    <p className="small">
                      {station.dailyRecords === 0 ? (
                        <>
                          No daily records.{' '}
                          <ButtonLink look="quiet" href="#/office/import">
                            Import daily weather
                          </ButtonLink>
                        </>
                      ) : (
                        `${formatCount(station.dailyRecords)} days of records, ${station.firstDate === null ? '' : formatDate(station.firstDate)} to ${station.lastDate === null ? '' : formatDate(station.lastDate)}`
                      )}
                    </p>
                  </div>
                  <Button
                    aria-label={`Change ${station.name}`}
                    onPress={() => setOpened({ station: plain(station), isNew: false })}
                  >
                    Change
                  </Button>
                </div>
                <ScrollRegion label={`Monthly normals of ${station.name}`}>
                  <table className="data normals-read">
                    <thead>
                      <tr>
                        <th scope="col">
                          <span className="visually-hidden">Figure</span>
                        </th>
                        {MONTHS.map((month) => (
                          <th key={month} scope="col" className="figure">
                            {month}
                          </th>
                        ))}
                      </tr>
                    </thead>
                    <tbody>
                      <tr>
                        <th scope="row">Highest, {unitLabel('temperature', units)}</th>
                        {station.normals.map((normal, month) => (
                          <td key={month} className="figure">
                            {formatFigure('temperature', normal.tmaxF, units)}
                          </td>
                        ))}
                      </tr>
                      <tr>
                        <th scope="row">Lowest, {unitLabel('temperature', units)}</th>
                        {station.normals.map((normal, month) => (
                          <td key={month} className="figure">
                            {formatFigure('temperature', normal.tminF, units)}
                          </td>
                        ))}
                      </tr>
                      <tr>
                        <th scope="row">Rain, {unitLabel('depth', units)}</th>
                        {station.normals.map((normal, month) => (
                          <td key={month} className="figure">
                            {formatFigure('depth', normal.rainInches, units)}
                          </td>
                        ))}
                      </tr>
                    </tbody>
                  </table>
                </ScrollRegion>
              </li>
            ))}
          </ul>
        )}
      </Section>
      {opened === null ? null : (
        <StationSheet
          key={opened.station.id}
          station={opened.station}
          isNew={opened.isNew}
          onClose={() => setOpened(null)}
        />
      )}
    </>
  );
}

function plain(station: WeatherStation): WeatherStation {
  const { id, name, latitudeDeg, longitudeDeg, elevationFt, source, normals } = station;
  return { id, name, latitudeDeg, longitudeDeg, elevationFt, source, normals };
}
