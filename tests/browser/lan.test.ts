import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { chromium, type BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { makers } from '../serve/authority.ts';
import { APP } from './store-chromium.ts';

/** Issue 14.7: over HTTPS to the local network, as a phone that knows the computer sees it and as one that does not. */
interface Served {
  readonly app: { readonly port: number; close(): Promise<void> };
  readonly phone: { readonly port: number; close(): Promise<void> };
  readonly authority: { readonly fingerprint: string };
  readonly unknown: readonly string[];
}
interface Lan {
  serveLan(options: {
    folder: string;
    open: <T>(listen: (port: number) => Promise<T>) => Promise<T>;
    addresses: readonly string[];
    anew: boolean;
  }): Promise<Served>;
  inWords(served: Served, addresses: readonly string[]): Promise<string>;
  lanAddresses(): readonly string[];
}

interface Plain {
  serve(options: {
    folder: string;
    secure: { key: string; cert: string };
    names: readonly string[];
  }): Promise<Served['app']>;
}

const load = (file: string) => import(pathToFileURL(join(process.cwd(), file)).href);

let folder: string;
let serve: Plain['serve'];
let lan: Lan;
let served: Served;
let address: string;
let app: string;
let phone: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'talkround-lan-'));
  process.env['TALKROUND_HOME'] = folder;
  lan = (await load('src/serve/lan.mjs')) as Lan;
  ({ serve } = (await load('src/serve/serve.mjs')) as Plain);
  address = lan.lanAddresses()[0] ?? '127.0.0.1';
  served = await begin();
  app = `https://${address}:${served.app.port}/`;
  phone = `http://${address}:${served.phone.port}/`;
});
afterAll(async () => {
  await Promise.all([served.app.close(), served.phone.close()]);
  delete process.env['TALKROUND_HOME'];
  rmSync(folder, { recursive: true, force: true });
});

function begin(): Promise<Served> {
  const open = <T>(listen: (port: number) => Promise<T>) => listen(0);
  return lan.serveLan({ folder: APP, open, addresses: [address], anew: false });
}

/** A browser of its own, as on a phone: with or without the authority among those that it trusts. */
async function phoneBrowser(
  trusts: boolean,
  args: readonly string[] = [],
): Promise<BrowserContext> {
  const home = mkdtempSync(join(folder, 'home-'));
  if (trusts) {
    // Chromium on Linux takes what a person installed from here.
    const store = join(home, '.pki', 'nssdb');
    mkdirSync(store, { recursive: true });
    const tool = (...words: string[]) => execFileSync('certutil', ['-d', `sql:${store}`, ...words]);
    tool('-N', '--empty-password');
    tool('-A', '-t', 'C,,', '-n', 'talkround', '-i', join(folder, 'authority', 'authority.pem'));
  }
  return chromium.launchPersistentContext(join(home, 'profile'), {
    executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
    args: ['--no-sandbox', ...args],
    env: { ...process.env, HOME: home, XDG_DATA_HOME: join(home, '.local', 'share') } as Record<
      string,
      string
    >,
  });
}

test('14.7: the page for phones says what is so, and leads to both ways', async () => {
  const browser = await phoneBrowser(false);
  try {
    const page = await browser.newPage();
    await page.goto(phone);
    const text = await page.locator('body').innerText();
    for (const words of [
      'Android',
      'iPhone',
      'Certificate Trust Settings',
      'without a network',
      'SHA-256',
    ])
      expect(text).toContain(words);
    // It can be forged on its way: nobody may be led to compare with it.
    expect(text).not.toContain(served.authority.fingerprint.slice(0, 11));
    const links = await page
      .locator('a.press')
      .evaluateAll((all) => all.map((a) => (a as HTMLAnchorElement).href));
    expect(links).toEqual([`${phone}talkround-authority.crt`, app, app]);
    const file = await fetch(links[0] ?? '');
    expect(file.headers.get('content-type')).toBe('application/x-x509-ca-cert');
    const installed = join(folder, 'installed.crt');
    writeFileSync(installed, new Uint8Array(await file.arrayBuffer()));
    const said = execFileSync('openssl', [
      'x509',
      '-inform',
      'DER',
      '-in',
      installed,
      '-noout',
      '-fingerprint',
      '-sha256',
    ]);
    expect(said.toString().trim().split('=')[1]?.replaceAll(':', ' ')).toBe(
      served.authority.fingerprint,
    );
    // The screen of the computer has it beside the code.
    const words = await lan.inWords(served, [address]);
    for (const row of served.authority.fingerprint.match(/(?:.. ?){8}/g) ?? [])
      expect(words).toContain(row.trim());
    expect(words).toContain(phone);
  } finally {
    await browser.close();
  }
});

