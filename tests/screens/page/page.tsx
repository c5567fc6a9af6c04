import { createRoot } from 'react-dom/client';
import { App } from '#screens';
import type { Fake } from '../fake.ts';
import { stage } from './stage.ts';

declare global {
  interface Window {
    /** The double that the screens run on, for the browser tests. */
    fake: Fake;
  }
}

const wanted = new URLSearchParams(location.search);
window.fake = stage(wanted.get('case') ?? 'walk', wanted.get('theme') ?? 'light');
const root = document.getElementById('root');
if (root !== null) createRoot(root).render(<App services={window.fake} />);
