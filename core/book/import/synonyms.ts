import type { ClientKind, EmissionDevice, PlantKind, Soil, Zone, Property } from '../../contract/entities.ts';
import type { LedgerKind } from '../../contract/ledger-entries.ts';

// What people write in a list, in lower-case words without punctuation, and what the book calls it.

export const CLIENT_KIND_WORDS: Record<string, ClientKind> = {
  household: 'household', residential: 'household', residence: 'household', res: 'household', r: 'household', home: 'household', homeowner: 'household', house: 'household', private: 'household',
  association: 'association', hoa: 'association', 'home owners association': 'association', 'homeowners association': 'association', condo: 'association', condominium: 'association', 'property manager': 'association', community: 'association',
  business: 'business', commercial: 'business', com: 'business', comm: 'business', c: 'business', company: 'business', office: 'business', retail: 'business', industrial: 'business', church: 'business', school: 'business', municipal: 'business',
};

export const WATER_SUPPLY_WORDS: Record<string, Property['waterSupply']> = {
  drinking: 'drinking', city: 'drinking', 'city water': 'drinking', municipal: 'drinking', potable: 'drinking', domestic: 'drinking', mains: 'drinking', public: 'drinking', town: 'drinking', culinary: 'drinking',
  reclaimed: 'reclaimed', recycled: 'reclaimed', purple: 'reclaimed', 'purple pipe': 'reclaimed', reuse: 'reclaimed', effluent: 'reclaimed',
  well: 'well', 'private well': 'well', bore: 'well', borehole: 'well',
  pond: 'pond', lake: 'pond', ditch: 'pond', canal: 'pond', river: 'pond', creek: 'pond', surface: 'pond',
  unknown: 'unknown',
};

export const PIPE_WORDS: Record<string, Property['pipeMaterial']> = {
  pvc: 'pvc', plastic: 'pvc', polyethylene: 'polyethylene', poly: 'polyethylene', pe: 'polyethylene', 'poly pipe': 'polyethylene', hdpe: 'polyethylene',
  copper: 'copper', cu: 'copper', mixed: 'mixed', both: 'mixed', 'pvc and poly': 'mixed', 'pvc poly': 'mixed', unknown: 'unknown',
};

export const BACKFLOW_WORDS: Record<string, Property['backflowKind']> = {
  none: 'none', no: 'none', n: 'none', 'no backflow': 'none',
  'pressure vacuum breaker': 'pressure-vacuum-breaker', pvb: 'pressure-vacuum-breaker', pvba: 'pressure-vacuum-breaker',
  'reduced pressure': 'reduced-pressure', rp: 'reduced-pressure', rpz: 'reduced-pressure', rpp: 'reduced-pressure', rpa: 'reduced-pressure', rpba: 'reduced-pressure', rpbp: 'reduced-pressure', 'reduced pressure zone': 'reduced-pressure',
  'double check': 'double-check', dc: 'double-check', dcv: 'double-check', dcva: 'double-check', dcba: 'double-check', 'double check valve': 'double-check', 'double check valve assembly': 'double-check',
  'atmospheric vacuum breaker': 'atmospheric-vacuum-breaker', avb: 'atmospheric-vacuum-breaker', atmospheric: 'atmospheric-vacuum-breaker', 'anti siphon': 'atmospheric-vacuum-breaker', antisiphon: 'atmospheric-vacuum-breaker',
  unknown: 'unknown', yes: 'unknown', y: 'unknown', x: 'unknown',
};

