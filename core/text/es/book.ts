import type { book as english } from '../en/book.ts';
import type { SameAs } from '../room.ts';

export const book: SameAs<typeof english> = {
  'book.copyingBackup': 'Copiando la copia',
  'book.lookingBackup': 'Mirando la copia',
  'book.askingBackup': 'Preguntándole lo que preguntan las pantallas',
  'book.saving': 'Guardando',
  'book.done': 'Listo',
  'book.readingList': 'Leyendo la lista',
  'book.checkingRows': 'Revisando filas',
  'book.writing': 'Escribiendo',
  'book.upToDate': 'Poniendo el libro al día',
  'book.copying': 'Copiando el libro',
  'book.checkingCopy': 'Revisando la copia',
  'book.backedUp': 'Copia hecha',
  'book.written': 'Escrito',
  'book.checkingDates': 'Revisando fechas',
  'book.readingLedger': 'Leyendo el registro',
  'book.checkingFile': 'Revisando el archivo',
  'book.programsReviewed': 'Programas revisados',
  'book.copyUpToDate': 'Poniendo la copia al día',
  'book.copyingBefore': 'Copiando el libro antes de ponerlo al día',
  'book.lookingCopy': 'Mirando la copia',
  'book.starting': 'Empezando',
  'book.writingTable': (_words, given) => `Escribiendo ${given.table}`,
  'book.checkingTable': (_words, given) => `Revisando ${given.table}`,
};
