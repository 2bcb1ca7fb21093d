import { fold, digitsOf } from '../../store/search-text.ts';
import { streetKey } from './address.ts';

// Finds whether a row's client and property are already there (in the book, or further up in the list), in constant time a row.

export interface PlaceRef {
  id: string;
  streetKey: string;
  city: string;
  postcode: string;
  /** Row of the list that brought it, or null when it was in the book. */
  row: number | null;
  clientName: string;
}

export interface ClientRef {
  id: string;
  name: string;
  account: string;
  contacts: readonly string[];
  /** Few a client, so a list: fifty thousand maps would cost more than looking through it. */
  places: PlaceRef[];
  row: number | null;
}

export interface Identity {
  name: string;
  account: string;
  phones: readonly string[];
  email: string;
}

export type ClientMatch = { client: ClientRef; by: 'account' | 'contact' | 'place' | 'name' } | null;

let lastName = '';
let lastNameKey = '';

/** Names in the form in which "Smith, John", "John  SMITH" and "Smith John" are one. */
export function nameKey(name: string): string {
  if (name === lastName) return lastNameKey;
  lastName = name;
  const words = fold(name.replace(/&/g, ' and ')).replace(/['’.]/g, '').split(/[^\p{L}\p{N}]+/u);
  return (lastNameKey = words.filter((word) => word !== '').sort().join(' '));
}

export function accountKey(account: string): string {
  const key = fold(account).replace(/\.0$/, '');
  return /^0*$/.test(key) ? '' : key;
}

/** What ties a row to a client beside the name: telephone numbers by their last ten digits, the e-mail address. */
export function contactKeys(identity: Pick<Identity, 'phones' | 'email'>): string[] {
  const keys: string[] = [];
  for (const phone of identity.phones) {
    const digits = digitsOf(phone.replace(/\s*(ext\.?|x)\s*\d+$/i, ''));
    if (digits.length >= 7) keys.push(digits.slice(-10));
  }
  if (identity.email !== '') keys.push(identity.email.toLowerCase());
  return keys;
}

export class ClientIndex {
  private readonly byAccount = new Map<string, ClientRef>();
  private readonly byName = new Map<string, ClientRef[]>();
  private readonly byId = new Map<string, ClientRef>();
  private readonly byStreet = new Map<string, PlaceRef[]>();

  addClient(id: string, identity: Identity, row: number | null): ClientRef {
    const client: ClientRef = { id, name: identity.name, account: accountKey(identity.account), contacts: contactKeys(identity), places: [], row };
    this.byId.set(id, client);
    if (client.account !== '' && !this.byAccount.has(client.account)) this.byAccount.set(client.account, client);
    const key = nameKey(identity.name);
    const same = this.byName.get(key);
    if (same) same.push(client);
    else this.byName.set(key, [client]);
    return client;
  }

  addPlace(clientId: string, id: string, street: string, city: string, postcode: string, row: number | null): void {
    const client = this.byId.get(clientId);
    if (!client) return;
    const key = streetKey(street);
    const place: PlaceRef = { id, streetKey: key, city: fold(city), postcode: postcodeKey(postcode), row, clientName: client.name };
    client.places.push(place);
    const there = this.byStreet.get(key);
    if (there) there.push(place);
    else this.byStreet.set(key, [place]);
  }

  /** The client a row belongs to: same account; same name with a shared contact; same name with this very property; or the name alone where nothing speaks against it. */
  findClient(identity: Identity, place: { street: string; city: string; postcode: string }): ClientMatch {
    const account = accountKey(identity.account);
    const byAccount = account === '' ? undefined : this.byAccount.get(account);
    if (byAccount) return { client: byAccount, by: 'account' };
    const namesakes = this.byName.get(nameKey(identity.name)) ?? [];
    const contacts = contactKeys(identity);
    const byContact = namesakes.find((client) => contacts.some((key) => client.contacts.includes(key)));
    if (byContact) return { client: byContact, by: 'contact' };
    const byPlace = namesakes.find((client) => this.findPlace(client, place) !== null && (account === '' || client.account === ''));
    if (byPlace) return { client: byPlace, by: 'place' };
    if (account === '' && contacts.length === 0) {
      const bare = namesakes.find((client) => client.account === '' && client.contacts.length === 0) ?? (namesakes.length === 1 ? namesakes[0] : undefined);
      if (bare) return { client: bare, by: 'name' };
    }
    return null;
  }

  /** Clients of the same name. */
  namesakes(name: string): readonly ClientRef[] {
    return this.byName.get(nameKey(name)) ?? [];
  }

  findPlace(client: ClientRef, place: { street: string; city: string; postcode: string }): PlaceRef | null {
    if (client.places.length === 0) return null;
    const key = streetKey(place.street);
    return firstSame(client.places.filter((one) => one.streetKey === key), place);
  }

  /** The same address under any client. */
  findPlaceAnywhere(place: { street: string; city: string; postcode: string }): PlaceRef | null {
    return firstSame(this.byStreet.get(streetKey(place.street)), place);
  }

  /** Every property at a street of this spelling, for lists that name only the street. */
  placesAt(street: string): readonly PlaceRef[] {
    return this.byStreet.get(streetKey(street)) ?? [];
  }

  /** Every property of the client with an account number, or of the clients of a name. */
  placesOf(by: { account: string } | { name: string }): PlaceRef[] {
    const clients = 'account' in by ? [this.byAccount.get(accountKey(by.account))] : this.namesakes(by.name);
    return clients.flatMap((client) => client?.places ?? []);
  }
}

function postcodeKey(postcode: string): string {
  const key = postcode.toLowerCase().replace(/[^a-z0-9]/g, '');
  return /^\d{9}$/.test(key) ? key.slice(0, 5) : key;
}

function firstSame(places: readonly PlaceRef[] | undefined, place: { city: string; postcode: string }): PlaceRef | null {
  if (!places) return null;
  const postcode = postcodeKey(place.postcode);
  const city = fold(place.city);
  for (const other of places) {
    if (postcode !== '' && other.postcode !== '') {
      if (postcode === other.postcode) return other;
    } else if (city === '' || other.city === '' || city === other.city) return other;
  }
  return null;
}