export const PLANT_WORDS: Record<string, PlantKind> = {
  'cool turf': 'cool-turf', lawn: 'cool-turf', turf: 'cool-turf', grass: 'cool-turf', sod: 'cool-turf', bluegrass: 'cool-turf', 'kentucky bluegrass': 'cool-turf', kbg: 'cool-turf', fescue: 'cool-turf', 'tall fescue': 'cool-turf', rye: 'cool-turf', ryegrass: 'cool-turf', 'cool season': 'cool-turf', 'cool season turf': 'cool-turf',
  'warm turf': 'warm-turf', bermuda: 'warm-turf', bermudagrass: 'warm-turf', 'bermuda grass': 'warm-turf', zoysia: 'warm-turf', buffalo: 'warm-turf', buffalograss: 'warm-turf', 'buffalo grass': 'warm-turf', 'st augustine': 'warm-turf', centipede: 'warm-turf', 'warm season': 'warm-turf', 'warm season turf': 'warm-turf',
  annuals: 'annuals', annual: 'annuals', flowers: 'annuals', 'flower bed': 'annuals', 'flower beds': 'annuals', pots: 'annuals', planters: 'annuals', 'hanging baskets': 'annuals',
  perennials: 'perennials', perennial: 'perennials', beds: 'perennials', bed: 'perennials', 'perennial bed': 'perennials',
  shrubs: 'shrubs', shrub: 'shrubs', bushes: 'shrubs', hedge: 'shrubs', hedges: 'shrubs', roses: 'shrubs', 'shrub bed': 'shrubs', 'shrub beds': 'shrubs',
  'ground cover': 'ground-cover', groundcover: 'ground-cover', ivy: 'ground-cover', trees: 'trees', tree: 'trees', orchard: 'trees',
  vegetables: 'vegetables', vegetable: 'vegetables', veggies: 'vegetables', garden: 'vegetables', 'vegetable garden': 'vegetables', 'raised beds': 'vegetables',
  desert: 'desert', xeriscape: 'desert', xeric: 'desert', cactus: 'desert', succulents: 'desert', native: 'desert', natives: 'desert',
};

export const DEVICE_WORDS: Record<string, EmissionDevice> = {
  'pop up spray': 'pop-up-spray', spray: 'pop-up-spray', sprays: 'pop-up-spray', popup: 'pop-up-spray', popups: 'pop-up-spray', 'pop up': 'pop-up-spray', 'pop ups': 'pop-up-spray', 'spray heads': 'pop-up-spray', 'spray head': 'pop-up-spray', 'fixed spray': 'pop-up-spray', mist: 'pop-up-spray',
  'rotary nozzle': 'rotary-nozzle', 'rotary nozzles': 'rotary-nozzle', 'rotating nozzle': 'rotary-nozzle', 'multi stream': 'rotary-nozzle', 'multi stream nozzle': 'rotary-nozzle', rotary: 'rotary-nozzle', rotator: 'rotary-nozzle', rotators: 'rotary-nozzle',
  rotor: 'rotor', rotors: 'rotor', 'gear drive': 'rotor', 'gear driven': 'rotor', 'gear rotor': 'rotor', impact: 'impact', impacts: 'impact', 'impact head': 'impact', 'impact rotor': 'impact',
  bubbler: 'bubbler', bubblers: 'bubbler', 'micro spray': 'micro-spray', microspray: 'micro-spray', micro: 'micro-spray', microjet: 'micro-spray', 'micro jet': 'micro-spray',
  'drip line': 'drip-line', dripline: 'drip-line', 'inline drip': 'drip-line', 'in line drip': 'drip-line', 'drip tubing': 'drip-line', 'subsurface drip': 'drip-line',
  'drip emitter': 'drip-emitter', 'drip emitters': 'drip-emitter', drip: 'drip-emitter', emitter: 'drip-emitter', emitters: 'drip-emitter', 'point source': 'drip-emitter', 'soaker hose': 'soaker-hose', soaker: 'soaker-hose',
};

export const SOIL_WORDS: Record<string, Soil> = {
  sand: 'sand', sandy: 'sand', 'loamy sand': 'loamy-sand', 'sandy loam': 'sandy-loam', loam: 'loam', loamy: 'loam', medium: 'loam', 'silt loam': 'silt-loam', silt: 'silt-loam', silty: 'silt-loam', 'silty loam': 'silt-loam',
  'clay loam': 'clay-loam', 'sandy clay loam': 'clay-loam', 'silty clay loam': 'clay-loam', clay: 'clay', 'heavy clay': 'clay', 'silty clay': 'clay', 'sandy clay': 'clay', heavy: 'clay', coarse: 'sand', fine: 'clay',
};

