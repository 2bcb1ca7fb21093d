import type { EmissionDevice } from './contract.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';

/** What a kind of head or tubing usually does when nothing of the zone was measured. */
export interface EmissionDeviceRow {
  readonly id: EmissionDevice;
  readonly label: string;
  /** Typical precipitation rate, in/h. */
  readonly prInchesPerHour: number;
  readonly prSource: string;
  /** Typical low-quarter distribution uniformity, share. */
  readonly du: number;
  readonly duSource: string;
  /** Both in one line, for a tooltip. */
  readonly source: string;
}

const COMMON = 'common practice, no source';
/** A teaching page of the university's irrigation centre: pop-up heads 1.7 in/h and 60 %, impact sprinklers 0.5 in/h and 70 %. */
const FRESNO =
  'California State University, Fresno: homeowner scheduling tutorial, table of well-designed home systems';

function row(
  id: EmissionDevice,
  label: string,
  prInchesPerHour: number,
  du: number,
  prSource = COMMON,
  duSource = COMMON,
): EmissionDeviceRow {
  return { id, label, prInchesPerHour, prSource, du, duSource, source: `Rate: ${prSource}. Uniformity: ${duSource}.` };
}

/** Stand-ins until somebody reads a meter or sets out catch cans; advice built on them has to look like a guess. */
export const EMISSION_DEVICES: readonly EmissionDeviceRow[] = [
  row('pop-up-spray', 'Pop-up spray', 1.7, 0.6, FRESNO, FRESNO),
  row('rotary-nozzle', 'Rotary nozzle', 0.45, 0.7),
  row('rotor', 'Rotor', 0.5, 0.65),
  row('impact', 'Impact sprinkler', 0.5, 0.7, FRESNO, FRESNO),
  row('bubbler', 'Bubbler', 2, 0.7),
  row('micro-spray', 'Micro-spray', 0.7, 0.7),
  row(
    'drip-line',
    'Drip line',
    0.96,
    0.85,
    'computed: 0.9 gph emitters every 12 in, rows 18 in apart (the spacing itself: common practice, no source)',
  ),
  row(
    'drip-emitter',
    'Drip emitters',
    0.36,
    0.85,
    'computed: two 1 gph emitters on 3 ft × 3 ft (the layout itself: common practice, no source)',
  ),
  row(
    'soaker-hose',
    'Soaker hose',
    0.96,
    0.55,
    'computed: 1.5 gpm per 100 ft wetting a strip 1.5 ft wide (the flow itself: common practice, no source)',
  ),
];

const BY_ID = new Map<string, EmissionDeviceRow>(EMISSION_DEVICES.map((device) => [device.id, device]));

/** The table row of a device. @throws BookError bad-input for an unknown id. */
export function emissionDeviceRow(id: EmissionDevice): EmissionDeviceRow {
  const found = BY_ID.get(id);
  if (found === undefined) {
    throw new BookError(
      'bad-input',
      fact('agronomy.noneOf', { field: 'emissionDevice', value: String(id), known: [...BY_ID.keys()] }),
      'emissionDevice',
    );
  }
  return found;
}