test('14.7: with the authority installed there is no warning, and the app opens without a network', async () => {
  const browser = await phoneBrowser(true);
  try {
    const page = await browser.newPage();
    await page.goto(app);
    await page.getByRole('button', { name: 'Begin the walk' }).waitFor();
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    expect(await page.getByRole('region', { name: 'Without a network' }).count()).toBe(0);
    // The computer is switched off, and the phone is opened on the ramp.
    const { port } = served.app;
    await served.app.close();
    await page.close();
    const ramp = await browser.newPage();
    await ramp.goto(`https://${address}:${port}/`);
    await ramp.getByRole('button', { name: 'Begin the walk' }).waitFor();
    await ramp.close();
  } finally {
    await browser.close();
    await served.phone.close();
    // The next start uses the same authority: a phone installs it once.
    const { fingerprint } = served.authority;
    served = await begin();
    expect(served.authority.fingerprint).toBe(fingerprint);
    app = `https://${address}:${served.app.port}/`;
    phone = `http://${address}:${served.phone.port}/`;
  }
});

test('14.7: without it the browser warns, and the app says that nothing is kept and what to do', async () => {
  const browser = await phoneBrowser(false);
  try {
    const page = await browser.newPage();
    await expect(page.goto(app)).rejects.toThrow('ERR_CERT_AUTHORITY_INVALID');
    // What a person does who goes on all the same.
    await page.locator('#details-button').click();
    await page.locator('#proceed-link').click();
    await page.getByRole('button', { name: 'Begin the walk' }).waitFor();
    const told = page.getByRole('region', { name: 'Without a network' });
    await told.waitFor();
    expect(await told.innerText()).toContain('does not trust the certificate of this server');
    expect(await page.evaluate(() => isSecureContext)).toBe(true);
    expect(await page.evaluate(() => navigator.serviceWorker.getRegistration())).toBe(undefined);
    await told.locator('summary').click();
    await told.getByRole('link', { name: 'What to do about it' }).click();
    await page.getByRole('heading', { name: 'Talkround on this phone' }).waitFor();
    expect(page.url()).toBe(`${app}phone/`);
  } finally {
    await browser.close();
  }
});

test('14.7: whoever steals the key of the authority passes for a machine of the hangar, not for a site of the internet', async () => {
  const hosts = ['--host-resolver-rules=MAP *.example 127.0.0.1, MAP *.local 127.0.0.1'];
  const browser = await phoneBrowser(true, hosts);
  const { certificateFor, ownAuthority } = await makers();
  const stolen = await ownAuthority(join(folder, 'authority'), Date.now(), [address]);
  expect(stolen.made).toBe(false);
  const names = ['bank.example', 'hangar.local'];
  const visit = async (name: string) => {
    const secure = await certificateFor(stolen, [], [name], Date.now());
    const server = await serve({ folder: APP, secure, names });
    const page = await browser.newPage();
    try {
      await page.goto(`https://${name}:${server.port}/changes.json`);
      return 'opened';
    } catch (error) {
      return /ERR_\w+/.exec(String(error))?.[0] ?? '';
    } finally {
      await server.close();
    }
  };
  try {
    expect(await visit('hangar.local')).toBe('opened');
    expect(await visit('bank.example')).toMatch(/^ERR_CERT_/);
  } finally {
    await browser.close();
  }
});
