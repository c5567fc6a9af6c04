import { lazy, Suspense, useEffect, type ComponentType } from 'react';
import { Redirect, Route, Router, Switch } from 'wouter';
import { useHashLocation } from 'wouter/use-hash-location';
import { Begin } from './begin/Begin.tsx';
import { House } from './parts/house.ts';
import { Frame, Waiting } from './parts/Frame.tsx';
import { useLive } from './parts/live.ts';
import { TellPlace } from './parts/Tell.tsx';
import { useTheme } from './parts/theme.ts';
import { TextPlace, textIn } from './text/text.ts';
import type { Services } from './services.ts';
import { Walk } from './walk/Walk.tsx';
import './tokens.css';
import './base.css';
import './frame.css';
import './parts/parts.css';

/** A screen that is loaded when it is first gone to, and the sentences of all such screens with it. */
function later<P>(screen: () => Promise<{ default: ComponentType<P> }>) {
  return lazy(() => Promise.all([screen(), import('./text/later.ts')]).then(([found]) => found));
}

// Only what the first two touches need is loaded at once.
const Finish = later(() => import('./finish/Finish.tsx'));
const Sheet = later(() => import('./sheet/Sheet.tsx'));
const Debrief = later(() => import('./debrief/Debrief.tsx'));
const Several = later(() => import('./debrief/Several.tsx'));
const Student = later(() => import('./student/Student.tsx'));
const Walks = later(() => import('./walks/Walks.tsx'));
const Learned = later(() => import('./learned/Learned.tsx'));
const Squawks = later(() => import('./squawks/Squawks.tsx'));
const QuickSquawk = later(() => import('./squawks/QuickSquawk.tsx'));
const Workshop = later(() => import('./workshop/Pages.tsx'));
const School = later(() => import('./school/School.tsx'));
const Join = later(() => import('./school/Join.tsx'));
const Let = later(() => import('./school/Let.tsx'));
const EarCheck = later(() => import('./ear/EarCheck.tsx'));
const SettingsPage = later(() => import('./settings/Settings.tsx'));

/** All screens. Routes live behind the # of the address, so the build works under any path. */
export function App({ services }: { services: Services }) {
  const settings = useLive(services.settings);
  useTheme(settings.theme);
  const text = textIn(settings.language);
  useEffect(() => {
    document.documentElement.lang = settings.language;
  }, [settings.language]);
  return (
    <House value={services}>
      <TextPlace value={text}>
        <TellPlace>
          <Router hook={useHashLocation}>
            <Switch>
              <Route path="/walk">
                <Walk />
              </Route>
              <Route>
                <Frame>
                  <Suspense fallback={<Waiting what={text('opening')} />}>
                    <Switch>
                      <Route path="/">
                        <Begin />
                      </Route>
                      <Route path="/finish">
                        <Finish />
                      </Route>
                      <Route path="/sheet/:id">{(p) => <Sheet key={p.id} id={p.id} />}</Route>
                      <Route path="/debrief/:id">{(p) => <Debrief key={p.id} id={p.id} />}</Route>
                      <Route path="/several/:ids">
                        {(p) => <Several key={p.ids} ids={(named(p.ids) ?? '').split(',')} />}
                      </Route>
                      <Route path="/walks">
                        <Walks />
                      </Route>
                      <Route path="/squawks/:aircraft?">
                        {(p) => <Squawks aircraft={named(p.aircraft)} />}
                      </Route>
                      <Route path="/learned/:aircraft?">
                        {(p) => <Learned aircraft={named(p.aircraft)} />}
                      </Route>
                      <Route path="/squawk/:aircraft?">
                        {(p) => <QuickSquawk aircraft={named(p.aircraft)} />}
                      </Route>
                      <Route path="/workshop/:page?/:id?">
                        {(p) => <Workshop page={p.page} id={p.id} />}
                      </Route>
                      <Route path="/ear/:catalogue?">
                        {(p) => <EarCheck catalogue={named(p.catalogue)} />}
                      </Route>
                      <Route path="/settings">
                        <SettingsPage />
                      </Route>
                      <Route path="/school">
                        <School />
                      </Route>
                      <Route path="/join/:code">{(p) => <Join key={p.code} code={p.code} />}</Route>
                      <Route path="/let/:code?">
                        {(p) => <Let key={p.code ?? ''} code={p.code ?? ''} />}
                      </Route>
                      <Route path="/student/:name">
                        {(p) => <Student key={p.name} name={named(p.name) ?? ''} />}
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
      </TextPlace>
    </House>
  );
}

/** A part of the address as it was before it was put there. */
function named(part: string | undefined): string | null {
  if (part === undefined || part === '') return null;
  try {
    return decodeURIComponent(part);
  } catch {
    // A stray % in an address that somebody typed: take it as it is.
    return part;
  }
}
