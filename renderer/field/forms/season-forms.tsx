import { fromStored, unitLabel } from '../../../core/units.ts';
import { Caution } from '../caution.tsx';
import { Choice, Stepper } from '../choice.tsx';
import { measureOf } from '../measures.ts';
import { CheckRow } from './check-row.tsx';
import { defineForm, type LogContext } from './form-spec.ts';

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
  title: 'Log start-up',
  needsPage: false,
  begin: (context, from) => ({
    staticPressurePsi: from?.staticPressurePsi ?? null,
    zonesRun: from === null ? zoneCount(context) : from.zonesRun,
    backflowOpened: from?.backflowOpened ?? false,
    sensorsTested: from?.sensorsTested ?? false,
  }),
  Fields({ value, change, context }) {
    const pressure = measureOf('pressure', context.settings.units);
    const before = context.page?.property.staticPressurePsi ?? null;
    return (
      <>
        <Caution title="fill slowly">
          Open the shutoff a little and wait until the pipe is full; a sudden rush of water breaks fittings. In frost,
          water on a walk or drive turns to ice: leave it dry or tell the client.
        </Caution>
        <CheckRow
          label="Backflow assembly opened and no leak seen"
          value={value.backflowOpened}
          onChange={(backflowOpened) => change({ backflowOpened })}
        />
        <CheckRow
          label="Rain and freeze sensors tried"
          value={value.sensorsTested}
          onChange={(sensorsTested) => change({ sensorsTested })}
        />
        <Stepper
          label="Zones run and looked at"
          value={value.zonesRun}
          min={0}
          max={99}
          step={1}
          unit={zoneCount(context) === null ? 'zones' : `of ${zoneCount(context)} zones`}
          onChange={(zonesRun) => change({ zonesRun })}
        />
        <Stepper
          label="Static pressure"
          {...pressure.bounds(0, 300)}
          value={pressure.show(value.staticPressurePsi)}
          onChange={(shown) => change({ staticPressurePsi: pressure.store(shown) })}
          startAt={pressure.show(before ?? 60)}
          hint={before === null ? 'Never measured here before.' : `Last known: ${pressure.words(before)}.`}
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
export function airLimitWords(psi: number, context: Pick<LogContext, 'settings'>): string {
  const { units } = context.settings;
  const shown = fromStored('pressure', psi, units);
  return `${units === 'us' ? psi : Math.floor(shown / 10) * 10} ${unitLabel('pressure', units)}`;
}

export const winterForm = defineForm<'winterization', WinterValues>({
  kind: 'winterization',
  title: 'Log winterization',
  needsPage: false,
  begin: (context, from) => ({
    method: from?.method ?? 'compressed-air',
    airPressurePsi: from?.airPressurePsi ?? null,
    zonesBlown: from === null ? zoneCount(context) : from.zonesBlown,
    backflowDrained: from?.backflowDrained ?? false,
    controllerOff: from?.controllerOff ?? false,
  }),
  Fields({ value, change, context }) {
    const pressure = measureOf('pressure', context.settings.units);
    const pipe = context.page?.property.pipeMaterial;
    const limit = commonAirLimitPsi(pipe);
    const air = value.method === 'compressed-air';
    return (
      <>
        <Choice
          label="How"
          value={value.method}
          onChange={(method) => change({ method })}
          options={[
            { id: 'compressed-air', word: 'Compressed air' },
            { id: 'gravity-drain', word: 'Drained by hand' },
            { id: 'automatic-drain', word: 'Drains itself' },
            { id: 'vacuum', word: 'Vacuum' },
          ]}
        />
        {air && (
          <Caution title="compressed air">
            Wear eye protection. Stand clear of heads, valves, pipes and the backflow assembly, and keep everybody else
            away. Open a zone before letting air in and never dead-head the compressor. Let air in downstream of the
            backflow assembly. The pressure limit is what the maker of the pipe, valves and heads and the local rule
            state. Where neither is at hand, crews commonly stay at or under {airLimitWords(80, context)} for rigid pipe
            and {airLimitWords(50, context)} for polyethylene: common practice only, not a source to lean on.
          </Caution>
        )}
        {air && (
          <Stepper
            label="Air pressure at the manifold"
            {...pressure.bounds(1, 120)}
            value={pressure.show(value.airPressurePsi)}
            onChange={(shown) => change({ airPressurePsi: pressure.store(shown) })}
            startAt={pressure.show(40)}
            hint={
              value.airPressurePsi !== null && value.airPressurePsi > limit + 0.5 ? (
                <strong className="fd-warn">
                  ▲ Above {airLimitWords(limit, context)}, which crews commonly keep for{' '}
                  {pipe === 'pvc' || pipe === 'copper'
                    ? 'rigid pipe'
                    : pipe === 'polyethylene'
                      ? 'polyethylene'
                      : 'pipe that may be polyethylene'}
                  . Check the maker&apos;s limit.
                </strong>
              ) : (
                `Pipe here: ${pipe === undefined || pipe === 'unknown' ? 'not known' : pipe === 'pvc' ? 'PVC' : pipe}.`
              )
            }
          />
        )}
        <Stepper
          label={air ? 'Zones blown out' : 'Zones drained'}
          value={value.zonesBlown}
          min={0}
          max={99}
          step={1}
          unit={zoneCount(context) === null ? 'zones' : `of ${zoneCount(context)} zones`}
          onChange={(zonesBlown) => change({ zonesBlown })}
        />
        <CheckRow
          label="Backflow assembly drained"
          value={value.backflowDrained}
          onChange={(backflowDrained) => change({ backflowDrained })}
        />
        <CheckRow
          label="Controller switched off"
          value={value.controllerOff}
          onChange={(controllerOff) => change({ controllerOff })}
        />
      </>
    );
  },
  finish(value) {
    if (value.method === 'compressed-air' && value.airPressurePsi === null)
      return { problem: 'Say which air pressure was used.' };
    return {
      detail: {
        kind: 'winterization',
        ...value,
        airPressurePsi: value.method === 'compressed-air' ? value.airPressurePsi : null,
      },
    };
  },
});
