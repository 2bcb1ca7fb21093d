import type { OutputOf } from '../../../core/contract/index.ts';
import { Button, formatMeasure, Guess } from '../../parts/index.ts';
import { useUnits } from '../../state/use-settings.ts';
import { methodWords } from './eto-sheet.tsx';
import { monthName } from './review-month.ts';

/** The weather the advice rests on, in one line; a guess says so and how to replace it. */
export function WeatherLine({
  weather,
  month,
  onExplain,
}: {
  weather: OutputOf<'program.review'>['weather'];
  month: number;
  onExplain: () => void;
}) {
  const units = useUnits();
  const known = weather.isGuess ? ('guess' as const) : ('measured' as const);
  return (
    <div className="pr-weather">
      <p>
        <b>
          {monthName(month)} at {weather.stationName === '' ? 'no station' : weather.stationName}
        </b>
        : grass needs <Guess known={known}>{formatMeasure('depth', weather.etoInchesPerMonth, units)}</Guess> a month
        (ETo), rain brings <Guess known={known}>{formatMeasure('depth', weather.rainInchesPerMonth, units)}</Guess>, of
        which <Guess known={known}>{formatMeasure('depth', weather.effectiveRainInchesPerMonth, units)}</Guess> can be
        used. <span className="quiet">{methodWords(weather.method)}.</span>
      </p>
      {weather.isGuess ? (
        <p className="small">
          This weather is a guess. <a href="#/company/weather">Enter the twelve normals of a station</a> near here, or
          import its daily records, and the advice stands on firmer ground.
        </p>
      ) : null}
      <Button look="quiet" onPress={onExplain}>
        Show how ETo is worked out
      </Button>
    </div>
  );
}
