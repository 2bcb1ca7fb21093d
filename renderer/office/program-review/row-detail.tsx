import type { Zone } from '../../../core/properties/contract.ts';
import type { ReviewRow } from '../../../core/programs/contract.ts';
import { Button, formatMeasure, formatNumber, formatRange, Guess, wordsOf } from '../../parts/index.ts';
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
        <h4>{say('pr.restsOn')}</h4>
        <dl className="pr-facts">
          <div>
            <dt>{say('pr.needOfPlants')}</dt>
            <dd>{say('pr.aWeek', { depth: formatMeasure('depth', row.needInchesPerWeek, units) })}</dd>
          </div>
          <div>
            <dt>{say('pr.rate')}</dt>
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
            <dt>{say('pr.uniformityLow')}</dt>
            <dd>
              <Guess known={guessed.has('distributionUniformity') ? 'guess' : 'measured'}>
                {sayShare(row.distributionUniformity)}
              </Guess>
            </dd>
          </div>
          <div>
            <dt>{say('pr.flow')}</dt>
            <dd>
              {zone === undefined || zone.flowGpm === null ? (
                say('parts.notKnown')
              ) : (
                <Guess known={zone.flowKnown}>{formatMeasure('flow', zone.flowGpm, units)}</Guess>
              )}
            </dd>
          </div>
          <div>
            <dt>{say('pr.area')}</dt>
            <dd>
              {zone === undefined || zone.areaFt2 === null ? (
                say('parts.notKnown')
              ) : (
                <Guess known={zone.areaKnown}>{formatMeasure('area', zone.areaFt2, units)}</Guess>
              )}
            </dd>
          </div>
          <div>
            <dt>{say('pr.slopeSun')}</dt>
            <dd>
              {zone === undefined
                ? '–'
                : `${formatNumber(zone.slopePercent)} %, ${wordsOf(zone.sunExposure).toLowerCase()}`}
            </dd>
          </div>
        </dl>
      </section>
      <section>
        <h4>{say('pr.nobodyMeasured')}</h4>
        {row.guesses.length === 0 ? (
          <p>{say('pr.allMeasured')}</p>
        ) : (
          <div
            className="table-scroll"
            tabIndex={0}
            role="region"
            aria-label={say('pr.guessesBehind', { station: row.station })}
          >
            <table className="data pr-guesses">
              <thead>
                <tr>
                  <th scope="col">{say('pr.guess')}</th>
                  <th scope="col" className="figure">
                    {say('pr.used')}
                  </th>
                  <th scope="col" className="figure">
                    {say('pr.mayBe')}
                  </th>
                  <th scope="col" className="figure">
                    {say('pr.movesMinutes')}
                  </th>
                  <th scope="col">{say('pr.settledBy')}</th>
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
                      {guess.effectShare < 0.005
                        ? say('pr.notAtAll')
                        : say('pr.upTo', { share: sayShare(guess.effectShare) })}
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
            {row.bestMeasurement === 'catch-can-test' ? <Button onPress={onAudit}>{say('pr.enterTest')}</Button> : null}
          </p>
        )}
      </section>
    </div>
  );
}

function SideBySide({ row }: { row: ReviewRow }) {
  const thumb = row.thumb;
  if (thumb === null) return null;
  const why = row.reasons.find((reason) => reason.code === 'thumb-differs');
  return (
    <section className="pr-both">
      <h4>
        {say('pr.physicsAndThumb')}{' '}
        {thumb.differs ? (
          <span className="pr-differs">≠ {say('pr.differ')}</span>
        ) : (
          <span className="quiet">{say('pr.agree')}</span>
        )}
      </h4>
      <div className="pr-both-figures">
        <p>
          <span className="pr-both-name">{say('pr.physics')}</span> <b>{formatNumber(row.advice.runMinutes)}</b>{' '}
          {say('pr.min')}{' '}
          <span className="quiet">
            {say('pr.fromTo', { from: row.advice.lowerMinutes, to: row.advice.upperMinutes })}
          </span>
        </p>
        <p>
          <span className="pr-both-name">{say('pr.ruleOfThumb')}</span>{' '}
          <b>{formatRange(thumb.minutesFrom, thumb.minutesTo)}</b> {say('pr.min')}{' '}
          <span className="quiet">{thumb.note}</span>
        </p>
      </div>
      {why === undefined ? (
        <p className="quiet">
          {thumb.differs ? '' : say('pr.within', { rate: { quantity: 'rate', value: row.precipitationRateInPerHour } })}
        </p>
      ) : (
        <p>{sayTold(why.text)}</p>
      )}
      <p className="small quiet">{say('pr.limitsWhy')}</p>
    </section>
  );
}
