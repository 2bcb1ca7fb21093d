import type { shell as english } from '../en/shell.ts';
import type { SameAs } from '../room.ts';

export const shell: SameAs<typeof english> = {
  'shell.office': 'Oficina',
  'shell.field': 'Campo',
  'shell.review': 'Revisión',
  'shell.company': 'Empresa',
  'shell.skip': 'Ir a la página',
  'shell.opening': 'Abriendo…',
  'shell.clients': 'Clientes',
  'shell.today': 'Hoy',
  'shell.calendar': 'Calendario',
  'shell.import': 'Importar',
  'shell.seasonAndWork': 'Temporada y trabajo',
  'shell.programs': 'Programas',
  'shell.desks': 'Mesas',
  'shell.pagesOfDesk': 'Páginas de esta mesa',
  'shell.theOffice': 'la oficina',
  'shell.themeAuto': 'Como este equipo',
  'shell.themeLight': 'Claro',
  'shell.themeDark': 'Oscuro',
  'shell.stopped': 'Esta pantalla se detuvo por un fallo propio de Valvebook. Nada cambió en el libro.',
  'shell.openAgain': 'Abrirla de nuevo',
  'shell.brand': (_words, given) => `Valvebook, ${given.company}`,
  'shell.title': (_words, given) => `${given.page} · Valvebook`,
  'shell.themeNow': (_words, given) => `Claro u oscuro, ahora: ${given.theme}`,
};
