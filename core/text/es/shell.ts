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
  'session.tabRefused': 'No se dejó entrar a esta pestaña. Cárguela otra vez para pedirlo de nuevo.',
  'session.otherTab':
    'Valvebook está abierto en otra pestaña de este navegador. Vaya a esa pestaña y elija «Dejarla entrar».',
  'session.tabAsks': 'Otra pestaña de este navegador pide ver el libro. Déjela entrar solo si usted la acaba de abrir.',
  'session.letIn': 'Dejarla entrar',
  'session.keepOut': 'No dejarla',
  'session.closedWhy':
    'Lo escrito en el campo y sin guardar queda en este dispositivo. Si no fue usted, pulse Entrar donde corre Valvebook y abra la dirección nueva.',
  'session.notYet': 'Todavía no se dejó entrar a esta ventana.',
  'session.noHost': 'Valvebook no responde en esta dirección. Revise que siga corriendo donde se inició.',
  'session.stranger':
    'Otro programa responde en esta dirección en lugar de Valvebook, así que no se le envió nada. Cierre esta ventana, termine ese programa, inicie Valvebook de nuevo y use su dirección nueva.',
  'session.workerFound':
    'Otro programa había dejado algo suyo en este navegador en esta dirección. Se quitó, y la clave no se usó. Pulse Entrar donde corre Valvebook para tener una dirección nueva, o inícielo de nuevo.',
  'session.noAnswer':
    'Valvebook no responde, así que no es seguro que el libro lo tenga. Revise que siga corriendo, y mire si el cambio está antes de hacerlo otra vez.',
  'session.cancelled': 'Cancelado. No se hizo nada más.',
  'session.notLetIn':
    'No se dejó entrar a este navegador. Pulse Entrar donde corre Valvebook para tener una dirección nueva, o inícielo de nuevo.',
  'session.used':
    'Esta dirección ya se usó, así que no abre nada. Por seguridad también se cerró la ventana que había abierto. Pulse Entrar donde corre Valvebook para tener una dirección nueva, o inícielo de nuevo.',
  'session.late':
    'Esta dirección tiene más de dos minutos, así que ya no abre nada. Pulse Entrar donde corre Valvebook para tener una dirección nueva, o inícielo de nuevo.',
  'session.replaced': 'Valvebook se abrió en otra ventana; esta se cerró por seguridad.',
  'session.usedTwice':
    'La dirección que abrió esta ventana se usó por segunda vez, así que la ventana se cerró por seguridad.',
  'shell.languageAndUnits': 'Idioma y unidades… (English)',
  'shell.asCompany': 'Como la empresa',
  'shell.language.en': 'English',
  'shell.language.es': 'Español',
  'shell.language': 'Idioma',
  'shell.units': 'Unidades',
};
