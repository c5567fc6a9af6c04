import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { covered, isWhole, screenOf, sideways, stageOf, type Stage } from './screens-stage.ts';
import { SCREENS } from './sheets/screens.ts';

/** The phone in the hand: what is measured here is measured on this size. */
const PHONE = [390, 844] as const;
/** The same with its keyboard up. */
const KEYBOARD = [390, 480] as const;
/** Least side of what is pressed on Walk, CSS px: a thin glove. */
const REACH = 60;
/** WCAG 2.2, 1.4.6: what is read at arm's length in sun. */
const ENHANCED = 7;
/** Longest time from words to the screen, ms (Nielsen 1993: felt as at once). */
const AT_ONCE = 100;

const WALKS = SCREENS.filter((s) => s.at === '/walk');

let stage: Stage;
beforeAll(async () => {
  stage = await stageOf();
});
afterAll(() => stage?.close());

test.concurrent.each(SCREENS)(
  '$name: on the phone nothing lies over what is pressed',
  async (screen) => {
    const { page } = await stage.opened(screen, 'light', PHONE);
    expect(await covered(page)).toEqual([]);
    await page.context().close();
  },
);

test.concurrent.each(WALKS)('$name: targets of 60 px, and no bar over them', async (screen) => {
  const { page } = await stage.opened(screen, 'light', PHONE);
  const small = await page.$$eval(
    'a[href], button, input, summary',
    (all, least) =>
      all.flatMap((e) => {
        if (!(e instanceof HTMLElement) || e.offsetParent === null) return [];
        const box = (e.closest('label') ?? e).getBoundingClientRect();
        return box.width < least - 0.5 || box.height < least - 0.5
          ? [`${e.textContent ?? e.tagName} ${box.width}x${box.height}`]
          : [];
      }),
    REACH,
  );
  expect(small).toEqual([]);
  const said = screen.of === 'first' ? '.first-say' : '.said';
  for (const always of ['.hands .press', '.typed input', '.typed .press', said]) {
    expect(await isWhole(page, always), always).toBe(true);
  }
  await page.context().close();
});

test('the question stands first and largest, with all that answers it, without scrolling', async () => {
  const { page } = await stage.opened(screenOf('Walk, a question'), 'light', PHONE);
  expect(await isWhole(page, '.ask-card h2')).toBe(true);
  expect(await isWhole(page, '.ask-options button')).toBe(true);
  const sizes = await page.$$eval('.walk-body *', (all) =>
    all
      .filter((e) => e.getClientRects().length > 0)
      .filter((e) => [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent?.trim()))
      .map((e) => ({
        size: Number.parseFloat(getComputedStyle(e).fontSize),
        question: e.closest('.ask-card h2') !== null,
        top: e.getBoundingClientRect().top,
      })),
  );
  const asked = sizes.find((s) => s.question);
  for (const other of sizes.filter((s) => !s.question)) {
    expect(other.size).toBeLessThan(asked?.size ?? 0);
    expect(other.top).toBeGreaterThan(asked?.top ?? 0);
  }
  await page.context().close();
});

test('what is left here and what came of what was done are read without scrolling', async () => {
  const { page } = await stage.opened(screenOf('Walk'), 'light', PHONE);
  expect(await isWhole(page, '.here button')).toBe(true);
  const found = page.locator('.found');
  expect(await found.innerText()).toContain('Chafed, ground it');
  const mark = await found.locator('.mark').first().boundingBox();
  expect(mark?.width).toBeGreaterThanOrEqual(24);
  expect(await page.locator('.well li').count()).toBeGreaterThan(0);
  expect(await page.locator('.well').innerText()).toContain('engine oil level');
  await page.context().close();
});

test('a caution stands once', async () => {
  const { page } = await stage.opened(screenOf('Walk'), 'light', PHONE);
  const text = 'Exhaust and cylinders may be hot.';
  await page.evaluate((shown) => {
    const now = window.fake.parts.walk.get();
    if (now !== null) window.fake.parts.walk.set({ ...now, shown });
  }, `Engine right side. ${text}`);
  await page.getByText('Engine right side.', { exact: true }).waitFor();
  expect(await page.getByText(text).count()).toBe(1);
  await page.context().close();
});

test('with the keyboard up, what is typed is seen while it is typed, and what came of it after', async () => {
  const { page } = await stage.opened(screenOf('Walk'), 'light', PHONE);
  await page.getByRole('textbox').focus();
  await page.setViewportSize({ width: KEYBOARD[0], height: KEYBOARD[1] });
  await page.getByRole('textbox').fill('oil cooler good');
  expect(await isWhole(page, '.typed input')).toBe(true);
  expect(await isWhole(page, '.typed .press')).toBe(true);
  await page.keyboard.press('Enter');
  await page.getByText('Taken as typed').waitFor();
  expect(await isWhole(page, '.made')).toBe(true);
  await page.context().close();
});

