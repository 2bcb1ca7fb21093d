import type { Room } from '../room.ts';

export const places = {
  'places.choose': 'Choose…',
  'places.cancel': 'Cancel',
  'places.places': 'Places',
  'places.folder': 'Folder',
  'places.up': 'Up one folder',
  'places.go': 'Go',
  'places.fileName': 'File name',
  'places.looking': 'Looking…',
  'places.noFolder': 'No folder in here.',
  'places.title.backup-to': 'Back up to',
  'places.title.backup-folder': 'A second place for backups',
  'places.title.restore-from': 'Restore from',
  'places.title.export-to': 'Export to',
  'places.take.backup-to': 'Use this place',
  'places.take.backup-folder': 'Use this folder',
  'places.take.restore-from': 'Use this backup',
  'places.take.export-to': 'Use this place',
  'places.kind.book': 'The book’s folder',
  'places.kind.backups': 'Backups',
  'places.kind.home': 'Home',
  'places.kind.documents': 'Documents',
  'places.kind.desktop': 'Desktop',
  'places.kind.downloads': 'Downloads',
  'places.kind.computer': 'This computer',
  'places.nameMissing': 'Give the file a name.',
  'places.nameIsPath': 'A name holds no / and no \\. Choose the folder above, and the name here.',
  'places.chooseFor': (_words, given: { title: string }) => `Choose… ${given.title}`,
  'places.in': (_words, given: { folder: string }) => `In ${given.folder}`,
  'places.kindIn': (_words, given: { kind: string; name: string }) => `${given.kind} in ${given.name}`,
  'places.none': (_words, given: { ending: string }) => `No folder and no .${given.ending} file in here.`,
  'places.taken': (_words, given: { name: string }) => `${given.name} is here already. Give another name.`,
  'places.folders': (words, given: { count: number }) =>
    words.plural(given.count, { one: '# folder', other: '# folders' }),
  'places.files': (words, given: { count: number; ending: string }) =>
    words.plural(given.count, { one: `# .${given.ending} file`, other: `# .${given.ending} files` }),
  'places.more': (words, given: { count: number }) =>
    words.plural(given.count, {
      one: '# more is not listed: type its path.',
      other: '# more are not listed: type the path.',
    }),
} satisfies Room;
