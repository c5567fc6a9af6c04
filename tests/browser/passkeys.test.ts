import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type Browser, type BrowserContext, type Page } from 'playwright-core';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { APP } from './store-chromium.ts';

/*
 * Passkeys in real Chromium, with its virtual authenticator (CDP, WebAuthn
 * domain): a desk that a phone signed in makes one, and another desk is signed in
 * with it through the screens. Beside it, an aircraft that the chief lists there is
 * offered at the beginning of a walk.
 */

let browser: Browser;
let url: string;
let code: string;
let close: () => Promise<void>;
beforeAll(async () => {
  const from = (path: string) => import(pathToFileURL(join(process.cwd(), path)).href);
  const { ensureBuilt } = await from('src/serve/ensure.mjs');
  await ensureBuilt('app');
  await ensureBuilt('school');
  const folder = mkdtempSync(join(tmpdir(), 'talkround-passkeys-'));
  const { openSchool } = await from('dist/school/main.js');
  const { serve } = await from('src/serve/serve.mjs');
  const school = await openSchool({
    folder,
    name: 'Rowan school',
    chief: 'C. Hawthorn',
    surroundings: {},
    log: () => undefined,
  });
  const server = await serve({ folder: APP, answer: school.answer, limits: { stalled: 60_000 } });
  url = `http://localhost:${server.port}/`;
  code = school.code;
  browser = await chromium.launch({ executablePath: inject('chromium') });
  close = async () => {
    await browser.close();
    await server.close();
    await school.close();
    rmSync(folder, { recursive: true, force: true });
  };
}, 400_000);
afterAll(() => close());

/** What an authenticator holds, to be carried into the next. */
interface Held {
  readonly credentialId: string;
  readonly isResidentCredential: boolean;
  readonly rpId?: string;
  readonly privateKey: string;
  readonly userHandle?: string;
  readonly signCount: number;
}

/** Chromium's own authenticator, with what it held before. */
async function authenticator(page: Page, held: readonly Held[] = []) {
  const cdp = await page.context().newCDPSession(page);
  await cdp.send('WebAuthn.enable');
  const { authenticatorId } = await cdp.send('WebAuthn.addVirtualAuthenticator', {
    options: {
      protocol: 'ctap2',
      transport: 'internal',
      hasResidentKey: true,
      hasUserVerification: true,
      isUserVerified: true,
      automaticPresenceSimulation: true,
    },
  });
  for (const credential of held)
    await cdp.send('WebAuthn.addCredential', { authenticatorId, credential });
  return {
    async held(): Promise<readonly Held[]> {
      return (await cdp.send('WebAuthn.getCredentials', { authenticatorId })).credentials;
    },
  };
}

async function device(): Promise<{ context: BrowserContext; page: Page }> {
  const context = await browser.newContext({ locale: 'en-GB' });
  // Live, and the machine is shared.
  context.setDefaultTimeout(90_000);
  return { context, page: await context.newPage() };
}

const go = (page: Page, to: string) =>
  page.evaluate((hash) => {
    window.location.hash = hash;
  }, to);

test(
  '19: in Chromium a desk that a phone signed in makes a passkey, another desk is signed in with it, acts as its holder, and is signed out with it',
  { timeout: 600_000 },
  async () => {
    // The chief's phone joins with the code that the server printed.
    const phone = await device();
    await phone.page.goto(`${url}#/join/${code}`);
    await phone.page.getByRole('button', { name: 'I have read this: join' }).click();
    await phone.page.getByRole('heading', { name: 'Rowan school' }).waitFor();

    // A desk is signed in with the phone, and makes a passkey.
    const office = await device();
    const made = await authenticator(office.page);
    await office.page.goto(`${url}#/school`);
    await office.page.getByRole('button', { name: 'Use this device as a desk' }).click();
    const digits = (await office.page.locator('.code-words').textContent()) ?? '';
    await go(phone.page, '/let');
    await phone.page.getByLabel('Code on the desk’s screen').fill(digits);
    await phone.page.getByRole('button', { name: 'Sign this desk in as me' }).click();
    const passkeys = office.page.getByRole('region', { name: 'Passkeys' });
    await passkeys.getByLabel('What to call this passkey').fill('Office');
    await passkeys.getByRole('button', { name: 'Add a passkey' }).click();
    await passkeys.locator('[data-passkey]', { hasText: 'Office' }).waitFor();
    expect(await made.held()).toHaveLength(1);

    // Another desk, with the same passkey: no phone.
    const second = await device();
    const carried = await authenticator(second.page, await made.held());
    await second.page.goto(`${url}#/school`);
    const signIn = second.page.getByRole('button', { name: 'Sign in with a passkey' });
    await signIn.click();
    await second.page.getByText(/^C. Hawthorn: .*chief.*Signed in until/).waitFor();

    // It acts as the chief under the rules there are: gives a catalogue, lists an aircraft.
    await second.page
      .getByRole('region', { name: 'Catalogues' })
      .locator('li', { hasText: 'Training helicopter' })
      .getByRole('button', { name: 'Give this device’s edition to every phone' })
      .click();
    const fleet = second.page.getByRole('region', { name: 'Fleet' });
    await fleet.getByLabel('Name or registration').last().fill('Rowan 5');
    await fleet.getByRole('button', { name: 'Add an aircraft' }).click();
    await fleet.locator('[data-aircraft="Rowan 5"]').waitFor();

    // The phone offers it at the beginning of a walk.
    await go(phone.page, '/school');
    await phone.page.getByRole('button', { name: 'Ask the school now' }).click();
    await phone.page.locator('[data-aircraft="Rowan 5"]').waitFor();
    await go(phone.page, '/');
    await phone.page.locator('.craft', { hasText: 'Rowan 5' }).waitFor();

    // Retired, it is offered no more.
    await fleet.locator('[data-aircraft="Rowan 5"] summary').click();
    await fleet.getByRole('button', { name: 'Retire' }).click();
    await fleet.getByText('1 retired').waitFor();
    await go(phone.page, '/school');
    await phone.page.getByRole('button', { name: 'Ask the school now' }).click();
    await phone.page.getByText('1 retired').waitFor();
    await go(phone.page, '/');
    await phone.page.getByText('Training helicopter').first().waitFor();
    await phone.page.locator('.craft', { hasText: 'Rowan 5' }).waitFor({ state: 'detached' });

    // The passkey is removed: the desk that it signed in is out, and it signs nobody in.
    await office.page.getByRole('button', { name: 'Remove Office of C. Hawthorn' }).click();
    await office.page.getByText('signs nobody in any more').waitFor();
    await second.page.getByRole('button', { name: 'Ask the school now' }).click();
    await second.page.getByText('This desk was signed out. Sign in again.').waitFor();
    // Where the school has it out already, it leaves by itself, to sign in anew.
    await second.page.getByRole('button', { name: 'Sign out' }).click();
    await signIn.waitFor();
    const third = await device();
    await authenticator(third.page, await carried.held());
    await third.page.goto(`${url}#/school`);
    await third.page.getByRole('button', { name: 'Sign in with a passkey' }).click();
    await third.page.getByText('This passkey was removed from the school').waitFor();
    for (const { context } of [phone, office, second, third]) await context.close();
  },
);