export const SUN_WORDS: Record<string, Zone['sunExposure']> = {
  'full sun': 'full-sun', sun: 'full-sun', sunny: 'full-sun', full: 'full-sun', south: 'full-sun', west: 'full-sun', 'part shade': 'part-shade', partial: 'part-shade', part: 'part-shade', 'part sun': 'part-shade', 'partial shade': 'part-shade', 'partial sun': 'part-shade', 'half sun': 'part-shade', mixed: 'part-shade', east: 'part-shade',
  shade: 'shade', shady: 'shade', shaded: 'shade', 'full shade': 'shade', north: 'shade',
};

export const WORK_WORDS: Record<string, LedgerKind> = {
  'battery swap': 'battery-swap', battery: 'battery-swap', batteries: 'battery-swap', 'battery change': 'battery-swap', 'battery changed': 'battery-swap', 'battery replaced': 'battery-swap', 'battery replacement': 'battery-swap', 'sensor battery': 'battery-swap', 'new battery': 'battery-swap', 'replaced battery': 'battery-swap', 'changed battery': 'battery-swap',
  'sensor check': 'sensor-check', 'sensor test': 'sensor-check', 'rain sensor check': 'sensor-check', 'rain sensor test': 'sensor-check', 'sensor checked': 'sensor-check', 'sensor tested': 'sensor-check',
  'start up': 'start-up', startup: 'start-up', 'spring start up': 'start-up', 'spring startup': 'start-up', activation: 'start-up', 'spring activation': 'start-up', activated: 'start-up', 'turn on': 'start-up', 'turned on': 'start-up', 'system on': 'start-up', 'spring turn on': 'start-up', 'spring service': 'start-up', summerize: 'start-up', 'de winterize': 'start-up', 'spring opening': 'start-up', charged: 'start-up',
  winterization: 'winterization', winterize: 'winterization', winterized: 'winterization', winterizing: 'winterization', winterisation: 'winterization', blowout: 'winterization', 'blow out': 'winterization', 'blown out': 'winterization', 'blew out': 'winterization', 'fall shutdown': 'winterization', shutdown: 'winterization', 'shut down': 'winterization', 'fall service': 'winterization', 'fall closing': 'winterization', 'system drained': 'winterization',
  repair: 'repair', repairs: 'repair', repaired: 'repair', 'service call': 'repair', fix: 'repair', fixed: 'repair', 'head replaced': 'repair', 'valve replaced': 'repair', 'leak repair': 'repair', replaced: 'repair', 'broken head': 'repair',
  'part used': 'part-used', part: 'part-used', parts: 'part-used', material: 'part-used', materials: 'part-used',
  'meter read': 'meter-read', 'meter reading': 'meter-read', meter: 'meter-read', 'water meter': 'meter-read',
  'backflow test': 'backflow-test', backflow: 'backflow-test', 'backflow tested': 'backflow-test', 'bf test': 'backflow-test', 'bfp test': 'backflow-test', 'backflow certification': 'backflow-test', 'rpz test': 'backflow-test', 'pvb test': 'backflow-test', 'dcva test': 'backflow-test',
  'walk through': 'walk-through', walkthrough: 'walk-through', inspection: 'walk-through', 'system check': 'walk-through', 'wet check': 'walk-through', 'mid season check': 'walk-through', checkup: 'walk-through', 'check up': 'walk-through', audit: 'walk-through',
  note: 'note', notes: 'note', comment: 'note', other: 'note',
};

/** pass / fail words of a test. */
export const RESULT_WORDS: Record<string, boolean> = {
  pass: true, passed: true, passes: true, p: true, ok: true, okay: true, good: true, yes: true, y: true, works: true, working: true, true: true, '1': true,
  fail: false, failed: false, fails: false, f: false, bad: false, no: false, n: false, 'not working': false, broken: false, dead: false, false: false, '0': false, 'did not pass': false, 'not passed': false,
};
