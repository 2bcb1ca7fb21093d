import type { Controller, Property, Sensor, Zone } from '../../../core/properties/contract.ts';
import { newId, write } from '../../state/write.ts';

/** A property, and those of its parts that a form is about. */
export interface PropertyParts {
  property: Property;
  controllers?: Controller[];
  zones?: Zone[];
  sensors?: Sensor[];
}

/**
 * Saves what a form says over what it showed: what it left as it was stays as the book has it by now, and only what
 * somebody else changed too is refused. The way back is the same with both exchanged. A part that is new was not shown.
 */
export function saveProperty(shown: PropertyParts, says: PropertyParts, version: number, opts?: { quiet?: boolean }) {
  return write('property.save', { writeId: newId(), ...says, version, opened: shown }, opts);
}
