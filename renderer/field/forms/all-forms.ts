import type { VisitKind } from '../../../core/contract/parts.ts';
import type { FormKind } from '../draft.ts';
import { batteryForm } from './battery-form.tsx';
import type { AnyForm } from './form-spec.ts';
import { decisionForm, findingForm, manualRunForm, notDoneForm } from './finding-forms.tsx';
import { runTimeForm } from './run-time-form.tsx';
import { startUpForm, winterForm } from './season-forms.tsx';
import { sensorForm } from './sensor-form.tsx';
import { meterForm, noteForm, photoForm } from './small-forms.tsx';
import { backflowForm, partForm, repairForm, walkForm } from './work-forms.tsx';

const ALL: readonly AnyForm[] = [
  batteryForm,
  sensorForm,
  runTimeForm,
  startUpForm,
  winterForm,
  repairForm,
  partForm,
  meterForm,
  backflowForm,
  walkForm,
  findingForm,
  decisionForm,
  manualRunForm,
  notDoneForm,
  photoForm,
  noteForm,
];

/** The form of one kind of work. */
export function formOf(kind: FormKind): AnyForm {
  const found = ALL.find((form) => form.kind === kind);
  if (found === undefined) throw new Error(`no form for ${kind}`);
  return found;
}

const FIRST: Record<VisitKind, readonly FormKind[]> = {
  'start-up': ['start-up', 'sensor-check', 'run-time-change'],
  winterization: ['winterization'],
  'sensor-check': ['sensor-check', 'battery-swap'],
  'battery-swap': ['battery-swap', 'sensor-check'],
  'program-adjustment': ['run-time-change'],
  repair: ['repair', 'part-used'],
  'backflow-test': ['backflow-test'],
  'walk-through': ['walk-through', 'run-time-change'],
};

/** Every form; those a visit of this kind is booked for come first. */
export function formsFor(kind: VisitKind | null): { form: AnyForm; expected: boolean }[] {
  const first = kind === null ? [] : FIRST[kind];
  return [
    ...first.map((one) => ({ form: formOf(one), expected: true })),
    ...ALL.filter((form) => !first.includes(form.kind)).map((form) => ({ form, expected: false })),
  ];
}
