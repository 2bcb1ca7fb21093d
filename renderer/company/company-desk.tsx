import './company.css';
import { useView } from '../state/view.ts';
import { BookPage } from './book-page.tsx';
import { PeoplePage } from './people-page.tsx';
import { RulesPage } from './rules-page.tsx';
import { SettingsPage } from './settings-page.tsx';
import { WeatherPage } from './weather-page.tsx';

const PAGES = [
  { id: '', label: 'Settings', Page: SettingsPage },
  { id: 'people', label: 'People, trucks, routes', Page: PeoplePage },
  { id: 'rules', label: 'Watering rules', Page: RulesPage },
  { id: 'weather', label: 'Weather stations', Page: WeatherPage },
  { id: 'book', label: 'The book', Page: BookPage },
] as const;

/** The company itself: how it works, who works, what the water provider allows, the weather it counts on, and the book. */
export default function CompanyDesk() {
  const page = useView((view) => view.page);
  const current = PAGES.find(({ id }) => id === page) ?? PAGES[0];
  return (
    <div className="company-desk">
      <nav className="company-nav" aria-label="Parts of the company">
        {PAGES.map(({ id, label }) => <a key={id} href={id === '' ? '#/company' : `#/company/${id}`} aria-current={id === current.id ? 'page' : undefined}>{label}</a>)}
      </nav>
      <div className="company-page">
        <current.Page />
      </div>
    </div>
  );
}
