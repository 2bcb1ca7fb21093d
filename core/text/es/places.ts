import type { places as english } from '../en/places.ts';
import type { SameAs } from '../room.ts';

export const places: SameAs<typeof english> = {
  'places.choose': 'Elegir…',
  'places.cancel': 'Cancelar',
  'places.places': 'Lugares',
  'places.folder': 'Carpeta',
  'places.up': 'Subir una carpeta',
  'places.go': 'Ir',
  'places.fileName': 'Nombre del archivo',
  'places.looking': 'Buscando…',
  'places.noFolder': 'Aquí no hay carpetas.',
  'places.title.backup-to': 'Guardar la copia en',
  'places.title.backup-folder': 'Segundo lugar para las copias',
  'places.title.restore-from': 'Restaurar desde',
  'places.title.export-to': 'Exportar a',
  'places.take.backup-to': 'Usar este lugar',
  'places.take.backup-folder': 'Usar esta carpeta',
  'places.take.restore-from': 'Usar esta copia',
  'places.take.export-to': 'Usar este lugar',
  'places.kind.book': 'Carpeta del libro',
  'places.kind.backups': 'Copias de seguridad',
  'places.kind.home': 'Carpeta personal',
  'places.kind.documents': 'Documentos',
  'places.kind.desktop': 'Escritorio',
  'places.kind.downloads': 'Descargas',
  'places.kind.computer': 'Este equipo',
  'places.nameMissing': 'Dé un nombre al archivo.',
  'places.nameIsPath': 'Un nombre no lleva / ni \\. Elija la carpeta arriba y el nombre aquí.',
  'places.chooseFor': (_words, given) => `Elegir… ${given.title}`,
  'places.in': (_words, given) => `En ${given.folder}`,
  'places.kindIn': (_words, given) => `${given.kind} en ${given.name}`,
  'places.none': (_words, given) => `Aquí no hay carpetas ni archivos .${given.ending}.`,
  'places.taken': (_words, given) => `${given.name} ya existe aquí. Dé otro nombre.`,
  'places.folders': (words, given) => words.plural(given.count, { one: '# carpeta', other: '# carpetas' }),
  'places.files': (words, given) =>
    words.plural(given.count, { one: `# archivo .${given.ending}`, other: `# archivos .${given.ending}` }),
  'places.more': (words, given) =>
    words.plural(given.count, {
      one: 'Hay # más que no se muestra: escriba su ruta.',
      other: 'Hay # más que no se muestran: escriba la ruta.',
    }),
};
