import type { Client } from '../clients/contract.ts';
import type { Property } from '../properties/contract.ts';

// What the home list's search looks through: folded text kept beside the row, so that "any part of" is one LIKE.

/** Lower case, no accents, single spaces: the form in which names are compared and searched. */
export function fold(text: string): string {
  // Plain letters need no normal form, and nearly all text is plain.
  if (/^[ -~]*$/.test(text)) {
    const lower = text.toLowerCase();
    return /^ | {2}| $/.test(lower) ? lower.replace(/ +/g, ' ').trim() : lower;
  }
  return text
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/\s+/g, ' ')
    .trim();
}

/** Digits only, for telephone numbers. */
export function digitsOf(text: string): string {
  return text.replace(/\D/g, '');
}

export function clientSearchText(client: Client): string {
  return [
    fold(client.name),
    digitsOf(client.phone),
    digitsOf(client.phone2),
    fold(client.email),
    fold(client.accountNumber),
  ]
    .filter((part) => part !== '')
    .join(' ');
}

export function propertySearchText(property: Pick<Property, 'street' | 'label' | 'city' | 'postcode'>): string {
  return fold([property.street, property.label, property.city, property.postcode].join(' '));
}

/** The form names are sorted by. */
export function sortName(name: string): string {
  return fold(name);
}
