import './company.css';
import { useView } from '../state/view.ts';
import { BookPage } from './book-page.tsx';
import { PeoplePage } from './people-page.tsx';
import { RulesPage } from './rules-page.tsx';
import { SettingsPage } from './settings-page.tsx';
import { useKeptDrafts } from './use-draft.ts';
import { WeatherPage } from './weather-page.tsx';
import { say } from '../state/say.ts';

const PAGES = [
  { id: '', label: 'company.settings', Page: SettingsPage },
  { id: 'people', label: 'company.people', Page: PeoplePage },
  { id: 'rules', label: 'company.rules', Page: RulesPage },
  { id: 'weather', label: 'company.stations', Page: WeatherPage },
  { id: 'book', label: 'company.book', Page: BookPage },
] as const;

/** The form on a page whose changes are kept while another page is looked at. */
const KEPT_ON: Partial<Record<(typeof PAGES)[number]['id'], string>> = { '': 'settings', rules: 'thumb-rules' };

/** The company itself: how it works, who works, what the water provider allows, the weather it counts on, and the book. */
export default function CompanyDesk() {
  const page = useView((view) => view.page);
  const kept = useKeptDrafts((state) => state.drafts);
  const current = PAGES.find(({ id }) => id === page) ?? PAGES[0];
  return (
    <div className="company-desk">
      <nav className="company-nav" aria-label={say('company.partsOf')}>
        {PAGES.map(({ id, label }) => (
          <a
            key={id}
            href={id === '' ? '#/company' : `#/company/${id}`}
            aria-current={id === current.id ? 'page' : undefined}
          >
            {say(label)}
            {KEPT_ON[id] !== undefined && KEPT_ON[id] in kept ? (
              <span className="kept small">{say('company.notSaved')}</span>
            ) : null}
          </a>
        ))}
      </nav>
      <div className="company-page">
        <current.Page />
      </div>
    </div>
  );
}
