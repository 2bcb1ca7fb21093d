import type { PlantKind } from './contract.ts';
import { BookError } from '../errors.ts';
import { fact } from '../text/say.ts';
import { isGiven, requireRange } from './check.ts';

/** What one kind of planting needs and how deep it drinks. */
export interface PlantKindRow {
  readonly id: PlantKind;
  readonly label: string;
  /** Plant factor, share of ETo, in a dry climate. */
  readonly factor: number;
  /** Plant factor in a wet (humid) climate, where the standard gives another; else the same. */
  readonly factorWet: number;
  readonly factorSource: string;
  /** Typical depth of the working roots, inches. */
  readonly rootDepthInches: number;
  readonly rootDepthSource: string;
  /** Allowed depletion: the share of the root zone's available water that may be used before watering again. */
  readonly allowedDepletion: number;
  readonly depletionSource: string;
  /** All three in one line, for a tooltip. */
  readonly source: string;
}

const COMMON = 'common practice, no source';
/** Turf, desert: stated in a public city landscape summary citing S623; woody plants: ASHS 2014 abstract on S623; the standard itself was not read. */
const S623 = 'ANSI/ASABE S623 plant factor, by secondary sources (the standard itself was not read)';
const S623_WOODY =
  'ANSI/ASABE S623: 0.5 in dry, 0.7 in humid climates (abstract on woody plants in S623, American Society for Horticultural Science, 2014)';
const S623_MEMORY = 'ANSI/ASABE S623 plant factor (from memory)';
const TABLE_22 = 'FAO-56 table 22, depletion fraction of turf grass, read in an open data set that repeats it';

function row(
  id: PlantKind,
  label: string,
  factor: number,
  factorWet: number,
  factorSource: string,
  rootDepthInches: number,
  allowedDepletion: number,
  depletionSource: string,
): PlantKindRow {
  const source = `Factor: ${factorSource}. Roots: ${COMMON}. Allowed depletion: ${depletionSource}.`;
  return {
    id,
    label,
    factor,
    factorWet,
    factorSource,
    rootDepthInches,
    rootDepthSource: COMMON,
    allowedDepletion,
    depletionSource,
    source,
  };
}

/** Every planting the book knows, in the order the office picks from. Each value is a default that a zone may override. */
export const PLANT_KINDS: readonly PlantKindRow[] = [
  row('cool-turf', 'Cool-season turf', 0.8, 0.8, S623, 6, 0.4, TABLE_22),
  row('warm-turf', 'Warm-season turf', 0.6, 0.6, S623, 8, 0.5, TABLE_22),
  row('annuals', 'Annual flowers', 0.8, 0.8, S623_MEMORY, 6, 0.4, COMMON),
  row('perennials', 'Perennials', 0.5, 0.7, S623_MEMORY, 12, 0.5, COMMON),
  row('shrubs', 'Shrubs', 0.5, 0.7, S623_WOODY, 18, 0.5, COMMON),
  row('ground-cover', 'Ground cover', 0.5, 0.7, S623_WOODY, 12, 0.5, COMMON),
  row('trees', 'Trees', 0.5, 0.7, S623_WOODY, 24, 0.5, COMMON),
  row(
    'vegetables',
    'Vegetables',
    1,
    1,
    'outside S623; about the FAO-56 mid-season coefficient of small vegetables (from memory)',
    12,
    0.3,
    COMMON,
  ),
  row('desert', 'Desert plants', 0.3, 0.3, S623, 24, 0.6, COMMON),
];

const BY_ID = new Map<string, PlantKindRow>(PLANT_KINDS.map((kind) => [kind.id, kind]));

/** The table row of a planting. @throws BookError bad-input for an unknown id. */
export function plantKindRow(id: PlantKind): PlantKindRow {
  const found = BY_ID.get(id);
  if (found === undefined) {
    throw new BookError(
      'bad-input',
      fact('agronomy.noneOf', { field: 'plantKind', value: String(id), known: [...BY_ID.keys()] }),
      'plantKind',
    );
  }
  return found;
}

/**
 * Share of ETo a planting needs.
 * @param override a zone's own factor, 0.05…1.5; comes before the table.
 * @param climate 'wet' takes the humid factor of woody plants and perennials.
 * @throws BookError bad-input for an unknown planting or a factor outside the range.
 */
export function plantFactor(id: PlantKind, override?: number | null, climate: 'dry' | 'wet' = 'dry'): number {
  const kind = plantKindRow(id);
  if (isGiven(override)) {
    requireRange(override, 'plantFactor', 0.05, 1.5, 'share-of-eto');
    return override;
  }
  return climate === 'wet' ? kind.factorWet : kind.factor;
}

/**
 * Landscape coefficient = species × density × microclimate (Costello, Matheny, Clark: "A Guide to Estimating Irrigation
 * Water Needs of Landscape Plantings in California", University of California and DWR, 2000).
 * @param factors shares: species 0.05…1, density 0.3…1.5, microclimate 0.3…1.6. The guide's own tables run 0.1…0.9,
 *   0.5…1.3 and 0.5…1.4 (from memory); a little more is allowed, since they are judged on site.
 * @throws BookError bad-input naming the factor.
 */
export function landscapeCoefficient(factors: { species: number; density: number; microclimate: number }): number {
  requireRange(factors.species, 'species', 0.05, 1, '');
  requireRange(factors.density, 'density', 0.3, 1.5, '');
  requireRange(factors.microclimate, 'microclimate', 0.3, 1.6, '');
  return factors.species * factors.density * factors.microclimate;
}

/**
 * Landscape water need = ETo × factor, in the unit ETo comes in (inches or mm, a day or a month).
 * @throws BookError bad-input for negative ETo or a factor outside 0…2.
 */
export function plantNeed(eto: number, factor: number): number {
  requireRange(eto, 'eto', 0, 5000, '');
  requireRange(factor, 'factor', 0, 2, 'share-of-eto');
  return eto * factor;
}
