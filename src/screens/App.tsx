import { lazy, Suspense, useEffect } from 'react';
import { Redirect, Route, Router, Switch } from 'wouter';
import { useHashLocation } from 'wouter/use-hash-location';
import { Begin } from './begin/Begin.tsx';
import { House } from './parts/house.ts';
import { Frame, Waiting } from './parts/Frame.tsx';
import { useLive } from './parts/live.ts';
import { TellPlace } from './parts/Tell.tsx';
import type { Services } from './services.ts';
import { Walk } from './walk/Walk.tsx';
import './tokens.css';
import './base.css';
import './frame.css';
import './parts/parts.css';

// Only what the first two touches need is loaded at once.
const Finish = lazy(() => import('./finish/Finish.tsx'));
const Sheet = lazy(() => import('./sheet/Sheet.tsx'));
const Walks = lazy(() => import('./walks/Walks.tsx'));
const SettingsPage = lazy(() => import('./settings/Settings.tsx'));

/** All screens. Routes live behind the # of the address, so the build works under any path. */
export function App({ services }: { services: Services }) {
  const settings = useLive(services.settings);
  useEffect(() => {
    document.documentElement.dataset['theme'] = settings.theme;
  }, [settings.theme]);
  return (
    <House value={services}>
      <TellPlace>
        <Router hook={useHashLocation}>
          <Switch>
            <Route path="/walk">
              <Walk />
            </Route>
            <Route>
              <Frame>
                <Suspense fallback={<Waiting what="Opening …" />}>
                  <Switch>
                    <Route path="/">
                      <Begin />
                    </Route>
                    <Route path="/finish">
                      <Finish />
                    </Route>
                    <Route path="/sheet/:id">{(p) => <Sheet key={p.id} id={p.id} />}</Route>
                    <Route path="/walks">
                      <Walks />
                    </Route>
                    <Route path="/settings">
                      <SettingsPage />
                    </Route>
                    <Route>
                      <Redirect to="/" />
                    </Route>
                  </Switch>
                </Suspense>
              </Frame>
            </Route>
          </Switch>
        </Router>
      </TellPlace>
    </House>
  );
}
