import type { Handler } from '../context.ts';
import { saveProperty } from './queries.ts';

const propertySave: Handler<'property.save'> = async ({ db, today }, input) => ({
  propertyId: input.property.id,
  version: await saveProperty(db, input, today),
});

export const propertiesHandlers = {
  'property.save': propertySave,
};
