import './state/quiet-zod.ts';
import './state/session.ts';
import './tokens.css';
import './parts/parts.css';
import './app.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { Gate } from './gate.tsx';

const root = document.getElementById('root');
if (root === null) throw new Error('the page has no #root');
createRoot(root).render(
  <StrictMode>
    <Gate>
      <App />
    </Gate>
  </StrictMode>,
);
