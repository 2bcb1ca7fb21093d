import type { OutputOf } from '../../../core/contract/index.ts';
import { Button, formatMeasure, Guess } from '../../parts/index.ts';
import { useUnits } from '../../state/use-settings.ts';
import { methodWords } from './eto-sheet.tsx';
import { Said } from '../../parts/said.tsx';
import { say } from '../../state/say.ts';

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
        <Said
          text={say('pr.weather')}
          parts={{
            head: (
              <b>
                {say('pr.monthAt', {
                  month,
                  station: weather.stationName === '' ? say('pr.noStation') : weather.stationName,
                })}
              </b>
            ),
            eto: <Guess known={known}>{formatMeasure('depth', weather.etoInchesPerMonth, units)}</Guess>,
            rain: <Guess known={known}>{formatMeasure('depth', weather.rainInchesPerMonth, units)}</Guess>,
            used: <Guess known={known}>{formatMeasure('depth', weather.effectiveRainInchesPerMonth, units)}</Guess>,
          }}
        />{' '}
        <span className="quiet">{methodWords(weather.method)}.</span>
      </p>
      {weather.isGuess ? (
        <p className="small">
          <Said
            text={say('pr.weatherGuess')}
            parts={{ link: <a href="#/company/weather">{say('pr.enterNormals')}</a> }}
          />
        </p>
      ) : null}
      <Button look="quiet" onPress={onExplain}>
        {say('pr.showEto')}
      </Button>
    </div>
  );
}