test('while the ear is loaded a bar says how much of it is here, and typed words count already', async () => {
  const { page } = await stage.opened(screenOf('Walk, the ear loading'), 'light', PHONE);
  const bar = page.getByRole('progressbar');
  const wide = async () => (await bar.boundingBox())?.width ?? 0;
  expect(await bar.getAttribute('aria-valuenow')).toBe('42');
  expect(await wide()).toBeCloseTo(0.42 * PHONE[0], 0);
  await page.evaluate(() =>
    window.fake.parts.listening.set({ state: 'starting', ear: 'embedded', loaded: 0.9 }),
  );
  await page.getByText('90 % of it is here').waitFor();
  expect(await wide()).toBeCloseTo(0.9 * PHONE[0], 0);
  await page.getByRole('textbox').fill('documents good');
  await page.keyboard.press('Enter');
  await page.getByText('Taken as typed').waitFor();
  // Where nobody knows how much there is to come, no bar pretends to.
  await page.evaluate(() => window.fake.parts.listening.set({ state: 'starting', ear: 'browser' }));
  await bar.waitFor({ state: 'detached' });
  await page.context().close();
});

test('a finding is photographed by one thing to press, beside its words, and they keep their room', async () => {
  const { page } = await stage.opened(screenOf('Walk, photographed'), 'light', PHONE);
  expect(await page.locator('.take-picture').count()).toBe(1);
  expect(await page.getByLabel('Photograph: Oil lines').count()).toBe(1);
  expect(await isWhole(page, '.said .take-picture')).toBe(true);
  expect((await page.locator('.said .words').boundingBox())?.width).toBeGreaterThan(PHONE[0] * 0.6);
  await page.context().close();
});

test('first words fit the station: the example is of this aircraft, and open', async () => {
  const { page } = await stage.opened(screenOf('Walk'), 'light', PHONE);
  await page.evaluate(() => {
    const now = window.fake.parts.walk.get();
    if (now !== null) window.fake.parts.walk.set({ ...now, last: null });
  });
  await page.getByText('“Engine right side, oil lines good”').waitFor();
  await page.context().close();
});

test.concurrent.each(['light', 'dark', 'red'])(
  'WCAG 1.4.6, %s: what is read at arm’s length stands at 7:1',
  async (theme) => {
    for (const name of ['Walk', 'Walk, a question', 'Walk, demanded']) {
      const { page } = await stage.opened(screenOf(name), theme, PHONE);
      const read =
        '.ear-word, .said .words, .made li, .ask-card h2 span, .ask-options button, .where h1 > button > span:first-child, .here button > span, .hands .press, .cautions, .demanded h2';
      const low = await page.$$eval(
        read,
        (all, least) => {
          const of = (colour: string) =>
            [...colour.matchAll(/[\d.]+/g)].slice(0, 4).map((m) => Number(m[0]));
          const light = (c: readonly number[]) => {
            const [r = 0, g = 0, b = 0] = c
              .slice(0, 3)
              .map((v) => v / 255)
              .map((v) => (v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4));
            return 0.2126 * r + 0.7152 * g + 0.0722 * b;
          };
          return all.flatMap((e) => {
            let ground: readonly number[] = [255, 255, 255];
            for (let up: Element | null = e; up !== null; up = up.parentElement) {
              const c = of(getComputedStyle(up).backgroundColor);
              if (c.length >= 3 && (c[3] ?? 1) > 0) {
                ground = c;
                break;
              }
            }
            const [a, b] = [light(of(getComputedStyle(e).color)), light(ground)];
            const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
            return ratio < least ? [`${e.textContent ?? ''} ${ratio.toFixed(2)}`] : [];
          });
        },
        ENHANCED,
      );
      expect(low, name).toEqual([]);
      await page.context().close();
    }
  },
);

