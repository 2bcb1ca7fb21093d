import type { VisitKind } from '../../core/contract/parts.ts';
import type { FormKind } from './draft.ts';

const VISIT_KIND_OF: Record<FormKind, VisitKind> = {
  'battery-swap': 'battery-swap',
  'sensor-check': 'sensor-check',
  'run-time-change': 'program-adjustment',
  'start-up': 'start-up',
  winterization: 'winterization',
  repair: 'repair',
  'part-used': 'repair',
  'meter-read': 'walk-through',
  'backflow-test': 'backflow-test',
  'walk-through': 'walk-through',
  'manual-run': 'walk-through',
  finding: 'walk-through',
  decision: 'walk-through',
  'not-done': 'walk-through',
  photo: 'walk-through',
  note: 'walk-through',
};

/** What unplanned work is called when only its entries are known: the weightiest of them. Exported for its test. */
export function visitKindOf(kinds: readonly string[]): VisitKind {
  const weight: readonly FormKind[] = [
    'winterization',
    'start-up',
    'backflow-test',
    'repair',
    'run-time-change',
    'battery-swap',
    'sensor-check',
    'part-used',
    'walk-through',
  ];
  const heaviest = weight.find((kind) => kinds.includes(kind));
  return heaviest === undefined ? 'walk-through' : VISIT_KIND_OF[heaviest];
}
