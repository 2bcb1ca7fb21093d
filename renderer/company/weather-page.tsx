import { useState } from 'react';
import type { WeatherStation } from '../../core/weather/contract.ts';
import {
  formatMeasure,
  Button,
  ButtonLink,
  EmptyState,
  ErrorNote,
  formatFigure,
  MONTHS,
  Section,
} from '../parts/index.ts';
import { ScrollRegion } from '../parts/scroll-region.tsx';
import { unitLabel } from '../../core/units.ts';
import { useRequest } from '../state/use-request.ts';
import { useUnits } from '../state/use-settings.ts';
import { newId } from '../state/write.ts';
import { FreezeCurves } from '../charts/freeze-curves.tsx';
import { StationSheet } from './station-sheet.tsx';
import { say } from '../state/say.ts';

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
        {say('company.readingStations')}
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
      <h1>{say('company.stations')}</h1>
      <Section
        title={say('company.stationsShort')}
        note={say('company.stationsWhy')}
        actions={<Button onPress={add}>{say('company.addStation')}</Button>}
      >
        {list.length === 0 ? (
          <EmptyState
            title={say('company.noStation')}
            action={
              <Button look="primary" onPress={add}>
                {say('company.addStation')}
              </Button>
            }
          >
            {say('company.noStationWhy')}
          </EmptyState>
        ) : (
          <ul className="stations">
            {list.map((station) => (
              <li key={station.id} className="card station">
                <div className="restriction-head">
                  <div>
                    <h3>{station.name}</h3>
                    <p className="small quiet">
                      {say('company.at', { latitudeDeg: station.latitudeDeg, longitudeDeg: station.longitudeDeg })},{' '}
                      {formatMeasure('length', station.elevationFt, units)}
                      {station.source === '' ? '' : ` · ${station.source}`}
                    </p>
                    <p className="small">
                      {station.dailyRecords === 0 ? (
                        <>
                          {say('company.noDaily')}{' '}
                          <ButtonLink look="quiet" href="#/office/import">
                            {say('company.importDaily')}
                          </ButtonLink>
                        </>
                      ) : (
                        say('company.daysOfRecords', {
                          days: station.dailyRecords,
                          from: station.firstDate,
                          to: station.lastDate,
                        })
                      )}
                    </p>
                  </div>
                  <Button
                    aria-label={say('company.changeNamed', { name: station.name })}
                    onPress={() => setOpened({ station: plain(station), isNew: false })}
                  >
                    {say('company.change')}
                  </Button>
                </div>
                <ScrollRegion label={say('company.normalsOf', { name: station.name })}>
                  <table className="data normals-read">
                    <thead>
                      <tr>
                        <th scope="col">
                          <span className="visually-hidden">{say('company.figure')}</span>
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
                        <th scope="row">
                          {say('company.highest')}, {unitLabel('temperature', units)}
                        </th>
                        {station.normals.map((normal, month) => (
                          <td key={month} className="figure">
                            {formatFigure('temperature', normal.tmaxF, units)}
                          </td>
                        ))}
                      </tr>
                      <tr>
                        <th scope="row">
                          {say('company.lowest')}, {unitLabel('temperature', units)}
                        </th>
                        {station.normals.map((normal, month) => (
                          <td key={month} className="figure">
                            {formatFigure('temperature', normal.tminF, units)}
                          </td>
                        ))}
                      </tr>
                      <tr>
                        <th scope="row">
                          {say('company.rain')}, {unitLabel('depth', units)}
                        </th>
                        {station.normals.map((normal, month) => (
                          <td key={month} className="figure">
                            {formatFigure('depth', normal.rainInches, units)}
                          </td>
                        ))}
                      </tr>
                    </tbody>
                  </table>
                </ScrollRegion>
                {station.dailyRecords === 0 ? null : <FreezeCurves stationId={station.id} stationName={station.name} />}
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