test('from the house telling the screen new words to their paint: at most 100 ms', async () => {
  const { page } = await stage.opened(screenOf('Walk'), 'light', PHONE);
  const times = await page.evaluate(async () => {
    const out: number[] = [];
    for (let i = 0; i < 10; i += 1) {
      const now = window.fake.parts.walk.get();
      if (now === null) break;
      const words = `oil cooler good ${i}`;
      const from = performance.now();
      window.fake.parts.walk.set({
        ...now,
        last: { event: `t${i}`, words, made: ['Oil cooler: spoken for'], sort: 'counted' },
      });
      // The frame after the one in which it was drawn begins when that one is on the screen.
      await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
      if (document.querySelector('.said .words')?.textContent !== words) out.push(Infinity);
      else out.push(performance.now() - from);
    }
    return out.sort((a, b) => a - b);
  });
  console.log(`words to paint: ${times.map((t) => t.toFixed(0)).join(' ')} ms`);
  expect(times).toHaveLength(10);
  // The median: what is measured is the app, and not what else the machine does.
  expect(times[5]).toBeLessThanOrEqual(AT_ONCE);
  await page.context().close();
});

test('Finish: findings and gaps, by station; no check is called good here, and a gap is left open with a reason only', async () => {
  const { page } = await stage.opened(screenOf('Finish'), 'light', PHONE);
  expect(await page.getByRole('heading', { level: 1 }).innerText()).toBe('79 gaps, 2 findings');
  expect(await isWhole(page, '.found-one')).toBe(true);
  expect(await page.getByRole('button', { name: /good/i }).count()).toBe(0);
  expect(await page.locator('.gap-head h3').first().innerText()).toBe(
    '5 Engine right side, 3 gaps',
  );
  await page.getByRole('button', { name: 'Right magneto' }).click();
  const dialog = page.getByRole('dialog', { name: /Right magneto/i });
  expect(await dialog.getByRole('button', { name: /good/i }).count()).toBe(0);
  expect(await dialog.getByRole('button', { name: 'Set aside' }).isDisabled()).toBe(true);
  await dialog.getByLabel('Or in your own words').fill('looked at by the engineer');
  await dialog.getByRole('button', { name: 'Set aside' }).click();
  const calls = await page.evaluate(() =>
    window.fake.calls.filter((c) => c.name === 'setAside').map((c) => c.with),
  );
  expect(calls).toEqual([['magneto-right', 'looked at by the engineer']]);
  await page.context().close();
});

test('Begin: a sentence that is told covers nothing, least of all "Begin", and goes by itself', async () => {
  const { page } = await stage.opened(screenOf('Begin'), 'light', PHONE);
  await page.clock.install();
  await page.evaluate(() => {
    window.fake.begin = async () => ({ ok: false, error: 'There is no room left on this device.' });
  });
  await page.getByRole('button', { name: 'Begin the walk' }).click();
  const box = page.locator('.told .notice');
  await box.waitFor();
  expect(await isWhole(page, '.go .press')).toBe(true);
  expect(await isWhole(page, '.told .notice')).toBe(true);
  expect(await covered(page)).toEqual([]);
  await page.clock.runFor(30_000);
  await box.waitFor({ state: 'detached' });
  await page.context().close();
});

test('Begin: the aircraft stands first, with the number of checks that is asked for today', async () => {
  const { page } = await stage.opened(screenOf('Begin'), 'light', PHONE);
  expect(await isWhole(page, 'fieldset > .aircraft .craft:first-child')).toBe(true);
  const name = () => page.locator('.craft').first().innerText();
  const before = Number(/(\d+) checks today/.exec(await name())?.[1]);
  await page.getByRole('checkbox', { name: 'Night' }).check();
  const after = Number(/(\d+) checks today/.exec(await name())?.[1]);
  expect(after).toBeGreaterThan(before);
  expect(await page.getByText('Training helicopter', { exact: true }).isVisible()).toBe(false);
  await page.context().close();
});

test('Finish: a station with gaps is one touch away, and the walk stands there', async () => {
  const { page } = await stage.opened(screenOf('Finish'), 'light', PHONE);
  await page.getByRole('button', { name: 'Walk to 7, Tail boom' }).click();
  await page.getByRole('heading', { level: 1, name: /7 Tail boom/ }).waitFor();
  await page.context().close();
});

test('Finish: with nothing open, "no gap" stands where the list was; what was answered by touch is counted', async () => {
  const { page } = await stage.opened(screenOf('Finish'), 'light', PHONE);
  await page.evaluate(() => {
    const now = window.fake.parts.walk.get();
    if (now === null) return;
    const checks = now.coverage.checks.map((c, i) => ({
      ...c,
      standing: 'spoken' as const,
      ...(i < 3 ? { touched: true, required: { ...c.required, today: true } } : {}),
    }));
    window.fake.parts.walk.set({ ...now, coverage: { ...now.coverage, checks, open: [] } });
  });
  await page.getByRole('heading', { level: 1, name: /^No gap is open/ }).waitFor();
  expect(await page.locator('.gaps').count()).toBe(0);
  expect(await page.locator('.head').innerText()).toContain('3 of them by touch');
  await page.context().close();
});

