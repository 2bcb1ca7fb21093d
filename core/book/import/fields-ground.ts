import type { Field } from './fields.ts';

/** How a row of zones or work says which property it is about. */
const PROPERTY_FIELDS: readonly Field[] = [
  { name: 'accountNumber', label: 'Account number of the client', words: ['account', 'account number', 'account no', 'account id', 'acct', 'acct no', 'client id', 'client number', 'customer id', 'customer number', 'customer no', 'cust no', '~account number', '~customer number'] },
  { name: 'clientName', label: 'Client name', words: ['client', 'client name', 'customer', 'customer name', 'account name', 'homeowner', 'full name', '~customer name', '~client name'] },
  { name: 'street', label: 'Street of the property', words: ['street', 'street address', 'address', 'address 1', 'address line 1', 'service address', 'property', 'property address', 'site address', 'location', 'job address', '~service address', '~property address', '~street address'] },
  { name: 'unit', label: 'Unit', words: ['unit', 'apt', 'apartment', 'suite', 'address 2', 'address line 2'] },
  { name: 'city', label: 'City', words: ['city', 'town', 'service city'] },
  { name: 'postcode', label: 'Postcode', words: ['zip', 'zip code', 'zipcode', 'postcode', 'postal code'] },
];

// One row of a zone list.
export const ZONE_FIELDS: readonly Field[] = [
  ...PROPERTY_FIELDS,
  { name: 'controller', label: 'Controller', words: ['controller', 'controller name', 'timer', 'clock', '~controller'] },
  { name: 'station', label: 'Station', required: true, words: ['station', 'zone', 'zone number', 'zone no', 'station number', 'station no', 'valve', 'valve number', 'valve no', 'number', 'no', '#', 'z', '~station number', '~zone number'] },
  { name: 'name', label: 'Zone name', words: ['name', 'zone name', 'description', 'zone description', 'area name', 'what it waters', 'zone location', '~zone name', '~description'] },
  { name: 'plants', label: 'Plants', words: ['plants', 'plant', 'plant type', 'plant kind', 'vegetation', 'landscape', 'crop', 'planting', '~plant type', '~plants'] },
  { name: 'device', label: 'Heads or drip', words: ['device', 'head', 'heads', 'head type', 'sprinkler', 'sprinkler type', 'emission device', 'emitter', 'irrigation type', 'type', 'nozzle', 'heads type', '~head type', '~sprinkler type', '~irrigation type'] },
  { name: 'flowGpm', label: 'Flow, gpm', words: ['flow', 'gpm', 'flow gpm', 'flow rate', 'flow rate gpm', '~gpm'] },
  { name: 'areaFt2', label: 'Area, ft²', words: ['area', 'sq ft', 'sqft', 'square feet', 'area sq ft', 'area sqft', 'area ft2', 'size', 'square footage', '~sq ft', '~sqft', '~square feet'] },
  { name: 'precipitationRateInPerHour', label: 'Precipitation rate, in/h', words: ['pr', 'precipitation rate', 'precip rate', 'in hr', 'in h', 'inches per hour', 'application rate', '~precipitation rate', '~precip rate'] },
  { name: 'distributionUniformity', label: 'Distribution uniformity, share or %', words: ['du', 'distribution uniformity', 'dulq', 'du lq', 'uniformity', '~uniformity'] },
  { name: 'soil', label: 'Soil', words: ['soil', 'soil type', 'soil texture', '~soil'] },
  { name: 'slopePercent', label: 'Slope, %', words: ['slope', 'slope pct', 'slope percent', 'grade', '~slope'] },
  { name: 'sunExposure', label: 'Sun', words: ['sun', 'sun exposure', 'exposure', 'shade', 'light', '~exposure'] },
  { name: 'rootDepthInches', label: 'Root depth, in', words: ['root depth', 'root depth in', 'root zone', 'roots', 'root zone depth', '~root depth'] },
  { name: 'betweenHouses', label: 'Between houses', words: ['between houses', 'side yard', 'between homes', 'shared strip', '~between houses'] },
  { name: 'runMinutes', label: 'Run minutes', words: ['run time', 'runtime', 'run minutes', 'minutes', 'min', 'mins', 'duration', 'run', 'run time min', '~run time', '~runtime', '~run minutes'] },
  { name: 'program', label: 'Program', words: ['program', 'program name', 'prog', 'schedule'] },
  { name: 'startTimes', label: 'Start times', words: ['start time', 'start times', 'starts', 'start', '~start time', '~start times'] },
  { name: 'days', label: 'Watering days', words: ['days', 'watering days', 'water days', 'weekdays', 'day', 'frequency', '~watering days'] },
];

// One row of past work.
export const WORK_FIELDS: readonly Field[] = [
  ...PROPERTY_FIELDS,
  { name: 'date', label: 'Date of the work', required: true, words: ['date', 'service date', 'work date', 'completed', 'completed on', 'done', 'done on', 'date completed', 'visit date', 'job date', '~service date', '~date'] },
  { name: 'kind', label: 'Kind of work', required: true, words: ['kind', 'service', 'service type', 'work', 'work type', 'type', 'job', 'job type', 'item', 'task', 'activity', 'description', 'kind of work', '~service type', '~work type', '~job type'] },
  { name: 'technician', label: 'Technician', words: ['technician', 'tech', 'employee', 'crew', 'done by', 'by', 'performed by', 'completed by', 'assigned to', '~technician'] },
  { name: 'note', label: 'Note', join: '\n', words: ['note', 'notes', 'comments', 'comment', 'remarks', 'details', 'findings', 'memo', '~notes', '~comments'] },
  { name: 'result', label: 'Result (pass or fail)', words: ['result', 'results', 'pass fail', 'passed', 'outcome', 'test result', '~result'] },
  { name: 'sensor', label: 'Which sensor', words: ['sensor', 'sensor model', 'sensor location', '~sensor'] },
  { name: 'batteryType', label: 'Battery type', words: ['battery', 'battery type', 'battery size', '~battery type'] },
  { name: 'batteryCells', label: 'Number of cells', words: ['cells', 'batteries', 'battery count', 'number of batteries'] },
  { name: 'meterGallons', label: 'Meter reading, gal', words: ['meter', 'meter reading', 'reading', 'meter gallons', 'gallons', 'meter read', 'meter reading gal', '~meter reading'] },
  { name: 'meterCcf', label: 'Meter reading, hundred ft³', words: ['ccf', 'meter ccf', 'meter reading ccf', 'hcf'] },
  { name: 'meterM3', label: 'Meter reading, m³', words: ['m3', 'meter m3', 'meter reading m3', 'cubic meters', 'cubic metres'] },
  { name: 'part', label: 'Part used', words: ['part', 'part used', 'parts', 'parts used', 'material', 'materials', 'part name', '~part'] },
  { name: 'quantity', label: 'Quantity', words: ['quantity', 'qty', 'count', 'amount used', 'number of parts'] },
  { name: 'unitPrice', label: 'Price of one', words: ['price', 'unit price', 'rate', 'each', '~unit price'] },
  { name: 'pressurePsi', label: 'Pressure, psi', words: ['pressure', 'psi', 'air pressure', 'air psi', 'static pressure', 'pressure psi', '~psi', '~pressure'] },
  { name: 'zonesCount', label: 'Zones done', words: ['zones', 'zones run', 'zones blown', 'zone count', 'number of zones'] },
  { name: 'nextDue', label: 'Next test due', words: ['next due', 'next test', 'next test due', 'due', 'due date', 'next due date', '~next due'] },
];
