import './path-dialog.css';
import { useEffect, useState } from 'react';
import type { KeyboardEvent, MouseEvent } from 'react';
import { ListBox, ListBoxItem } from 'react-aria-components';
import {
  faultOfName,
  PATH_CHOICES,
  suggestedName,
  withEnding,
  type PathChoice,
  type PathChoiceName,
} from '../../core/contract/places.ts';
import { say, sayError } from '../state/say.ts';
import { useRequest } from '../state/use-request.ts';
import { Button } from './button.tsx';
import { TextField } from './fields.tsx';
import { formatBytes, formatMoment } from './format.ts';
import { FileIcon, FolderIcon, UpIcon } from './icons.tsx';
import { Dialog } from './overlays.tsx';
import { usePlaceList, type Listing, type PlaceEntry } from './use-place-list.ts';

/** Choosing a file or a folder of this machine where the system's own dialog is out of reach: in a browser. */
export function PathDialog({
  choice: choiceName,
  from,
  onClose,
  onTake,
}: {
  choice: PathChoiceName;
  from: string;
  onClose: () => void;
  onTake: (path: string) => void;
}) {
  const choice: PathChoice = PATH_CHOICES[choiceName];
  const { listing, error, loading, go } = usePlaceList(choice, from);
  const book = useRequest('book.info', {}).data;
  const [typed, setTyped] = useState(from);
  const [chosen, setChosen] = useState<string | null>(null);
  const [name, setName] = useState<string | null>(() => (choice.want === 'save' ? nameOf(from) : null));
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    if (listing === null) return;
    // A file's path that was typed leads to its folder, with the file chosen.
    setChosen((before) => [before, typed.trim()].find((path) => isFileIn(listing, path)) ?? null);
    setTyped(listing.path);
    // oxlint-disable-next-line react-hooks/exhaustive-deps
  }, [listing]);

  const fileName = name ?? (book === undefined ? '' : suggestedName(choice, book.path, book.today));
  const take = () => {
    if (listing === null) return;
    if (choice.want === 'folder') return onTake(listing.path);
    if (choice.want === 'open') return chosen === null ? undefined : onTake(chosen);
    const file = withEnding(fileName, choice.extension);
    const wrong = faultIn(fileName) ?? (isTaken(listing, file) ? say('places.taken', { name: file }) : null);
    setFault(wrong);
    if (wrong === null) onTake(joined(listing, file));
  };
  const pick = (entry: PlaceEntry) => {
    if (entry.kind === 'folder') return go(entry.path);
    setChosen(entry.path);
    if (choice.want !== 'save') return;
    setName(entry.name);
    setFault(say('places.taken', { name: entry.name }));
  };
  const onKeys = (event: KeyboardEvent) => {
    if (event.key === 'Backspace' && listing?.parent != null) go(listing.parent);
    else if (event.key === 'Enter' && choice.want === 'open' && isOn(document.activeElement, chosen)) take();
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <Dialog
      title={say(`places.title.${choiceName}`)}
      isOpen
      onClose={onClose}
      size="wide"
      footer={
        <>
          <Button className="places-act" onPress={onClose}>
            {say('places.cancel')}
          </Button>
          <Button
            look="primary"
            className="places-act"
            isDisabled={listing === null || (choice.want === 'open' && chosen === null)}
            onPress={take}
          >
            {say(`places.take.${choiceName}`)}
          </Button>
        </>
      }
    >
      <div className="places-frame">
        <nav className="places" aria-label={say('places.places')}>
          <ul>
            {listing?.places.map((place) => (
              <li key={place.path}>
                <Button
                  look="quiet"
                  aria-current={place.path === listing.path ? 'location' : undefined}
                  onPress={() => go(place.path)}
                >
                  {placeName(place)}
                </Button>
              </li>
            ))}
          </ul>
        </nav>
        <div className="places-here">
          <form
            className="places-path"
            onSubmit={(event) => {
              event.preventDefault();
              if (typed.trim() !== '') go(typed.trim());
            }}
          >
            <Button
              className="icon-button"
              aria-label={say('places.up')}
              isDisabled={listing?.parent == null}
              onPress={() => {
                if (listing?.parent != null) go(listing.parent);
              }}
            >
              <UpIcon />
            </Button>
            <TextField
              label={say('places.folder')}
              hideLabel
              value={typed}
              onChange={setTyped}
              maxLength={4000}
              error={error === null ? null : sayError(error)}
            />
            <Button type="submit">{say('places.go')}</Button>
          </form>
          {/* oxlint-disable-next-line jsx-a11y/no-static-element-interactions -- keys and double clicks of the list inside it */}
          <div
            className="places-list"
            aria-busy={loading}
            onKeyDownCapture={onKeys}
            onDoubleClick={(event: MouseEvent) => {
              if (choice.want === 'open' && isOn(event.target, chosen)) take();
            }}
          >
            {listing === null ? null : (
              <ListBox
                // A new list for each folder: it begins at its top, with the focus in it.
                key={listing.path}
                // oxlint-disable-next-line jsx-a11y/no-autofocus
                autoFocus="first"
                aria-label={say('places.in', { folder: listing.path })}
                className="places-entries"
                items={listing.entries.map((entry) => ({ ...entry, id: entry.path }))}
                selectionMode="single"
                disallowEmptySelection
                selectedKeys={chosen === null ? [] : [chosen]}
                onSelectionChange={(keys) => {
                  const [key] = keys === 'all' ? [] : keys;
                  const entry = listing.entries.find(({ path }) => path === key);
                  if (entry !== undefined) pick(entry);
                }}
                renderEmptyState={() => <p className="quiet places-none">{noneOf(choice)}</p>}
              >
                {(entry) => (
                  <ListBoxItem id={entry.id} textValue={entry.name} className="place-entry">
                    {entry.kind === 'folder' ? <FolderIcon /> : <FileIcon />}
                    <span className="place-name">{entry.name}</span>
                    <span className="place-facts">
                      <span>{entry.bytes === null ? '' : formatBytes(entry.bytes)}</span>
                      <span>{formatMoment(entry.modifiedAt)}</span>
                    </span>
                  </ListBoxItem>
                )}
              </ListBox>
            )}
          </div>
          <p className="small quiet" role="status">
            {listing === null ? say('places.looking') : countOf(listing, choice)}
          </p>
          {choice.want === 'save' ? (
            <TextField
              label={say('places.fileName')}
              value={fileName}
              maxLength={200}
              onChange={(text) => {
                setName(text);
                setFault(null);
              }}
              error={fault}
            />
          ) : null}
        </div>
      </div>
    </Dialog>
  );
}