test('Sheet: on the phone a summary, then stations that open; on a desk and on paper nothing is folded', async () => {
  const { page } = await stage.opened(screenOf('Sheet'), 'light', PHONE);
  expect(await isWhole(page, '.summary')).toBe(true);
  expect(await page.locator('.row').first().isVisible()).toBe(false);
  await page.locator('.station-rows summary h2', { hasText: 'Engine right side' }).click();
  expect(await page.locator('.row', { hasText: 'Oil cooler' }).first().isVisible()).toBe(true);
  await page.emulateMedia({ media: 'print' });
  await expect.poll(() => page.locator('.station-rows:not([open])').count()).toBe(0);
  await page.emulateMedia({ media: 'screen' });
  await page.setViewportSize({ width: 1280, height: 800 });
  expect(await page.locator('.row').first().isVisible()).toBe(true);
  await page.context().close();
});

test('the same counts on finish, sheet and foot; and a walk that was left unsigned is signed from its sheet', async () => {
  const { page } = await stage.opened(screenOf('Sheet, not signed'), 'light', PHONE);
  const summary = await page.locator('.summary').innerText();
  const part = (words: string) => Number(new RegExp(`(\\d+) ${words}`).exec(summary)?.[1] ?? 0);
  const gaps = part('part spoken') + part('in question') + part('skipped');
  const findings = part('finding');
  const foot = await page.locator('.signed').innerText();
  expect(foot).toContain(`${gaps} gaps`);
  expect(foot).toMatch(new RegExp(`Findings\\s+${findings}`));
  await page.getByRole('button', { name: 'Decide and sign' }).click();
  await page
    .getByRole('heading', { level: 1, name: `${gaps} gaps, ${findings} findings` })
    .waitFor();
  await page.getByRole('button', { name: 'Sign', exact: true }).waitFor();
  expect(
    await page.evaluate(() => window.fake.calls.map((c) => [c.name, c.with[1]])),
  ).toContainEqual(['takeUp', 'quietly']);
  await page.context().close();
});

test('first use: the sentence to say stands first, large, and can be skipped', async () => {
  const { page } = await stage.opened(screenOf('Walk, first use'), 'light', PHONE);
  await page.getByText('“now the Cabin”').waitFor();
  expect(await isWhole(page, '.first-say')).toBe(true);
  await page.getByRole('button', { name: 'Skip' }).click();
  await page.waitForSelector('.begin');
  const calls = await page.evaluate(() => window.fake.calls.map((c) => [c.name, c.with[0]]));
  expect(calls).toContainEqual(['discard', 'w-first-use']);
  await page.context().close();
});

test('why it does not hear is said once, however many tell it', async () => {
  const { page } = await stage.opened(screenOf('Walk, not hearing'), 'light', PHONE);
  await page.evaluate(() => {
    const now = window.fake.parts.walk.get();
    const ear = window.fake.parts.listening.get();
    if (now === null || ear.state !== 'deaf') return;
    window.fake.parts.walk.set({ ...now, trouble: ear.why, shown: ear.why });
  });
  await page.waitForTimeout(100);
  expect(await page.getByText(/The microphone is gone/).count()).toBe(1);
  await page.context().close();
});

test('German: what the ear and the record say is German too, where it is read', async () => {
  const { page } = await stage.opened(screenOf('Walk, not hearing'), 'light', PHONE);
  await page.evaluate(() => {
    window.fake.change({ language: 'de' });
    window.fake.parts.listening.set({
      state: 'deaf',
      ear: 'embedded',
      why: 'The microphone is gone: unplugged or withdrawn. Plug it in or allow it again.',
    });
  });
  await page.getByText('Das Mikrofon ist weg: abgezogen oder entzogen.').waitFor();
  await page.context().close();
  const begin = await stage.opened(screenOf('Begin, warned'), 'light', PHONE);
  await begin.page.evaluate(() => {
    const { choices } = window.fake.parts;
    window.fake.change({ language: 'de' });
    choices.set({
      ...choices.get(),
      warnings: ['There is hardly any room left on this device. Free some space before the walk.'],
    });
  });
  await begin.page.getByText('Auf diesem Gerät ist kaum noch Platz.').waitFor();
  await begin.page.context().close();
});

