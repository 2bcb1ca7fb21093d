import { Component, lazy, Suspense, useEffect } from 'react';
import type { ReactNode } from 'react';
import { I18nProvider } from 'react-aria-components';
import { Button, ErrorNote, Menu } from './parts/index.ts';
import { Toasts } from './parts/toasts.tsx';
import { say, setReader, texts, useReaderChoice, words } from './state/say.ts';
import { useRequest } from './state/use-request.ts';
import type { PlainKey } from '../core/text/say.ts';
import { DESKS, navigate, setTheme, useView } from './state/view.ts';
import type { Desk, Theme } from './state/view.ts';
import OfficeDesk from './office/office-desk.tsx';

const FieldDesk = lazy(() => import('./field/field-desk.tsx'));
const OwnerDesk = lazy(() => import('./owner/owner-desk.tsx'));
const CompanyDesk = lazy(() => import('./company/company-desk.tsx'));
const CalendarPage = lazy(() => import('./office/calendar/calendar-page.tsx'));
const ImportPage = lazy(() => import('./office/import/import-page.tsx'));
const ProgramsPage = lazy(() => import('./owner/programs-page.tsx'));

const DESK_NAMES: Readonly<Record<Desk, string>> = texts({
  office: 'shell.office',
  field: 'shell.field',
  owner: 'shell.review',
  company: 'shell.company',
});

/** The app for whoever reads: their language and units, drawn anew when either changes. */
export function App() {
  const choice = useReaderChoice();
  const settings = useRequest('settings.get', {});
  if (settings.data === undefined && settings.error === null) return null;
  const language = choice.language ?? settings.data?.language ?? 'en';
  const units = choice.units ?? settings.data?.units ?? 'us';
  setReader({ language, units });
  return <Shell key={`${language} ${units}`} />;
}

/** The shell: which desk, which page of it, and the messages. */
function Shell() {
  const desk = useView((view) => view.desk);
  const page = useView((view) => view.page);
  useEffect(() => {
    document.title = say('shell.title', { page: DESK_NAMES[desk] });
  }, [desk]);
  return (
    <I18nProvider locale={words().locale}>
      <a
        className="skip"
        href="#main"
        onClick={(event) => {
          event.preventDefault();
          document.getElementById('main')?.focus();
        }}
      >
        {say('shell.skip')}
      </a>
      <TopBar desk={desk} page={page} />
      <main id="main" className={`desk ${desk}`} tabIndex={-1}>
        <Guard key={screenOf(desk, page)}>
          <Suspense
            fallback={
              <p className="waiting" role="status">
                {say('shell.opening')}
              </p>
            }
          >
            <Screen desk={desk} page={page} />
          </Suspense>
        </Guard>
      </main>
      <Toasts />
    </I18nProvider>
  );
}

/** The office's list and the property beside it are one screen; it must not start anew when a property is opened. */
function screenOf(desk: Desk, page: string): string {
  return desk === 'office' && ['', 'property', 'client'].includes(page) ? desk : `${desk}/${page}`;
}

function Screen({ desk, page }: { desk: Desk; page: string }) {
  if (desk === 'field') return <FieldDesk />;
  if (desk === 'owner') return page === 'programs' ? <ProgramsPage /> : <OwnerDesk />;
  if (desk === 'company') return <CompanyDesk />;
  if (page === 'calendar') return <CalendarPage />;
  if (page === 'import') return <ImportPage />;
  return <OfficeDesk />;
}

const PAGES: Partial<Record<Desk, Array<{ label: PlainKey; href: string; pages: string[] }>>> = {
  office: [
    { label: 'shell.clients', href: '#/office', pages: ['', 'property', 'client'] },
    { label: 'shell.today', href: '#/office/today', pages: ['today'] },
    { label: 'shell.calendar', href: '#/office/calendar', pages: ['calendar'] },
    { label: 'shell.import', href: '#/office/import', pages: ['import'] },
  ],
  owner: [
    { label: 'shell.seasonAndWork', href: '#/owner', pages: [''] },
    { label: 'shell.programs', href: '#/owner/programs', pages: ['programs'] },
  ],
};

function TopBar({ desk, page }: { desk: Desk; page: string }) {
  const info = useRequest('book.info', {}).data;
  const pages = PAGES[desk];
  return (
    <header className="top-bar">
      <a
        className="brand"
        href="#/office"
        aria-label={say('shell.brand', { company: info?.companyName ?? say('shell.theOffice') })}
      >
        <BrandMark />
        <span className="brand-name">Valvebook</span>
      </a>
      <nav className="desk-nav" aria-label={say('shell.desks')}>
        {DESKS.map((one) => (
          <a key={one} href={`#/${one}`} aria-current={one === desk ? 'true' : undefined}>
            {DESK_NAMES[one]}
          </a>
        ))}
      </nav>
      {pages === undefined ? (
        <span className="top-space" />
      ) : (
        <nav className="page-nav" aria-label={say('shell.pagesOfDesk')}>
          {pages.map((item) => (
            <a key={item.href} href={item.href} aria-current={item.pages.includes(page) ? 'page' : undefined}>
              {say(item.label)}
            </a>
          ))}
        </nav>
      )}
      <span className="company-name" title={info?.path}>
        {info?.companyName ?? ''}
      </span>
      <ThemeMenu />
    </header>
  );
}

const THEMES: Array<{ id: Theme; label: PlainKey }> = [
  { id: 'auto', label: 'shell.themeAuto' },
  { id: 'light', label: 'shell.themeLight' },
  { id: 'dark', label: 'shell.themeDark' },
];

function ThemeMenu() {
  const theme = useView((view) => view.theme);
  return (
    <Menu
      look="quiet"
      ariaLabel={say('shell.themeNow', {
        theme: say(THEMES.find((item) => item.id === theme)?.label ?? 'shell.themeAuto'),
      })}
      label={
        <svg className="icon solid" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
          <circle cx="8" cy="8" r="6.2" fill="none" />
          <path d="M8 1.8a6.2 6.2 0 0 1 0 12.4z" fill="currentColor" />
        </svg>
      }
      items={[
        ...THEMES.map((item) => ({
          id: item.id as string,
          label: item.id === theme ? `${say(item.label)} ✓` : say(item.label),
          onAction: () => setTheme(item.id),
        })),
        { id: 'reader', label: say('shell.languageAndUnits'), onAction: () => navigate('#/company') },
      ]}
    />
  );
}

function BrandMark() {
  return (
    <svg viewBox="0 0 32 32" width="26" height="26" aria-hidden="true" className="brand-mark">
      <circle cx="16" cy="16" r="14" className="brand-lid" />
      <path d="M16 2a14 14 0 0 1 0 28z" className="brand-half" />
      <path d="M6.5 12.5h5.5l3 3.5-3 3.5H6.5z" className="brand-tag" />
      <path d="M19 10v12M22.5 11.5v9M26 14v4" className="brand-ribs" />
    </svg>
  );
}

/** A fault in one screen leaves the others usable. */
class Guard extends Component<{ children: ReactNode }, { failed: boolean }> {
  override state = { failed: false };
  static getDerivedStateFromError() {
    return { failed: true };
  }
  override render() {
    if (!this.state.failed) return this.props.children;
    return (
      <div className="page">
        <ErrorNote
          error={say('shell.stopped')}
          action={<Button onPress={() => this.setState({ failed: false })}>{say('shell.openAgain')}</Button>}
        />
      </div>
    );
  }
}