function nameOf(path: string): string | null {
  return path.trim().split(/[\\/]/).at(-1) || null;
}

function joined(listing: Listing, name: string): string {
  return listing.path.endsWith(listing.separator)
    ? `${listing.path}${name}`
    : `${listing.path}${listing.separator}${name}`;
}

const isFileIn = (listing: Listing, path: string | null) =>
  listing.entries.some((entry) => entry.kind === 'file' && entry.path === path);

/** Many systems hold two spellings of one name for the same file. */
function isTaken(listing: Listing, name: string): boolean {
  return listing.entries.some((entry) => entry.name.toLowerCase() === name.toLowerCase());
}

function isOn(target: EventTarget | null, path: string | null): boolean {
  return (
    path !== null && target instanceof Element && target.closest<HTMLElement>('[data-key]')?.dataset['key'] === path
  );
}

const noneOf = (choice: PathChoice) =>
  choice.want === 'folder' ? say('places.noFolder') : say('places.none', { ending: choice.extension });

function faultIn(name: string): string | null {
  const fault = faultOfName(name);
  if (fault === null) return null;
  return fault === 'missing' ? say('places.nameMissing') : say('places.nameIsPath');
}

function placeName({ kind, name }: Listing['places'][number]): string {
  if (kind === 'drive') return name;
  const said = say(`places.kind.${kind}`);
  return name === '' ? said : say('places.kindIn', { kind: said, name });
}

function countOf(listing: Listing, choice: PathChoice): string {
  const folders = listing.entries.filter(({ kind }) => kind === 'folder').length;
  const files = listing.entries.length - folders;
  return [
    say('places.folders', { count: folders }),
    ...(choice.want === 'folder' ? [] : [say('places.files', { count: files, ending: choice.extension })]),
    ...(listing.more === 0 ? [] : [say('places.more', { count: listing.more })]),
  ].join(', ');
}
