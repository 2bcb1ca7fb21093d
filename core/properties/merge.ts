import { isDeepStrictEqual } from 'node:util';

// Two people change one property. A form sends what it showed and what it says now; what it left as it was stays as the
// book has it, and what it changed is the form's, unless somebody else changed that too. Pure.

/** Fields that say one thing together: who changes one of them has judged the others as they were shown. */
export type Together = readonly (readonly string[])[];
export const TOGETHER: Readonly<Record<'property' | 'controller' | 'zone' | 'sensor', Together>> = {
  property: [
    ['latitudeDeg', 'longitudeDeg', 'elevationFt'],
    ['backflowKind', 'backflowLocation', 'backflowSerial'],
  ],
  controller: [],
  zone: [
    ['controllerId', 'station'],
    ['flowGpm', 'flowKnown'],
    ['areaFt2', 'areaKnown'],
    ['prMethod', 'prInputs', 'precipitationRateInPerHour', 'distributionUniformity'],
    ['soil', 'soilKnown'],
  ],
  sensor: [
    ['link', 'batteryType', 'batteryCells'],
    ['senses', 'rainSetPointInches', 'freezeSetPointF'],
  ],
};

/**
 * What is to be saved of one thing. `clash` names the first field that the form changed while somebody else changed it, or
 * one that belongs with it, into something else.
 */
export function mergeEdit<T extends object>(
  opened: T,
  sent: T,
  present: T,
  together: Together,
): { merged: T; clash: null } | { merged: null; clash: keyof T & string } {
  const fields = Object.keys(sent) as (keyof T & string)[];
  const grouped = new Set(together.flat());
  const groups = [...together, ...fields.filter((field) => !grouped.has(field)).map((field) => [field])] as (keyof T &
    string)[][];
  const merged = { ...present };
  for (const group of groups) {
    const differ = (a: T, b: T) => group.filter((field) => !isDeepStrictEqual(a[field], b[field]));
    const [mine, theirs] = [differ(sent, opened), differ(present, opened)];
    if (mine.length === 0) continue;
    if (theirs.length > 0 && differ(sent, present).length > 0)
      return { merged: null, clash: mine.find((field) => theirs.includes(field)) ?? mine[0]! };
    for (const field of group) merged[field] = sent[field];
  }
  return { merged, clash: null };
}
