// Every text of the program in English, room by room.
import { shell } from './en/shell.ts';
import { parts } from './en/parts.ts';
import { charts } from './en/charts.ts';
import { office } from './en/office.ts';
import { property } from './en/property.ts';
import { propertyProgram } from './en/property-program.ts';
import { propertyGround } from './en/property-ground.ts';
import { forms } from './en/forms.ts';
import { work } from './en/work.ts';
import { log } from './en/log.ts';
import { calendar } from './en/calendar.ts';
import { imports } from './en/import.ts';
import { input } from './en/input.ts';
import { reviewProgram } from './en/review-program.ts';
import { field } from './en/field.ts';
import { review } from './en/review.ts';
import { company } from './en/company.ts';
import { advice } from './en/advice.ts';
import { agronomy } from './en/agronomy.ts';
import { ledger } from './en/ledger.ts';
import { book } from './en/book.ts';
import { check } from './en/check.ts';
import { places } from './en/places.ts';
import { errors } from './en/errors.ts';
import { exported } from './en/export.ts';
import { terminal } from './en/terminal.ts';
import { desktop } from './en/desktop.ts';

export const en = {
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
