import type { ReactNode } from 'react';
import type { DueKind } from '../../core/due/contract.ts';
import type { SeasonState } from '../../core/due/contract.ts';
import type { VisitKind } from '../../core/contract/parts.ts';
import type { VisitState } from '../../core/visits/contract.ts';
import { say, texts } from '../state/say.ts';
import {
  BackflowIcon,
  BatteryIcon,
  ClockIcon,
  DashIcon,
  DialIcon,
  DropIcon,
  FreezeIcon,
  RingIcon,
  SensorIcon,
  StartUpIcon,
  WalkIcon,
  WarningIcon,
  WrenchIcon,
} from './icons.tsx';

export const DUE_WORDS: Readonly<Record<DueKind, string>> = texts({
  finding: 'due.finding',
  battery: 'due.battery',
  'sensor-check': 'due.sensor-check',
  'backflow-test': 'due.backflow-test',
  'start-up': 'due.start-up',
  winterization: 'due.winterization',
  'overdue-visit': 'due.overdue-visit',
});
/** The same beside a figure that counts them. */
export const DUE_MANY: Readonly<Record<DueKind, string>> = texts({
  finding: 'due.many.finding',
  battery: 'due.many.battery',
  'sensor-check': 'due.many.sensor-check',
  'backflow-test': 'due.many.backflow-test',
  'start-up': 'due.many.start-up',
  winterization: 'due.many.winterization',
  'overdue-visit': 'due.many.overdue-visit',
});
const DUE_ICONS: Record<DueKind, () => ReactNode> = {
  finding: WarningIcon,
  battery: BatteryIcon,
  'sensor-check': SensorIcon,
  'backflow-test': BackflowIcon,
  'start-up': StartUpIcon,
  winterization: FreezeIcon,
  'overdue-visit': ClockIcon,
};

/** What is due: a shape and a word. `late` adds the word too; the colour only repeats it. */
export function DueMark({
  kind,
  late = false,
  iconOnly = false,
  many = false,
}: {
  kind: DueKind;
  late?: boolean;
  iconOnly?: boolean;
  /** Beside a figure that counts them. */ many?: boolean;
}) {
  const Shape = DUE_ICONS[kind];
  const pressing = kind === 'overdue-visit' || kind === 'finding';
  const tone = late || pressing ? 'late' : 'due';
  const words = many
    ? DUE_MANY[kind]
    : late && !pressing
      ? say('parts.dueLate', { what: DUE_WORDS[kind] })
      : DUE_WORDS[kind];
  return (
    <span className={`mark ${tone}${iconOnly ? ' icon-only' : ''}`} title={iconOnly ? words : undefined}>
      <Shape />
      <span className={iconOnly ? 'visually-hidden' : ''}>{words}</span>
    </span>
  );
}

export const SEASON_WORDS: Readonly<Record<SeasonState, string>> = texts({
  'not-started': 'season.not-started',
  running: 'season.running',
  winterized: 'season.winterized',
  'not-serviced': 'season.not-serviced',
});
const SEASON_ICONS: Record<SeasonState, () => ReactNode> = {
  'not-started': RingIcon,
  running: DropIcon,
  winterized: FreezeIcon,
  'not-serviced': DashIcon,
};

/** Where a property stands in its season. */
export function SeasonMark({ state }: { state: SeasonState }) {
  const Shape = SEASON_ICONS[state];
  return (
    <span className={`mark season ${state}`}>
      <Shape />
      {SEASON_WORDS[state]}
    </span>
  );
}

export const VISIT_WORDS: Readonly<Record<VisitKind, string>> = texts({
  'start-up': 'word.start-up',
  winterization: 'word.winterization',
  'sensor-check': 'word.sensor-check',
  'battery-swap': 'word.battery-swap',
  'program-adjustment': 'word.program-adjustment',
  repair: 'word.repair',
  'backflow-test': 'word.backflow-test',
  'walk-through': 'word.walk-through',
});
const VISIT_ICONS: Record<VisitKind, () => ReactNode> = {
  'start-up': StartUpIcon,
  winterization: FreezeIcon,
  'sensor-check': SensorIcon,
  'battery-swap': BatteryIcon,
  'program-adjustment': DialIcon,
  repair: WrenchIcon,
  'backflow-test': BackflowIcon,
  'walk-through': WalkIcon,
};
export const VISIT_STATE_WORDS: Readonly<Record<VisitState, string>> = texts({
  planned: 'visitState.planned',
  done: 'visitState.done',
  cancelled: 'visitState.cancelled',
});

/** A kind of visit: its shape and its word. */
export function VisitMark({ kind, iconOnly = false }: { kind: VisitKind; iconOnly?: boolean }) {
  const Shape = VISIT_ICONS[kind];
  return (
    <span className="mark plain" title={iconOnly ? VISIT_WORDS[kind] : undefined}>
      <Shape />
      <span className={iconOnly ? 'visually-hidden' : ''}>{VISIT_WORDS[kind]}</span>
    </span>
  );
}

/** A figure nobody measured: dashed underline and the word. */
export function Guess({
  children,
  known = 'guess',
  title,
}: {
  children: ReactNode;
  known?: 'measured' | 'chart' | 'guess';
  title?: string;
}) {
  if (known !== 'guess')
    return (
      <span className="known" title={title}>
        {children}
      </span>
    );
  return (
    <span className="guess" title={title ?? say('parts.guessTitle')}>
      {children}
      <span className="guess-word">{say('parts.guess')}</span>
    </span>
  );
}

/** A station's number on a tag, as it hangs on the valve; the tone is the zone's in every chart. */
export function ZoneTag({ station, reclaimed = false }: { station: number; reclaimed?: boolean }) {
  return <span className={`zone-tag ${zoneTone(station)}${reclaimed ? ' reclaimed' : ''}`}>{station}</span>;
}

/** The class of a zone's tone. */
export function zoneTone(station: number): string {
  return `tone-${((station - 1) % 8) + 1}`;
}
