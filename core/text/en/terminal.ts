import type { Room } from '../room.ts';

// What the command line, the start and the loopback host say in a terminal. Names of commands and options are the same in every language.

type PortTrouble = { port: number; trouble: 'taken' | 'not-allowed' | 'other'; code: string };
const PORT_TROUBLE = { taken: 'another program uses it', 'not-allowed': 'this account may not use it' };

export const terminal = {
  'terminal.help': `Valvebook from the command line

  valvebook requests [NAME]          every request (or one) with its kind, what it does and the JSON schema of its input
  valvebook call NAME INPUT          runs a request; INPUT is JSON, or - to read it from standard input, or left out for {}
      --book FILE                    the book (else VALVEBOOK_BOOK, else ~/Valvebook/company.valvebook)
      --file FIELD=PATH              puts a file's bytes, as base64, into a field of the input (may be given again)
  valvebook demo --book FILE         makes a demo company, the same for the same seed; never replaces a file
      --properties N  --seed K  --today YYYY-MM-DD
  valvebook help
      --language en|es               with any of these: the language of what is said (else this machine's)

The result is printed as JSON. A failure is printed as JSON on standard error with exit code 1; a command that is
not understood ends with exit code 2. Ctrl-C cancels a long request. A write makes the book where there is none yet.
`,
  'terminal.sayWhat': 'Say what to do.',
  'terminal.noCommand': (_words, given: { command: string }) => `There is no command “${given.command}”.`,
  'terminal.requestsTakesOne': '“requests” takes one name at most.',
  'terminal.callTakesTwo': "“call” takes a request's name and its input.",
  'terminal.demoNeedsBook': '“demo” needs --book FILE.',
  'terminal.fileHow': '--file is written FIELD=PATH.',
  'terminal.todayHow': '--today is a date written YYYY-MM-DD.',
  'terminal.languageHow': '--language is en or es.',
  'terminal.wholeNumber': (_words, given: { option: string; least: number; most: number }) =>
    `--${given.option} is a whole number from ${given.least} to ${given.most}.`,
  'terminal.noOption': (_words, given: { option: string }) => `There is no option “${given.option}”.`,
  'terminal.optionHow': (_words, given: { option: string }) =>
    `“${given.option}” is not written as it has to be: an option either takes a value or takes none, as the list below says.`,
  'terminal.noMoreWords': (_words, given: { option: string }) => `“${given.option}” is one word too many here.`,
  'terminal.notUnderstood': 'This command line is not understood.',
  'terminal.noBook': (_words, given: { path: string }) =>
    `There is no book at ${given.path}. Name one with --book FILE, or make one: start the app, or run valvebook demo --book FILE.`,
  'terminal.notJson': (_words, given: { why: string }) =>
    `The input is not JSON (${given.why}). Quote it for your shell, or send it through standard input with -.`,
  'terminal.fileNeedsObject': 'A file can only be put into an input that is a JSON object.',
  'terminal.fileUnread': (_words, given: { file: string }) =>
    `The file ${given.file} cannot be read. Check its name and that you may read it.`,
  'terminal.noRequest': (_words, given: { name: string }) =>
    `There is no request named “${given.name}”. List them with: valvebook requests`,
  'terminal.portRefused': (_words, given: PortTrouble) =>
    `Port ${given.port} on this machine cannot be used: ${given.trouble === 'other' ? given.code : PORT_TROUBLE[given.trouble]}. Choose another with --port, or leave it out.`,
  'terminal.demoInTheWay': (_words, given: { path: string }) =>
    `There is already a file at ${given.path}, and a demo never replaces one. Choose another path, or delete that file first.`,
  'terminal.demoNumber': (_words, given: { option: string; value: number; least: number; most: number }) =>
    `${given.option} is ${given.value}, but must be a whole number from ${given.least} to ${given.most}.`,
  'terminal.demoToday': (_words, given: { value: string }) =>
    `today is “${given.value}”, but must be a real calendar date written YYYY-MM-DD.`,
  'terminal.startHelp': `npm start -- [--demo] [--book FILE] [--port N] [--no-open]

  --demo        opens the invented demo company; makes it the first time
  --book FILE   the book to open (else VALVEBOOK_BOOK, else ~/Valvebook/company.valvebook); made where there is none
  --port N      the port of the address in a browser (else the book's own, or any free one)
  --no-open     prints the address and opens no browser
  --browser     uses the browser even where Electron is there
  --language L  what is said here in en (English) or es (Spanish), else in this machine's language
`,
  'terminal.makingDemo': 'Making the demo company …',
  'terminal.browserAsked': 'Valvebook runs in your browser, as asked.',
  'terminal.noElectron': 'Electron is not on this machine, so Valvebook runs in your browser.',
  'terminal.noDisplay': 'There is no display here for Electron, so Valvebook runs in a browser.',
  'terminal.book': (_words, given: { path: string }) => `Book: ${given.path}`,
  'terminal.address': (_words, given: { address: string }) =>
    `Open this address in a browser on this machine (it works once, within two minutes): ${given.address}`,
  'terminal.enterOrStop': 'Press Enter for a new address, Ctrl-C to stop.',
  'terminal.stop': 'Ctrl-C stops it.',
  'terminal.enterForNew': 'Press Enter for a new address.',
  'terminal.startForNew': 'For a new address, start it again.',
  'terminal.portOfBookTaken': (_words, given: { port: number }) =>
    `Another program uses port ${given.port}, where this book is usually found. Work a browser keeps for it unsaved shows again when Valvebook gets that port back.`,
  'terminal.noDraftKey': (_words, given: { folder: string }) =>
    `The folder ${given.folder} cannot be written, so work typed in the browser but not saved lasts only until Valvebook is closed.`,
} satisfies Room;
