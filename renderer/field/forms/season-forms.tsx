import { fromStored, unitLabel, type UnitSystem } from '../../../core/units.ts';
import { Caution } from '../caution.tsx';
import { Choice, Stepper } from '../choice.tsx';
import { measureOf } from '../measures.ts';
import { CheckRow } from './check-row.tsx';
import { defineForm, type LogContext } from './form-spec.ts';
import { say, currentReader } from '../../state/say.ts';

const zoneCount = (context: LogContext): number | null =>
  context.page === null ? null : context.page.zones.filter((zone) => !zone.retired).length;

interface StartUpValues {
  staticPressurePsi: number | null;
  zonesRun: number | null;
  backflowOpened: boolean;
  sensorsTested: boolean;
}

export const startUpForm = defineForm<'start-up', StartUpValues>({
  kind: 'start-up',
  get title() {
    return say('field.do.start-up');
  },
  needsPage: false,
  begin: (context, from) => ({
    staticPressurePsi: from?.staticPressurePsi ?? null,
    zonesRun: from === null ? zoneCount(context) : from.zonesRun,
    backflowOpened: from?.backflowOpened ?? false,
    sensorsTested: from?.sensorsTested ?? false,
  }),
  Fields({ value, change, context }) {
    const pressure = measureOf('pressure', currentReader().units);
    const before = context.page?.property.staticPressurePsi ?? null;
    return (
      <>
        <Caution title={say('field.fillSlowlyTitle')}>{say('field.fillSlowly')}</Caution>
        <CheckRow
          label={say('field.backflowOpened')}
          value={value.backflowOpened}
          onChange={(backflowOpened) => change({ backflowOpened })}
        />
        <CheckRow
          label={say('field.sensorsTried')}
          value={value.sensorsTested}
          onChange={(sensorsTested) => change({ sensorsTested })}
        />
        <Stepper
          label={say('field.zonesRun')}
          value={value.zonesRun}
          min={0}
          max={99}
          step={1}
          unit={
            zoneCount(context) === null
              ? say('field.unit.zones')
              : say('field.ofZones', { count: zoneCount(context) ?? 0 })
          }
          onChange={(zonesRun) => change({ zonesRun })}
        />
        <Stepper
          label={say('field.staticPressure')}
          {...pressure.bounds(0, 300)}
          value={pressure.show(value.staticPressurePsi)}
          onChange={(shown) => change({ staticPressurePsi: pressure.store(shown) })}
          startAt={pressure.show(before ?? 60)}
          hint={
            before === null
              ? say('field.neverMeasured')
              : say('field.lastPressure', { pressure: pressure.words(before) })
          }
        />
      </>
    );
  },
  finish: (value) => ({ detail: { kind: 'start-up', ...value } }),
});

interface WinterValues {
  method: 'compressed-air' | 'gravity-drain' | 'automatic-drain' | 'vacuum';
  airPressurePsi: number | null;
  zonesBlown: number | null;
  backflowDrained: boolean;
  controllerOff: boolean;
}

/** The air pressure crews commonly stay under, psi, where no maker's or local limit is known. */
export function commonAirLimitPsi(pipe: string | undefined): number {
  return pipe === 'pvc' || pipe === 'copper' ? 80 : 50;
}

/** A limit in the reader's units, never rounded up. */
export function airLimitWords(psi: number, units: UnitSystem): string {
  const shown = fromStored('pressure', psi, units);
  return `${units === 'us' ? psi : Math.floor(shown / 10) * 10} ${unitLabel('pressure', units)}`;
}

export const winterForm = defineForm<'winterization', WinterValues>({
  kind: 'winterization',
  get title() {
    return say('field.do.winterization');
  },
  needsPage: false,
  begin: (context, from) => ({
    method: from?.method ?? 'compressed-air',
    airPressurePsi: from?.airPressurePsi ?? null,
    zonesBlown: from === null ? zoneCount(context) : from.zonesBlown,
    backflowDrained: from?.backflowDrained ?? false,
    controllerOff: from?.controllerOff ?? false,
  }),
  Fields({ value, change, context }) {
    const { units } = currentReader();
    const pressure = measureOf('pressure', units);
    const pipe = context.page?.property.pipeMaterial;
    const limit = commonAirLimitPsi(pipe);
    const air = value.method === 'compressed-air';
    return (
      <>
        <Choice
          label={say('field.how')}
          value={value.method}
          onChange={(method) => change({ method })}
          options={[
            { id: 'compressed-air', word: say('field.method.compressed-air') },
            { id: 'gravity-drain', word: say('field.method.gravity-drain') },
            { id: 'automatic-drain', word: say('field.method.automatic-drain') },
            { id: 'vacuum', word: say('field.method.vacuum') },
          ]}
        />
        {air && (
          <Caution title={say('field.airTitle')}>
            {say('field.airCaution', {
              rigid: airLimitWords(80, units),
              polyethylene: airLimitWords(50, units),
            })}
          </Caution>
        )}
        {air && (
          <Stepper
            label={say('field.airPressure')}
            {...pressure.bounds(1, 120)}
            value={pressure.show(value.airPressurePsi)}
            onChange={(shown) => change({ airPressurePsi: pressure.store(shown) })}
            startAt={pressure.show(40)}
            hint={
              value.airPressurePsi !== null && value.airPressurePsi > limit + 0.5 ? (
                <strong className="fd-warn">
                  {say('field.airAbove', {
                    limit: airLimitWords(limit, units),
                    pipe: pipe === 'pvc' || pipe === 'copper' ? 'rigid' : pipe === 'polyethylene' ? pipe : 'unsure',
                  })}
                </strong>
              ) : (
                say('field.pipeHere', { pipe: pipe ?? 'unknown' })
              )
            }
          />
        )}
        <Stepper
          label={air ? say('field.zonesBlown') : say('field.zonesDrained')}
          value={value.zonesBlown}
          min={0}
          max={99}
          step={1}
          unit={
            zoneCount(context) === null
              ? say('field.unit.zones')
              : say('field.ofZones', { count: zoneCount(context) ?? 0 })
          }
          onChange={(zonesBlown) => change({ zonesBlown })}
        />
        <CheckRow
          label={say('field.backflowDrained')}
          value={value.backflowDrained}
          onChange={(backflowDrained) => change({ backflowDrained })}
        />
        <CheckRow
          label={say('field.controllerOff')}
          value={value.controllerOff}
          onChange={(controllerOff) => change({ controllerOff })}
        />
      </>
    );
  },
  finish(value) {
    if (value.method === 'compressed-air' && value.airPressurePsi === null)
      return { problem: say('field.sayAirPressure') };
    return {
      detail: {
        kind: 'winterization',
        ...value,
        airPressurePsi: value.method === 'compressed-air' ? value.airPressurePsi : null,
      },
    };
  },
});
