// Every text of the program in Spanish, room by room.
import { shell } from './es/shell.ts';
import { parts } from './es/parts.ts';
import { charts } from './es/charts.ts';
import { office } from './es/office.ts';
import { property } from './es/property.ts';
import { propertyProgram } from './es/property-program.ts';
import { propertyGround } from './es/property-ground.ts';
import { forms } from './es/forms.ts';
import { work } from './es/work.ts';
import { log } from './es/log.ts';
import { calendar } from './es/calendar.ts';
import { imports } from './es/import.ts';
import { input } from './es/input.ts';
import { reviewProgram } from './es/review-program.ts';
import { field } from './es/field.ts';
import { review } from './es/review.ts';
import { company } from './es/company.ts';
import { advice } from './es/advice.ts';
import { agronomy } from './es/agronomy.ts';
import { ledger } from './es/ledger.ts';
import { book } from './es/book.ts';
import { check } from './es/check.ts';
import { places } from './es/places.ts';
import { errors } from './es/errors.ts';
import { exported } from './es/export.ts';
import { terminal } from './es/terminal.ts';
import { desktop } from './es/desktop.ts';

export const es = {
  ...shell,
  ...parts,
  ...charts,
  ...office,
  ...property,
  ...propertyProgram,
  ...propertyGround,
  ...forms,
  ...work,
  ...log,
  ...calendar,
  ...imports,
  ...input,
  ...reviewProgram,
  ...field,
  ...review,
  ...company,
  ...advice,
  ...agronomy,
  ...ledger,
  ...book,
  ...check,
  ...places,
  ...errors,
  ...terminal,
  ...exported,
  ...desktop,
};
