import { BACKFLOW_KINDS, PIPE_MATERIALS, WATER_SUPPLIES, type Property } from '../properties/contract.ts';
import { CLIENT_KINDS, type Client } from '../clients/contract.ts';

// Proof, without the schema, that it would take a value and give it back unchanged. Where the proof fails the schema
// itself decides: these may say no to what it takes, never yes to what it refuses or changes (a test holds them to that).

const ULID = /^[0-7][0-9A-HJKMNP-TV-Z]{25}$/;
const NOT_IN_A_LINE = /[\u0000-\u0008\u000a-\u001f\u007f]/;
const NOT_IN_NOTES = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f]/;
const EMAIL = /^[^\s@]+@[^\s@]+\.[^\s@]+$/;
/** Days that every month has. */
const SURE_DATE = /^(19|20|21)\d\d-(0[1-9]|1[0-2])-(0[1-9]|1\d|2[0-8])$/;

const clientKinds = new Set<unknown>(CLIENT_KINDS);
const waterSupplies = new Set<unknown>(WATER_SUPPLIES);
const pipeMaterials = new Set<unknown>(PIPE_MATERIALS);
const backflowKinds = new Set<unknown>(BACKFLOW_KINDS);
const parities = new Set<unknown>(['auto', 'odd', 'even']);

const isId = (value: unknown): boolean => typeof value === 'string' && ULID.test(value);
const isIdOrNull = (value: unknown): boolean => value === null || isId(value);
const isLine = (value: unknown, max: number): boolean =>
  value === '' ||
  (typeof value === 'string' && value.length <= max && !NOT_IN_A_LINE.test(value) && value.trim() === value);
const isName = (value: unknown, max: number): boolean => value !== '' && isLine(value, max);
const isNotes = (value: unknown): boolean =>
  value === '' || (typeof value === 'string' && value.length <= 8000 && !NOT_IN_NOTES.test(value));
const isMeasure = (value: unknown, min: number, max: number): boolean =>
  value === null || (typeof value === 'number' && value >= min && value <= max);
const isSureDateOrNull = (value: unknown): boolean =>
  value === null || (typeof value === 'string' && SURE_DATE.test(value));
const isBoolean = (value: unknown): boolean => value === true || value === false;

/** Is this surely a client as the contract's schema would return it? */
export function fitsClient(client: Client): boolean {
  return (
    isId(client.id) &&
    isName(client.name, 160) &&
    clientKinds.has(client.kind) &&
    isLine(client.phone, 40) &&
    isLine(client.phone2, 40) &&
    isLine(client.email, 160) &&
    (client.email === '' || EMAIL.test(client.email)) &&
    isNotes(client.billingAddress) &&
    isNotes(client.notes) &&
    isLine(client.accountNumber, 60) &&
    isBoolean(client.archived)
  );
}

/** The same for a property; its time zone is looked at apart. */
export function fitsProperty(property: Omit<Property, 'timeZone'>): boolean {
  return (
    isId(property.id) &&
    isId(property.clientId) &&
    isLine(property.label, 120) &&
    isName(property.street, 200) &&
    isLine(property.city, 120) &&
    isLine(property.region, 60) &&
    isLine(property.postcode, 20) &&
    isMeasure(property.latitudeDeg, -90, 90) &&
    isMeasure(property.longitudeDeg, -180, 180) &&
    isMeasure(property.elevationFt, -1400, 20000) &&
    isIdOrNull(property.routeId) &&
    isNotes(property.accessNotes) &&
    isLine(property.gateCode, 60) &&
    isLine(property.dogNote, 200) &&
    waterSupplies.has(property.waterSupply) &&
    isMeasure(property.staticPressurePsi, 0, 300) &&
    pipeMaterials.has(property.pipeMaterial) &&
    backflowKinds.has(property.backflowKind) &&
    isLine(property.backflowLocation, 200) &&
    isLine(property.backflowSerial, 80) &&
    isSureDateOrNull(property.backflowTestDue) &&
    isLine(property.shutoffLocation, 200) &&
    isIdOrNull(property.restrictionId) &&
    parities.has(property.addressParity) &&
    isIdOrNull(property.weatherStationId) &&
    isBoolean(property.servicesStartUp) &&
    isBoolean(property.servicesWinterization) &&
    isBoolean(property.archived)
  );
}
