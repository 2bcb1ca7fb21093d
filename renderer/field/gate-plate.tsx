import type { ReactNode } from 'react';
import { plural, wordsOf } from '../parts/format.ts';
import { BACKFLOW_WORDS } from './day-words.ts';
import type { Gate } from './stop.ts';

const WATER: Record<string, { word: string; tone: string; more?: string }> = {
  drinking: { word: 'Drinking water', tone: 'drinking' },
  reclaimed: { word: 'Reclaimed water', tone: 'reclaimed', more: 'Not for drinking. Wash your hands.' },
  well: { word: 'Well', tone: 'other' },
  pond: { word: 'Pond', tone: 'other', more: 'Not for drinking.' },
  unknown: { word: 'Supply not known', tone: 'other', more: 'Look, and tell the office.' },
};

/** What has to be known before the gate is opened; the code is the biggest thing on the screen. */
export function GatePlate({ gate }: { gate: Gate }) {
  const water = WATER[gate.waterSupply] ?? { word: wordsOf(gate.waterSupply), tone: 'other' };
  return (
    <section className="fd-gate" aria-label="At the gate">
      <div className="fd-code" data-none={gate.gateCode === '' || undefined}>
        <span className="fd-plate-word">Gate code</span>
        <span className="fd-code-figure">{gate.gateCode === '' ? 'none written down' : gate.gateCode}</span>
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
            <strong>Dog.</strong> {gate.dogNote}
          </span>
        </p>
      )}
      <dl className="fd-facts">
        <Fact term="Getting in">{gate.accessNotes === '' ? null : gate.accessNotes}</Fact>
        <Fact term="Shutoff">{gate.shutoffLocation === '' ? 'Not written down' : gate.shutoffLocation}</Fact>
        <Fact term="Water">
          <span className="fd-water" data-tone={water.tone}>
            <span className="fd-water-flag" aria-hidden="true" />
            {water.word}
          </span>
          {water.more === undefined ? null : <span className="fd-more">{water.more}</span>}
        </Fact>
        <Fact term="Backflow">
          {BACKFLOW_WORDS[gate.backflowKind as keyof typeof BACKFLOW_WORDS] ?? wordsOf(gate.backflowKind)}
          {gate.backflowLocation === '' ? null : <span className="fd-more">{gate.backflowLocation}</span>}
        </Fact>
        <Fact term="Here">
          {plural(gate.zoneCount, 'zone')}, {plural(gate.sensorCount, 'sensor')}
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
