import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from '#screens';

const place = document.getElementById('root');
if (place === null) throw new Error('index.html has no place for the app.');
const root = createRoot(place);

// The stages are heavy beside the first screen, so they come after it.
import('./wire/browser.ts')
  .then(({ browserServices }) => browserServices())
  .then(
    (services) =>
      root.render(
        <StrictMode>
          <App services={services} />
        </StrictMode>,
      ),
    (error: unknown) =>
      root.render(
        <main className="closed">
          <h1>Talkround cannot open</h1>
          <p>{error instanceof Error ? error.message : String(error)}</p>
        </main>,
      ),
  );
