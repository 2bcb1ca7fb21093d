import type { OutputOf } from '../../../core/contract/index.ts';
import type { ReviewRow } from '../../../core/programs/contract.ts';
import { formatMeasure, formatNumber, Guess } from '../../parts/index.ts';
import { useUnits } from '../../state/use-settings.ts';
import { minutesAfterTest, multiplierNow } from './after-test.ts';
import { sayShare } from './review-words.ts';
import { say, sayTold } from '../../state/say.ts';

/** What the test says beside what the zone assumes now, and what that does to the advice. */
export function AuditResult({ row, result }: { row: ReviewRow; result: OutputOf<'zone.audit'> }) {
  const units = useUnits();
  const guessed = new Set(row.guesses.map((guess) => guess.field));
  const after = minutesAfterTest(row, result);
  const lines = [
    {
      what: say('pr.precipitationRate'),
      now: (
        <Guess
          known={
            guessed.has('precipitationRateInPerHour') || guessed.has('flowGpm') || guessed.has('areaFt2')
              ? 'guess'
              : 'measured'
          }
        >
          {formatMeasure('rate', row.precipitationRateInPerHour, units)}
        </Guess>
      ),
      test: formatMeasure('rate', result.precipitationRateInPerHour, units),
      change: share(result.precipitationRateInPerHour / row.precipitationRateInPerHour),
    },
    {
      what: say('pr.uniformity'),
      now: (
        <Guess known={guessed.has('distributionUniformity') ? 'guess' : 'measured'}>
          {sayShare(row.distributionUniformity)}
        </Guess>
      ),
      test: sayShare(result.distributionUniformity),
      change: share(result.distributionUniformity / row.distributionUniformity),
    },
    {
      what: say('pr.multiplier'),
      now: formatNumber(multiplierNow(row), 2),
      test: formatNumber(result.schedulingMultiplier, 2),
      change: share(result.schedulingMultiplier / multiplierNow(row)),
    },
  ];
  return (
    <div className="pr-audit">
      <p className="pr-audit-figures">
        <span>
          <b>{formatMeasure('rate', result.precipitationRateInPerHour, units)}</b> {say('pr.precipitationRateSmall')}
        </span>
        <span>
          <b>{sayShare(result.distributionUniformity)}</b> {say('pr.uniformitySmall')}
        </span>
        <span>
          <b>× {formatNumber(result.schedulingMultiplier, 2)}</b> {say('pr.multiplierSmall')}
        </span>
      </p>
      {result.findings.map((finding) => (
        <p key={finding.key} className="pr-finding">
          <span>{sayTold(finding)}</span>
        </p>
      ))}
      <table className="data">
        <caption className="visually-hidden">{say('pr.testBeside')}</caption>
        <thead>
          <tr>
            <th scope="col">{say('pr.figure')}</th>
            <th scope="col" className="figure">
              {say('pr.zoneAssumes')}
            </th>
            <th scope="col" className="figure">
              {say('pr.testSays')}
            </th>
            <th scope="col" className="figure">
              {say('pr.change')}
            </th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <tr key={line.what}>
              <th scope="row">{line.what}</th>
              <td className="figure">{line.now}</td>
              <td className="figure">{line.test}</td>
              <td className="figure">{line.change}</td>
            </tr>
          ))}
          <tr>
            <th scope="row">{say('pr.advisedSameDays')}</th>
            <td className="figure">
              {formatNumber(row.advice.upperMinutes, 0)}{' '}
              <span className="quiet">
                ({formatNumber(row.advice.lowerMinutes, 0)}–{formatNumber(row.advice.upperMinutes, 0)})
              </span>
            </td>
            <td className="figure">
              <b>{say('parts.about', { figure: formatNumber(after.upper, 0) })}</b>{' '}
              <span className="quiet">
                ({formatNumber(after.lower, 0)}–{formatNumber(after.upper, 0)})
              </span>
            </td>
            <td className="figure">
              {row.advice.upperMinutes > 0 ? share(after.upper / row.advice.upperMinutes) : '–'}
            </td>
          </tr>
        </tbody>
      </table>
      <p className="small quiet">{say('pr.estimateForDays')}</p>
    </div>
  );
}

function share(ratio: number): string {
  if (!Number.isFinite(ratio)) return '–';
  const change = Math.round((ratio - 1) * 100);
  return change === 0 ? say('pr.same') : `${change > 0 ? '+' : '−'}${Math.abs(change)} %`;
}
