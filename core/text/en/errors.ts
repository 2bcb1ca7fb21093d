import type { EditedField } from '../../properties/contract.ts';
import { EDITED } from './edited.ts';
import type { Room } from '../room.ts';
import type { Measured, Words } from '../words.ts';

type VisitState = 'planned' | 'done' | 'cancelled';
type NotCsv = 'workbook' | 'old-workbook' | 'pdf' | 'database' | 'picture';
const NOT_CSV: Record<NotCsv, string> = {
  workbook: 'a spreadsheet workbook or a zip',
  'old-workbook': 'an old spreadsheet workbook',
  pdf: 'a PDF',
  database: 'a database',
  picture: 'a picture',
};

type LostName = 'file' | 'journal' | 'index of the journal';
type OutsideAct = 'call' | 'mail';
const OUTSIDE: Record<OutsideAct, string> = { call: 'calls a phone number', mail: 'writes mail' };
const lostPart = ({ part, lost }: { part: LostName; lost: string }) =>
  `The book's ${part} (${lost}) was deleted or exchanged by another program while Valvebook had the book open, so changes can no longer be saved there.`;
const by = (who: string | null) => (who === null ? '' : ` by ${who}`);
const typedDate = (words: Words, typed: string | null) => (typed === null ? 'leaving it empty' : words.date(typed));

