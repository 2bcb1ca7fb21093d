import { create } from 'zustand';

export const DESKS = ['office', 'field', 'owner', 'company'] as const;
export type Desk = (typeof DESKS)[number];
export type Theme = 'auto' | 'light' | 'dark';

/** What is being looked at. Nothing of the book is kept here. */
export interface View {
  desk: Desk;
  /** Page within the desk: office 'property' | 'today' | 'calendar' | 'import'; '' = the desk's first. */
  page: string;
  propertyId: string | null;
  technicianId: string | null;
  date: string | null;
  /** Every part of the address after the desk. */
  path: string[];
  theme: Theme;
}

/** Reads an address such as #/office/property/ID or #/field/TECH/DATE. */
export function viewOfHash(hash: string): Omit<View, 'theme'> {
  const [first = '', ...path] = hash
    .replace(/^#?\/?/, '')
    .split('/')
    .filter((part) => part !== '')
    .map(decode);
  const desk = (DESKS as readonly string[]).includes(first) ? (first as Desk) : 'office';
  const view = {
    desk,
    page: path[0] ?? '',
    propertyId: null as string | null,
    technicianId: null as string | null,
    date: null as string | null,
    path,
  };
  if (desk === 'field') {
    view.page = 'day';
    view.technicianId = path[0] ?? null;
    view.date = path[1] ?? null;
  } else if (desk === 'office') {
    if (view.page === 'property') view.propertyId = path[1] ?? null;
    if (view.page === 'calendar' || view.page === 'today') view.date = path[1] ?? null;
  }
  return view;
}

function decode(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

const THEME_KEY = 'valvebook-theme';

function storedTheme(): Theme {
  try {
    const theme = window.localStorage.getItem(THEME_KEY);
    return theme === 'light' || theme === 'dark' ? theme : 'auto';
  } catch {
    return 'auto';
  }
}

export const useView = create<View>(() => ({ ...viewOfHash(window.location.hash), theme: storedTheme() }));

/** Goes to an address; the view follows. `replace` leaves no step to go back to. */
export function navigate(hash: string, opts: { replace?: boolean } = {}): void {
  const target = hash.startsWith('#') ? hash : `#${hash}`;
  if (target === window.location.hash) return;
  if (opts.replace === true) {
    window.history.replaceState(null, '', target);
    useView.setState(viewOfHash(target));
  } else {
    window.location.hash = target;
  }
}

/** Light, dark, or as the machine has it. */
export function setTheme(theme: Theme): void {
  try {
    window.localStorage.setItem(THEME_KEY, theme);
  } catch {
    // Without storage the choice lasts as long as the window.
  }
  useView.setState({ theme });
}

window.addEventListener('hashchange', () => useView.setState(viewOfHash(window.location.hash)));
useView.subscribe(({ theme }) => applyTheme(theme));
applyTheme(useView.getState().theme);

function applyTheme(theme: Theme): void {
  if (theme === 'auto') delete document.documentElement.dataset['theme'];
  else document.documentElement.dataset['theme'] = theme;
}
