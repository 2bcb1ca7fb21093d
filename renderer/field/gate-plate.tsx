import type { ReactNode } from 'react';
import type { PlainKey } from '../../core/text/say.ts';
import { wordsOf } from '../parts/format.ts';
import { BACKFLOW_WORDS } from './day-words.ts';
import type { Gate } from './stop.ts';
import { say } from '../state/say.ts';

const WATER: Record<string, { word: PlainKey; tone: string; more?: PlainKey }> = {
  drinking: { word: 'field.water.drinking', tone: 'drinking' },
  reclaimed: { word: 'field.water.reclaimed', tone: 'reclaimed', more: 'field.water.reclaimedMore' },
  well: { word: 'field.water.well', tone: 'other' },
  pond: { word: 'field.water.pond', tone: 'other', more: 'field.water.pondMore' },
  unknown: { word: 'field.water.unknown', tone: 'other', more: 'field.water.unknownMore' },
};

/** What has to be known before the gate is opened; the code is the biggest thing on the screen. */
export function GatePlate({ gate }: { gate: Gate }) {
  const water = WATER[gate.waterSupply];
  return (
    <section className="fd-gate" aria-label={say('field.atTheGate')}>
      <div className="fd-code" data-none={gate.gateCode === '' || undefined}>
        <span className="fd-plate-word">{say('field.gateCode')}</span>
        <span className="fd-code-figure">{gate.gateCode === '' ? say('field.noCode') : gate.gateCode}</span>
      </div>
      {gate.dogNote !== '' && (
        <p className="fd-dog">
          <svg viewBox="0 0 24 24" width="28" height="28" aria-hidden="true" focusable="false">
            <path
              d="M4 20v-8l-2-3 4-4h3l2 4h7l3-2v4l-2 2v7h-3v-5h-6v5z"
              fill="none"
              stroke="currentColor"
              strokeWidth="1.8"
              strokeLinejoin="round"
            />
          </svg>
          <span>
            <strong>{say('field.dog')}</strong> {gate.dogNote}
          </span>
        </p>
      )}
      <dl className="fd-facts">
        <Fact term={say('field.gettingIn')}>{gate.accessNotes === '' ? null : gate.accessNotes}</Fact>
        <Fact term={say('field.shutoff')}>
          {gate.shutoffLocation === '' ? say('field.shutoffUnknown') : gate.shutoffLocation}
        </Fact>
        <Fact term={say('field.water')}>
          <span className="fd-water" data-tone={water?.tone ?? 'other'}>
            <span className="fd-water-flag" aria-hidden="true" />
            {water === undefined ? wordsOf(gate.waterSupply) : say(water.word)}
          </span>
          {water?.more === undefined ? null : <span className="fd-more">{say(water.more)}</span>}
        </Fact>
        <Fact term={say('field.backflow')}>
          {BACKFLOW_WORDS[gate.backflowKind as keyof typeof BACKFLOW_WORDS] ?? wordsOf(gate.backflowKind)}
          {gate.backflowLocation === '' ? null : <span className="fd-more">{gate.backflowLocation}</span>}
        </Fact>
        <Fact term={say('field.here')}>
          {say('field.zonesSensors', { zones: gate.zoneCount, sensors: gate.sensorCount })}
        </Fact>
      </dl>
    </section>
  );
}

function Fact({ term, children }: { term: string; children: ReactNode }) {
  if (children === null) return null;
  return (
    <div>
      <dt>{term}</dt>
      <dd>{children}</dd>
    </div>
  );
}