export const errors = {
  'errors.diskRead':
    'The disk did not give back what is in the book. Nothing was changed; check the disk or the network drive, and try again.',
  'errors.diskFull':
    'The disk would not take the change (it may be full). Nothing was changed; free some space and try again.',
  'errors.readOnly':
    'The book or its folder is read-only, so nothing was changed. Move the book to a folder you may write in, or change its permissions.',
  'errors.closedToYou':
    'The book or its folder is read-only, or closed to you, so it could not be opened. Nothing was changed; ask its owner, or change its permissions.',
  'errors.busy':
    'Another program is writing to this book. Nothing was changed; close it there or try again in a moment.',
  'errors.damaged': 'The book file is damaged. Nothing was changed; restore a backup of it.',
  'errors.internal':
    'Valvebook could not do that because of a fault of its own. Nothing was changed; the cause is in the log.',
  'errors.openBookItself': 'This is the open book itself. Choose one of its backups.',
  'errors.stationNeeded': 'Choose the weather station these records belong to.',
  'errors.severalGhcnStations': 'This file holds several weather stations; import the file of one station.',
  'errors.cancelled': 'Cancelled. Nothing was changed.',
  'errors.cancelledBefore': 'Cancelled before it began. Nothing was changed.',
  'errors.changedMeanwhile': 'Another program changed this book meanwhile. Try again.',
  'errors.keepsChanging': 'Another program keeps changing this book. Try again in a moment.',
  'errors.bookClosed': 'The book has been closed.',
  'errors.readingOnly': 'This book was opened for reading only, so nothing can be changed.',
  'errors.writeIdUsed': 'This write id was already used for a different change. Make a new id for every change.',
  'errors.brokenOff':
    'The book was closed before this task had ended, so it was broken off. Open the book again and start it once more.',
  'errors.taskStopped': 'The task stopped before it was done. Nothing was changed.',
  'errors.partStopped': 'A part of the task stopped before it was done. Nothing was changed.',
  'errors.tooManyFiles': 'Too many files are open at once.',
  'errors.startUpWindow': 'The start-up window must end after it begins.',
  'errors.winterWindow': 'The winterization window must end after it begins.',
  'errors.spell': 'A forbidden spell must end at another time than it begins; to forbid whole days, use the day rule.',
  'errors.upperMinutes': 'The upper minutes must not be below the lower ones.',
  'errors.noVisit': 'This visit is not in the book.',
  'errors.noEntry': 'This ledger entry is not in the book.',
  'errors.entryIdTaken': 'The ledger holds an entry with this id already. Make a new id for every entry.',
  'errors.noProperty': 'This property is not in the book.',
  'errors.noClient': 'This client is not in the book.',
  'errors.noProgram': 'This program is not in the book.',
  'errors.noTechnician': 'This technician is not in the book.',
  'errors.zoneController': 'A zone must be on a controller of its own property.',
  'errors.sensorController': 'A sensor must be on a controller of its own property.',
  'errors.sensorElsewhere': 'This sensor belongs to another property.',
  'errors.zoneElsewhere': 'This zone belongs to another property.',
  'errors.controllerElsewhere': 'This controller belongs to another property.',
  'errors.partsId': "Every part saved with a property must carry that property's id.",
  'errors.ownZones': 'A program can only run zones of its own controller.',
  'errors.revisionIdTaken': 'There is a program revision with this id already. Make a new id for every revision.',
  'errors.visitIdTaken': 'There is a visit with this id already. Make a new id for every visit.',
  'errors.locked': 'This visit is locked in its day. Unlock it first.',
  'errors.lastBeforeFirst': 'The last date must not be before the first.',
  'errors.lostCount':
    'The book has lost count of its ledger: somebody changed its file past Valvebook. Check the book (Company, Book), and restore a backup.',
  'errors.nameTooLong': 'That file name is too long. Choose a shorter one.',
  'errors.pathTooLong': 'That path is too long for this machine. Choose a folder from the list.',
  'errors.takesPlace': (_words, given: { path: string }) =>
    `Another program has ${given.path} open, so nothing can take its place and nothing was changed. Close it there (or wait until a virus scanner or a sync program is done) and try again.`,
  'errors.backupNotOpened': (_words, given: { path: string }) =>
    `The backup ${given.path} could not be opened in the place of the book, so the book is as it was before. Try again, or choose another backup.`,
  'errors.existsAlready': (_words, given: { path: string }) =>
    `${given.path} exists already and is not written over. Choose another name, or move that file away first.`,
  'errors.noFolder': (_words, given: { folder: string }) =>
    `There is no folder ${given.folder}. Make it first, or choose another.`,
  'errors.fullOf': (_words, given: { path: string }) =>
    `The disk is full, so ${given.path} could not be written. Nothing was left behind; free some space and try again.`,
  'errors.quotaOf': (_words, given: { path: string }) =>
    `Your share of the disk is used up, so ${given.path} could not be written. Nothing was left behind; free some space and try again.`,
  'errors.tooBig': (_words, given: { path: string }) =>
    `${given.path} would be larger than its disk allows a file to be. Nothing was left behind; choose another disk.`,
  'errors.diskReadOnly': (_words, given: { folder: string }) =>
    `The disk of ${given.folder} is read-only, so that folder cannot be written to. Choose another.`,
  'errors.folderReadOnly': (_words, given: { folder: string }) =>
    `The folder ${given.folder} cannot be written to. Choose another folder, or change its permissions.`,
  'errors.cannotOpen': (_words, given: { path: string }) =>
    `${given.path} cannot be made or opened. Choose another name or folder, or look at what is there.`,
  'errors.folderGone': (_words, given: { folder: string }) =>
    `The folder ${given.folder} is not there any more. Make it again, or choose another.`,
  'errors.noPlaceForFiles': (_words, given: { folder: string }) =>
    `${given.folder} is not a folder that files can be put in. Choose another.`,
  'errors.isFolder': (_words, given: { path: string }) => `${given.path} is a folder. Give a file name as well.`,
  'errors.notTaken': (_words, given: { path: string }) =>
    `The disk would not take ${given.path}. Nothing was left behind; check the disk and try again.`,
  'errors.secondGone': (_words, given: { folder: string }) =>
    `The second place ${given.folder} is not there now. Connect the disk or share, or choose another place.`,
  'errors.noAnswerFrom': (_words, given: { place: string }) =>
    `${given.place} does not answer. Choose another place, or try again in a minute.`,
  'errors.notFullHere': (_words, given: { path: string }) =>
    `${given.path} is not a full path on this machine. Choose a folder from the list.`,
  'errors.noFolderThere': (_words, given: { folder: string }) =>
    `There is no folder ${given.folder}. Choose another, or make it first.`,
  'errors.mayNotLook': (_words, given: { folder: string }) =>
    `${given.folder} may not be looked into by this account. Choose another folder.`,
  'errors.linkToItself': (_words, given: { path: string }) =>
    `${given.path} is a link that leads to itself. Choose another folder.`,
  'errors.cannotLook': (_words, given: { folder: string; code: string }) =>
    `${given.folder} cannot be looked into (${given.code || 'no reason given'}). Choose another folder.`,
  'errors.newerBackup': (_words, given: { path: string; version: number; known: number }) =>
    `The backup ${given.path} was made by a newer Valvebook (version ${given.version} of its layout; this one knows ${given.known}). Nothing was changed. Install the newer Valvebook to restore it.`,
  'errors.newerBook': (_words, given: { path: string; version: number; known: number }) =>
    `The book ${given.path} was made by a newer Valvebook (version ${given.version} of its layout; this one knows ${given.known}). Nothing was changed. Install the newer Valvebook to open it.`,
  'errors.backupDamaged': (_words, given: { path: string; inner: string }) =>
    `The backup ${given.path} is damaged (${given.inner}) Nothing was changed. Choose another backup.`,
  'errors.secondIsFirst': (_words, given: { folder: string }) =>
    `The second place, ${given.folder}, is the folder in which the backups are already. Choose one on another disk or a share (Company, Book).`,
  'errors.copiedOtherwise': (_words, given: { path: string }) =>
    `The copy at ${given.path} did not come out as the file it was made from, so it was not kept. The disk or the share may be failing: choose another.`,
  'errors.olderBook': (_words, given: { path: string }) =>
    `The book ${given.path} is from an older Valvebook. Open it once for writing (start the app with it) to bring it up to date; it is backed up first.`,
  'errors.notReadNow': 'The book could not be read just now. Try again.',
  'errors.backupEmpty': (_words, given: { path: string }) =>
    `The backup ${given.path} holds no book yet. Choose another backup. Nothing was changed.`,
  'errors.backupNoLayout': (_words, given: { path: string; version: number }) =>
    `The backup ${given.path} says it has layout ${given.version}, which there never was. Choose another backup. Nothing was changed.`,
  'errors.copyNotSound': (_words, given: { inner: string }) =>
    `The copy did not pass its check, so no backup was kept: ${given.inner} Run the check of the book itself.`,
  'errors.notCsv': (_words, given: { what: NotCsv }) =>
    `This file is ${NOT_CSV[given.what]}, not a CSV. Open it in its own program, save the list as CSV, and choose that file.`,
  'errors.tooManyCells': (words, given: { most: number }) =>
    `The list holds more than ${words.count(given.most)} cells. Save only the columns that are needed, or split it into several files.`,
  'errors.tooManyLines': (words, given: { most: number }) =>
    `The list has more than ${words.count(given.most)} lines. Split it into several files, each with the header, and import one after the other.`,
  'errors.longLine': (words, given: { line: number; characters: number; most: number }) =>
    `Line ${words.count(given.line)} of the file is ${words.count(given.characters)} characters long; a line of a list has at most ${words.count(given.most)}. Its line breaks may have been lost: open it where it was made, save it as CSV with one row a line, and choose that file.`,
  'errors.wideLine': (words, given: { line: number; columns: number; most: number }) =>
    `Line ${words.count(given.line)} of the file has ${words.count(given.columns)} columns; a list has at most ${words.count(given.most)}. Save only the columns that are needed as CSV (clients or zones go down, one a row), or choose another delimiter.`,
  'errors.noColumn': (_words, given: { column: number; count: number }) =>
    `The file has no column ${given.column}; it has ${given.count}.`,
  'errors.noFolderFor': (_words, given: { folder: string }) =>
    `The folder ${given.folder} cannot be made, so there is no place for the book. Check its drive or share, and that no file has that name.`,
  'errors.sameRestriction': (_words, given: { first: number; second: number }) =>
    `Restrictions ${given.first} and ${given.second} have the same id. Leave one of them out, or give it an id of its own.`,
  'errors.sameThumbId': (_words, given: { first: number; second: number }) =>
    `Rules of thumb ${given.first} and ${given.second} have the same id. Leave one of them out, or give it an id of its own.`,
  'errors.sameThumb': (_words, given: { first: number; second: number }) =>
    `Rules of thumb ${given.first} and ${given.second} are for the same device, plants and place, so only one of them would ever count. Change or remove one.`,
  'errors.currentStage': (words, given: { stages: number }) =>
    `The current stage must be ${words.plural(given.stages, { one: 'the one stage', other: 'one of the # stages' })} listed.`,
  'errors.meanMinimum': (words, given: { lowest: Measured; highest: Measured }) =>
    `The mean minimum (${words.measure(given.lowest)}) must not be above the mean maximum (${words.measure(given.highest)}).`,
  'errors.notReopened': (_words, given: { book: string }) =>
    `The book ${given.book} could not be opened again. Start Valvebook anew; if it still cannot be opened, restore a backup.`,
  'errors.openHere': (_words, given: { path: string }) =>
    `${given.path} is a book that is open here, so its file is left alone. Choose another file, or close the book first.`,
  'errors.noBookAt': (_words, given: { path: string }) => `There is no book at ${given.path}.`,
  'errors.justCopied': (_words, given: { path: string }) =>
    `The file ${given.path} is just being copied. Try again in a moment.`,
  'errors.besideName': (_words, given: { name: string; end: string }) =>
    `“${given.name}” is a name of the files beside a book: what ends in ${given.end} is taken for part of the book before it. Choose another name.`,
  'errors.journalAlone': (_words, given: { path: string; journal: string }) =>
    `There is no book at ${given.path}, but the journal of one (${given.journal}) with changes in it. Put the book back beside its journal, restore a backup under another name, or move the journal away to start a new book.`,
  'errors.justPut': (_words, given: { path: string }) =>
    `Somebody else has just put a file at ${given.path}. It was left as it is; open it, or choose another name.`,
  'errors.stationMissing': (words, given: { controller: string; stations: number; station: number }) =>
    `${given.controller} has ${words.plural(given.stations, { one: '# station', other: '# stations' })}; station ${given.station} does not exist.`,
  'errors.stationTwice': (_words, given: { station: number }) =>
    `Two zones are on station ${given.station} of one controller. Give one another station, or retire it.`,
  'errors.notInBook': (_words, given: { what: string }) => `This ${given.what} is not in the book.`,
  'errors.notThereToChange': (_words, given: { what: string }) =>
    `This ${given.what} is not in the book, so it cannot be changed.`,
  'errors.sendVersion': (_words, given: { what: string }) =>
    `This ${given.what} is in the book already. Send the version you read to change it.`,
  'errors.savedMeanwhile': (_words, given: { what: string }) =>
    `Somebody saved this ${given.what} after you opened it. Open it again, then make your change.`,
  'errors.olderBattery': (words, given: { date: string; who: string | null; typed: string | null }) =>
    `The ledger holds a newer battery, swapped on ${words.date(given.date)}${by(given.who)}, so ${typedDate(words, given.typed)} would not count. Leave ${words.date(given.date)} here, or correct that entry in the property's ledger if it is wrong.`,
  'errors.olderTest': (words, given: { date: string; who: string | null; due: string; typed: string | null }) =>
    `The ledger holds a backflow test passed on ${words.date(given.date)}${by(given.who)}, by which the next is due on ${words.date(given.due)}, so ${typedDate(words, given.typed)} would not count. Leave ${words.date(given.due)} or a later day here, or correct that entry in the property's ledger if it is wrong.`,
  'errors.failedTest': (words, given: { date: string; who: string | null; due: string }) =>
    `The ledger holds a backflow test failed on ${words.date(given.date)}${by(given.who)}, so the next is due at once and no other day would count. Leave ${words.date(given.due)} here until a test passes, or correct that entry in the property's ledger if it is wrong.`,
  'errors.changedField': (_words, given: { field: EditedField }) =>
    `Somebody else changed ${EDITED[given.field] ?? given.field} after you opened this. Nothing of yours was saved: look at what it says now, then make your change again if it still holds.`,
  'errors.programChanged': (
    words,
    given: { name: string; who: string | null; date: string; revisionId: string; inner: string },
  ) =>
    `Program ${given.name} is not set as you opened it any more. ${given.who ?? 'The office'}, from ${words.date(given.date)} on: ${given.inner}. Nothing of yours was saved; look at this first.`,
  'errors.programVoided': (_words, given: { name: string; revisionId: string; inner: string }) =>
    `The settings of program ${given.name} that you opened no longer count: their ledger entry was corrected or declared void. What is set now, beside them: ${given.inner}. Nothing of yours was saved; look at this first.`,
  'errors.programGone': (_words, given: { name: string }) =>
    `The settings of program ${given.name} that you opened no longer count, and no others stand: their ledger entry was declared void. Nothing of yours was saved.`,
  'errors.noSuchRevision': 'The revision you began from is not one of this program.',
  'errors.retiredZone': (_words, given: { zone: string }) => `${given.zone} is retired and cannot run.`,
  'errors.linkToNothing': (_words, given: { path: string; to: string }) =>
    `${given.path} is a link to ${given.to}, and there is no file. Put it back, or choose another book.`,
  'errors.bookLinkToItself': (_words, given: { path: string }) =>
    `${given.path} is a link that leads to itself. Choose another book.`,
  'errors.notAFile': (_words, given: { path: string }) => `${given.path} is not a file, so it cannot be a book.`,
  'errors.emptyFile': (_words, given: { path: string }) =>
    `${given.path} is an empty file: there is no book in it. Choose another file.`,
  'errors.notABook': (_words, given: { path: string }) =>
    `${given.path} is not a Valvebook book (it is not an SQLite file, or it was cut short). Nothing was changed. Choose another file, or restore a backup.`,
  'errors.otherSqlite': (_words, given: { path: string }) =>
    `${given.path} is an SQLite file, but not a Valvebook book. Nothing was changed. Choose another file.`,
  'errors.cutShort': (_words, given: { path: string; wantedBytes: number; bytes: number }) =>
    `${given.path} has been cut short: it should hold ${given.wantedBytes} bytes and holds ${given.bytes}. Nothing was changed. Restore a backup.`,
  'errors.mayNotRead': (_words, given: { path: string }) =>
    `You may not read ${given.path}. Ask its owner, or choose another file.`,
  'errors.exchanged': (_words, given: { path: string }) =>
    `${given.path} was exchanged just now. Nothing was changed; try again.`,
  'errors.noFileAt': (_words, given: { path: string }) => `There is no file at ${given.path}.`,
  'errors.bookDamaged': (_words, given: { path: string }) =>
    `The book ${given.path} is damaged and cannot be read. Nothing was changed. Restore a backup.`,
  'errors.openElsewhere': (_words, given: { path: string; oneName: boolean }) =>
    `The book ${given.path} is already open in another Valvebook or another program${given.oneName ? '' : ', perhaps under another name'}. Use that window, or close it first.`,
  'errors.openInOther': (_words, given: { path: string }) =>
    `The book ${given.path} is already open in another Valvebook. Use that window, or close it first.`,
  'errors.folderForLooking': (_words, given: { folder: string }) =>
    `The folder ${given.folder} is read-only for you, so a book in it can be looked at but not changed. Nothing was changed. Move the book to a folder you may write in, or change the folder's permissions.`,
  'errors.needsDrive': (_words, given: { path: string }) =>
    `${given.path} does not say on which drive. Give the full path, with its drive (C:\\…) or its share (\\\\server\\share\\…).`,
  'errors.needsSlash': (_words, given: { path: string }) =>
    `${given.path} is not a full path on this system. Give one that begins with /.`,
  'errors.tooDeep': (_words, given: { folder: string }) =>
    `${given.folder} is too deep for a book: with its folders the name is too long. Choose a folder nearer to the root of the disk.`,
  'errors.longName': (_words, given: { name: string }) =>
    `The file name “${given.name}…” is too long. Choose a shorter one.`,
  'errors.isDevice': (_words, given: { place: string }) =>
    `${given.place} is a device of this computer and not a file. Choose a file in a folder.`,
  'errors.deviceName': (_words, given: { device: string; name: string }) =>
    `Windows keeps the name ${given.device} for a device, so no file or folder can be called “${given.name}”. Choose another name.`,
  'errors.dropsEnd': (_words, given: { name: string }) =>
    `Windows drops a dot or a blank at the end of a name, so “${given.name}” would be another file than it says. Choose a name that ends with a letter or a digit.`,
  'errors.controlCharacter': (_words, given: { name: string }) =>
    `“${given.name}” holds a control character, which Windows does not allow in a name. Choose another name.`,
  'errors.badCharacter': (_words, given: { character: string; name: string }) =>
    `Windows does not allow the character ${given.character} in a name, and “${given.name}” holds it. Choose a name without it.`,
  'errors.visitNotMoved': (_words, given: { state: VisitState }) =>
    `This visit is ${given.state}, so it cannot be moved.`,
  'errors.nothingToBringBack': (_words, given: { state: VisitState }) =>
    `This visit is ${given.state}, so there is nothing to bring back.`,
  'errors.visitNotCancelled': (_words, given: { state: VisitState }) =>
    `This visit is ${given.state} already, so it cannot be cancelled.`,
  'errors.visitWindow': (_words, given: { from: string; to: string }) =>
    `The window must end after it begins: ${given.from} to ${given.to} does not.`,
  'errors.noProgramYet': 'This program is not in the book. To make a new one, say on which controller.',
  'errors.programElsewhere': 'This program is not at this property.',
  'errors.controllerNotHere': 'This controller is not at this property.',
  'errors.upgradeStopped':
    'Bringing the book up to date was stopped. Nothing in it is lost: it goes on when the book is opened the next time.',
  'errors.opensAnother': 'Another book is being opened. Nothing was changed; try again in a moment.',
  'errors.presentDamaged': (_words, given: { inner: string }) =>
    `The copy of the present book came out damaged (${given.inner}), so nothing was exchanged. Look after the disk, then restore again.`,
  'errors.upgradeCopyDamaged': (_words, given: { path: string; inner: string }) =>
    `The copy of ${given.path} that is made before it is brought up to date came out damaged (${given.inner}), so the book was left as it is. Look after the disk, then open the book again.`,
  'errors.notClosed': (_words, given: { path: string }) =>
    `The book ${given.path} was not closed in order, and its last changes lie beside it in ${given.path}-wal. To read them Valvebook has to write into that folder, which is read-only for you. Copy both files to a folder of your own and open the book there, or ask for the right to write.`,
  'errors.rescueUnsound': (_words, given: { inner: string }) => `The copy did not pass its check: ${given.inner}`,
  'errors.rescued': (_words, given: { part: LostName; lost: string; path: string }) =>
    `${lostPart(given)} Everything up to now is saved in ${given.path}. Close Valvebook, open that book, and look whether your last change is in it.`,
  'errors.taskRuns': (_words, given: { open: string; asked: string }) =>
    `A long task (a check, an import, an export or a backup) is still running in ${given.open}. Wait for it or cancel it, then open ${given.asked} again.`,
  'errors.noFolderForBook': (_words, given: { folder: string }) =>
    `The folder ${given.folder} cannot be made, so there is no place for the book. Choose a folder you may write in.`,
  'errors.notRescued': (_words, given: { part: LostName; lost: string; path: string; inner: string }) =>
    `${lostPart(given)} What it holds could not be saved to ${given.path} either: ${given.inner} Keep Valvebook open, make room or permit writing there, and try again: each try saves it anew.`,
  'errors.theBookIs': (_words, given: { path: string; inner: string }) => `${given.inner} The book is ${given.path}.`,
  'errors.noProgramFor': (_words, given: { does: OutsideAct }) =>
    `This machine has no program that ${OUTSIDE[given.does]}. Choose one in its settings, or copy it from the screen.`,
  'errors.asSaid': (_words, given: { said: string }) => `${given.said}`,
} satisfies Room;