test('a word without an end stays on the screen', async () => {
  const { page } = await stage.opened(screenOf('Walk'), 'light', PHONE);
  await page.evaluate(() => {
    const now = window.fake.parts.walk.get();
    const words = 'q'.repeat(300);
    const last = {
      event: 'x',
      words,
      made: [`Not understood: ${words}`],
      sort: 'nothing' as const,
    };
    if (now !== null) window.fake.parts.walk.set({ ...now, last, shown: words });
  });
  await page.waitForTimeout(100);
  expect(await sideways(page)).toBe(0);
  const out = await page.$$eval('.said *, .shown', (all) =>
    all.filter((e) => e.getBoundingClientRect().right > innerWidth + 0.5).map((e) => e.className),
  );
  expect(out).toEqual([]);
  expect(await isWhole(page, '.hands .press')).toBe(true);
  await page.context().close();
});

test('the language under Settings is that of the four screens; the recogniser says that it stays English', async () => {
  const { page } = await stage.opened(screenOf('Settings'), 'light', PHONE);
  expect(await page.getByText(/Speaking and listening stay English/).count()).toBe(1);
  await page.getByRole('radio', { name: 'Deutsch' }).check();
  await page.getByText(/Gesprochen und gehört wird Englisch/).waitFor();
  expect(await page.evaluate(() => document.documentElement.lang)).toBe('de');
  expect(await page.evaluate(() => window.fake.settings.get().language)).toBe('de');
  await page.context().close();
});

test.concurrent.each(['Begin', 'Walk', 'Finish', 'Finish, the decision', 'Sheet'])(
  'German, %s: no word of the English screen is left, nothing sticks out or is covered',
  async (name) => {
    const { page } = await stage.opened(screenOf(name), 'light', PHONE);
    const english = new Set(
      await page.$$eval('button, a, h1, h2, legend, label', (all) =>
        all.map((e) => e.textContent?.trim() ?? ''),
      ),
    );
    await page.evaluate(() => window.fake.change({ language: 'de' }));
    await page.waitForFunction(() => document.documentElement.lang === 'de');
    expect(await sideways(page)).toBe(0);
    expect(await covered(page)).toEqual([]);
    for (const word of [
      'Begin the walk',
      'Hold',
      'That was wrong',
      'Findings',
      'Gaps',
      'Sign',
      'Print (A4)',
    ]) {
      if (english.has(word))
        expect(await page.getByText(word, { exact: true }).count(), word).toBe(0);
    }
    await page.context().close();
  },
);

test('the training aeroplane, from the first opening to the signature, in the app itself, with no scrolling on Walk', async () => {
  const context = await stage.browser.newContext({
    viewport: { width: PHONE[0], height: PHONE[1] },
  });
  const page = await context.newPage();
  await page.goto(inject('url'));
  await page.getByRole('radio', { name: /Training aeroplane/ }).check({ force: true });
  await page.getByText(/^Who walks/).click();
  await page.getByLabel('Words come from').selectOption('typed');
  await page.getByRole('button', { name: 'Begin the walk' }).click();
  await page.waitForSelector('.hands');
  const field = page.getByRole('textbox');
  const said: number[] = [];
  for (const words of [
    'now the left wing',
    'left aileron good',
    'fuel cap secure',
    'now the nose',
    'propeller nick, watch it',
    'everything on the nose is good',
    'now the tail',
    'elevator hinges good',
    'elevator hinges cracked, ground it',
    'take that back',
  ]) {
    await field.fill(words);
    const from = Date.now();
    await page.keyboard.press('Enter');
    await page.locator('.said .words', { hasText: words }).waitFor();
    said.push(Date.now() - from);
    expect(await covered(page), words).toEqual([]);
    for (const always of ['.said', '.where h1', '.typed input', '.hands .press']) {
      expect(await isWhole(page, always), `${words}: ${always}`).toBe(true);
    }
  }
  console.log(`typed words to their reading on the screen: ${said.join(' ')} ms`);
  expect(
    await page.evaluate(() => [scrollY, document.querySelector('.walk-body')?.scrollTop]),
  ).toEqual([0, 0]);
  await page.getByRole('link', { name: 'Finish the walk' }).click();
  const [gaps] = /\d+/.exec(await page.getByRole('heading', { level: 1 }).innerText()) ?? [];
  await page.getByRole('button', { name: `Finish with ${gaps} gaps` }).click();
  await page.getByRole('radio', { name: /^Ground it/ }).check();
  await page.getByLabel('Name', { exact: true }).fill('M. Alder');
  await page.getByRole('button', { name: 'Sign', exact: true }).click();
  await page.waitForSelector('.sheet-foot');
  expect(await page.locator('.signed').innerText()).toContain(`${gaps} gaps`);
  expect(await page.locator('.signed').innerText()).toContain('M. Alder');
  await page.getByRole('link', { name: 'Walks' }).click();
  await page.getByText(`${gaps} open`).waitFor();
  await context.close();
});
