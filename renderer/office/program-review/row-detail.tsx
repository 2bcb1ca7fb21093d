import type { Zone } from '../../../core/contract/entities.ts';
import type { ReviewRow } from '../../../core/contract/programs.ts';
import { Button, formatMeasure, formatNumber, formatRange, Guess } from '../../parts/index.ts';
import { useUnits } from '../../state/use-settings.ts';
import { sayShare } from './review-words.ts';
import { say, sayTold } from '../../state/say.ts';

/** All that stands behind a zone's advice: both ways of reckoning, the figures used, and which of them nobody measured. */
export function RowDetail({ row, zone, onAudit }: { row: ReviewRow; zone: Zone | undefined; onAudit: () => void }) {
  const units = useUnits();
  const guessed = new Set(row.guesses.map((guess) => guess.field));
  return (
    <div className="pr-detail">
      {row.thumb === null ? null : <SideBySide row={row} />}
      <section>
        <h4>What it rests on</h4>
        <dl className="pr-facts">
          <div>
            <dt>Need of the plants, rain taken off</dt>
            <dd>{formatMeasure('depth', row.needInchesPerWeek, units)} a week</dd>
          </div>
          <div>
            <dt>Precipitation rate</dt>
            <dd>
              <Guess
                known={
                  guessed.has('precipitationRateInPerHour') || guessed.has('flowGpm') || guessed.has('areaFt2')
                    ? 'guess'
                    : 'measured'
                }
              >
                {formatMeasure('rate', row.precipitationRateInPerHour, units)}
              </Guess>{' '}
              <span className="quiet">({sayTold(row.prHow)})</span>
            </dd>
          </div>
          <div>
            <dt>Uniformity, lowest quarter</dt>
            <dd>
              <Guess known={guessed.has('distributionUniformity') ? 'guess' : 'measured'}>
                {sayShare(row.distributionUniformity)}
              </Guess>
            </dd>
          </div>
          <div>
            <dt>Flow</dt>
            <dd>
              {zone === undefined || zone.flowGpm === null ? (
                'not known'
              ) : (
                <Guess known={zone.flowKnown}>{formatMeasure('flow', zone.flowGpm, units)}</Guess>
              )}
            </dd>
          </div>
          <div>
            <dt>Area</dt>
            <dd>
              {zone === undefined || zone.areaFt2 === null ? (
                'not known'
              ) : (
                <Guess known={zone.areaKnown}>{formatMeasure('area', zone.areaFt2, units)}</Guess>
              )}
            </dd>
          </div>
          <div>
            <dt>Slope, sun</dt>
            <dd>
              {zone === undefined
                ? '–'
                : `${formatNumber(zone.slopePercent)} %, ${zone.sunExposure.replaceAll('-', ' ')}`}
            </dd>
          </div>
        </dl>
      </section>
      <section>
        <h4>What nobody has measured</h4>
        {row.guesses.length === 0 ? (
          <p>Nothing: every figure behind this advice was measured.</p>
        ) : (
          <div className="table-scroll" tabIndex={0} role="region" aria-label={`Guesses behind zone ${row.station}`}>
            <table className="data pr-guesses">
              <thead>
                <tr>
                  <th scope="col">Guess</th>
                  <th scope="col" className="figure">
                    Used
                  </th>
                  <th scope="col" className="figure">
                    May be
                  </th>
                  <th scope="col" className="figure">
                    Moves the minutes
                  </th>
                  <th scope="col">Settled by</th>
                </tr>
              </thead>
              <tbody>
                {row.guesses.map((guess) => (
                  <tr key={guess.field}>
                    <th scope="row">{say('guess.field', { field: guess.field })}</th>
                    <td className="figure">
                      <span className="guess">{sayTold(guess.used)}</span>
                    </td>
                    <td className="figure">{sayTold(guess.range)}</td>
                    <td className="figure">
                      {guess.effectShare < 0.005 ? 'not at all' : `up to ± ${sayShare(guess.effectShare)}`}
                      <span className="pr-effect" aria-hidden="true">
                        <span style={{ width: `${Math.min(100, guess.effectShare * 100)}%` }} />
                      </span>
                    </td>
                    <td>{say('guess.settledBy', { measurement: guess.measurement })}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        )}
        {row.bestMeasurement === null ? null : (
          <p className="pr-best">
            <strong>{say('guess.best', { measurement: row.bestMeasurement })}</strong>
            {row.bestMeasurement === 'catch-can-test' ? <Button onPress={onAudit}>Enter catch-can test</Button> : null}
          </p>
        )}
      </section>
    </div>
  );
}

function SideBySide({ row }: { row: ReviewRow }) {
  const units = useUnits();
  const thumb = row.thumb;
  if (thumb === null) return null;
  const why = row.reasons.find((reason) => reason.code === 'thumb-differs');
  return (
    <section className="pr-both">
      <h4>
        Physics and rule of thumb{' '}
        {thumb.differs ? <span className="pr-differs">≠ differ</span> : <span className="quiet">agree</span>}
      </h4>
      <div className="pr-both-figures">
        <p>
          <span className="pr-both-name">Physics</span> <b>{formatNumber(row.advice.runMinutes)}</b> min{' '}
          <span className="quiet">
            {formatNumber(row.advice.lowerMinutes)} to {formatNumber(row.advice.upperMinutes)}
          </span>
        </p>
        <p>
          <span className="pr-both-name">Rule of thumb</span> <b>{formatRange(thumb.minutesFrom, thumb.minutesTo)}</b>{' '}
          min <span className="quiet">{thumb.note}</span>
        </p>
      </div>
      {why === undefined ? (
        <p className="quiet">
          {thumb.differs
            ? ''
            : `The advice lies within what the company lets pass. Rate ${formatMeasure('rate', row.precipitationRateInPerHour, units)}.`}
        </p>
      ) : (
        <p>{sayTold(why.text)}</p>
      )}
      <p className="small quiet">
        Lower limit: if the zone watered perfectly evenly. Upper limit: so that its driest quarter gets enough too
        (depth needed ÷ rate, times the unevenness).
      </p>
    </section>
  );
}
