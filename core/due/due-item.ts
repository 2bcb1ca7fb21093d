import type { Due } from './due.ts';
import type { DueItem } from './contract.ts';

export interface Site {
  clientId: string;
  clientName: string;
  phone: string;
  street: string;
  city: string;
  routeName: string | null;
}

export const dueItem = (propertyId: string, site: Site, due: Due): DueItem => ({ propertyId, ...site, ...due });
