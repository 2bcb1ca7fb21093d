import type { terminal as english } from '../en/terminal.ts';
import type { SameAs } from '../room.ts';

const PORT_TROUBLE = { taken: 'lo usa otro programa', 'not-allowed': 'esta cuenta no lo puede usar' };

export const terminal: SameAs<typeof english> = {
  'terminal.help': `Valvebook desde la línea de comandos

  valvebook requests [NAME]          todas las peticiones (o una) con su clase, lo que hace y el esquema JSON de su entrada
  valvebook call NAME INPUT          ejecuta una petición; INPUT es JSON, o - para leerlo de la entrada estándar, o nada por {}
      --book FILE                    el libro (si no, VALVEBOOK_BOOK; si no, ~/Valvebook/company.valvebook)
      --file FIELD=PATH              pone los bytes de un archivo, en base64, en un campo de la entrada (se puede repetir)
  valvebook demo --book FILE         hace una empresa de muestra, igual con la misma semilla; nunca reemplaza un archivo
      --properties N  --seed K  --today YYYY-MM-DD
  valvebook help
      --language en|es               con cualquiera de estos: el idioma de lo que se dice (si no, el de este equipo)

El resultado se escribe en JSON. Un fallo se escribe en JSON en la salida de errores, con código de salida 1; una orden que
no se entiende termina con código de salida 2. Ctrl-C cancela una petición larga. Lo que escribe hace el libro donde no lo hay.
`,
  'terminal.sayWhat': 'Diga qué hacer.',
  'terminal.noCommand': (_words, given) => `No hay ninguna orden «${given.command}».`,
  'terminal.requestsTakesOne': '«requests» lleva un nombre como máximo.',
  'terminal.callTakesTwo': '«call» lleva el nombre de una petición y su entrada.',
  'terminal.demoNeedsBook': '«demo» necesita --book FILE.',
  'terminal.fileHow': '--file se escribe FIELD=PATH.',
  'terminal.todayHow': '--today es una fecha escrita YYYY-MM-DD (año-mes-día).',
  'terminal.languageHow': '--language es en (inglés) o es (español).',
  'terminal.wholeNumber': (_words, given) => `--${given.option} es un número entero de ${given.least} a ${given.most}.`,
  'terminal.noOption': (_words, given) => `No hay ninguna opción «${given.option}».`,
  'terminal.optionHow': (_words, given) =>
    `«${given.option}» no está escrita como debe: una opción lleva un valor o no lleva ninguno, como dice la lista de abajo.`,
  'terminal.noMoreWords': (_words, given) => `«${given.option}» es una palabra de más aquí.`,
  'terminal.notUnderstood': 'Esta línea de comandos no se entiende.',
  'terminal.noBook': (_words, given) =>
    `No hay ningún libro en ${given.path}. Nombre uno con --book FILE, o haga uno: inicie la aplicación, o ejecute valvebook demo --book FILE.`,
  'terminal.notJson': (_words, given) =>
    `La entrada no es JSON (${given.why}). Póngala entre comillas para su terminal, o envíela por la entrada estándar con -.`,
  'terminal.fileNeedsObject': 'Un archivo solo se puede poner en una entrada que sea un objeto JSON.',
  'terminal.fileUnread': (_words, given) =>
    `No se puede leer el archivo ${given.file}. Revise su nombre y que usted lo pueda leer.`,
  'terminal.noRequest': (_words, given) =>
    `No hay ninguna petición llamada «${given.name}». Vea la lista con: valvebook requests`,
  'terminal.portRefused': (_words, given) =>
    `No se puede usar el puerto ${given.port} de este equipo: ${given.trouble === 'other' ? given.code : PORT_TROUBLE[given.trouble]}. Elija otro con --port, o no ponga ninguno.`,
  'terminal.demoInTheWay': (_words, given) =>
    `Ya hay un archivo en ${given.path}, y una muestra nunca reemplaza uno. Elija otra ruta, o borre antes ese archivo.`,
  'terminal.demoNumber': (_words, given) =>
    `${given.option} es ${given.value}, pero debe ser un número entero de ${given.least} a ${given.most}.`,
  'terminal.demoToday': (_words, given) =>
    `today es «${given.value}», pero debe ser una fecha real del calendario escrita YYYY-MM-DD (año-mes-día).`,
  'terminal.startHelp': `npm start -- [--demo] [--book FILE] [--port N] [--no-open]

  --demo        abre la empresa de muestra inventada; la hace la primera vez
  --book FILE   el libro que se abre (si no, VALVEBOOK_BOOK; si no, ~/Valvebook/company.valvebook); se hace si no lo hay
  --port N      el puerto de la dirección en un navegador (si no, el propio del libro, o cualquiera libre)
  --no-open     escribe la dirección y no abre ningún navegador
  --browser     usa el navegador aunque esté Electron
  --language L  lo que se dice aquí en en (inglés) o es (español); si no, en el idioma de este equipo
`,
  'terminal.makingDemo': 'Haciendo la empresa de muestra …',
  'terminal.browserAsked': 'Valvebook corre en su navegador, como se pidió.',
  'terminal.noElectron': 'Electron no está en este equipo, así que Valvebook corre en su navegador.',
  'terminal.noDisplay': 'Aquí no hay pantalla para Electron, así que Valvebook corre en un navegador.',
  'terminal.book': (_words, given) => `Libro: ${given.path}`,
  'terminal.address': (_words, given) =>
    `Abra esta dirección en un navegador de este equipo (sirve una vez, dentro de dos minutos): ${given.address}`,
  'terminal.enterOrStop': 'Pulse Entrar para una dirección nueva, Ctrl-C para terminar.',
  'terminal.stop': 'Ctrl-C lo termina.',
  'terminal.enterForNew': 'Pulse Entrar para una dirección nueva.',
  'terminal.startForNew': 'Para una dirección nueva, inícielo de nuevo.',
  'terminal.portOfBookTaken': (_words, given) =>
    `Otro programa usa el puerto ${given.port}, donde suele estar este libro. Lo que un navegador guarda de él sin guardar en el libro vuelve a verse cuando Valvebook recupera ese puerto.`,
  'terminal.noDraftKey': (_words, given) =>
    `No se puede escribir en la carpeta ${given.folder}, así que lo escrito en el navegador y sin guardar dura solo hasta que Valvebook se cierra.`,
};
