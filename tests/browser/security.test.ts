import { request } from 'node:http';
import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { HEADER_ONLY, headersFor, metaPolicy, POLICY } from '../../src/serve/headers.mjs';
import { APP, serveFolder, startChromium } from './store-chromium.ts';

/** What the server says and refuses, and that the page keeps its own policy. */
let browser: Browser;
let server: Awaited<ReturnType<typeof serveFolder>>;
let base: string;
beforeAll(async () => {
  [browser, server] = await Promise.all([startChromium(), serveFolder(APP)]);
  base = `http://localhost:${server.port}/`;
});
afterAll(async () => {
  await browser.close();
  await server.close();
});

/** A request to the letter: fetch would tidy the path. */
function raw(method: string, path: string): Promise<{ status: number; body: string }> {
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port: server.port, method, path }, (answer) => {
      let body = '';
      answer.on('data', (part: Buffer) => (body += part.toString()));
      answer.on('end', () => resolve({ status: answer.statusCode ?? 0, body }));
    });
    asked.on('error', reject);
    asked.end();
  });
}

describe('headers', () => {
  test.each(['', 'manifest.webmanifest', 'sw.js', 'model/en-us/dict.txt', 'not/there'])(
    'of /%s',
    async (path) => {
      const { headers } = await fetch(`${base}${path}`);
      const policy = headers.get('content-security-policy') ?? '';
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("frame-ancestors 'none'");
      expect(policy).not.toMatch(/unsafe-inline|'unsafe-eval'|https?:|\*/);
      expect(headers.get('x-content-type-options')).toBe('nosniff');
      expect(headers.get('referrer-policy')).toBe('no-referrer');
      expect(headers.get('cross-origin-opener-policy')).toBe('same-origin');
      expect(headers.get('cross-origin-resource-policy')).toBe('same-origin');
      expect(headers.get('permissions-policy')).toContain('microphone=(self)');
      expect(headers.get('permissions-policy')).toContain('camera=()');
      expect(headers.get('permissions-policy')).toContain('geolocation=()');
    },
  );

  test('files with a hash in their name are kept, everything else is asked about', async () => {
    const page = await (await fetch(base)).text();
    const script = /src="\.\/(assets\/[^"]+\.js)"/.exec(page)?.[1] ?? '';
    const cache = async (path: string) =>
      (await fetch(`${base}${path}`)).headers.get('cache-control');
    expect(await cache(script)).toContain('immutable');
    expect(await cache('')).toBe('no-cache');
    expect(await cache('sw.js')).toBe('no-cache');
    expect(await cache('model/en-us/dict.txt')).toBe('no-cache');
  });

  test('the page has the same policy in a <meta>, for hosts that set no headers', async () => {
    const page = await browser.newPage();
    await page.goto(base);
    const content = await page
      .locator('meta[http-equiv="Content-Security-Policy"]')
      .getAttribute('content');
    expect(content).toBe(metaPolicy());
    await page.close();
  });

  test('no inline script and no other origin is in the policy, and over https nothing is plain', () => {
    const values = Object.values({ ...POLICY, ...HEADER_ONLY }).flat();
    expect(values.every((v) => /^('none'|'self'|'wasm-unsafe-eval'|data:|blob:)$/.test(v))).toBe(
      true,
    );
    expect(POLICY['script-src']).toEqual(["'self'", "'wasm-unsafe-eval'"]);
    expect(headersFor('/', true)['Content-Security-Policy']).toContain('upgrade-insecure-requests');
  });
});

describe('the server serves its folder and nothing else', () => {
  test.each([
    '/../package.json',
    '/..%2fpackage.json',
    '/%2e%2e/package.json',
    '/..%5cpackage.json',
    '/assets/../../../package.json',
    '/assets/%2e%2e%2f%2e%2e%2f%2e%2e%2fpackage.json',
    '//etc/passwd',
    '/%00',
    '/.env',
    '/%ff',
  ])('GET %s gives nothing', async (path) => {
    const { status, body } = await raw('GET', path);
    expect(status).toBeGreaterThanOrEqual(400);
    expect(body).not.toMatch(/"dependencies"|root:/);
  });

  test.each(['POST', 'PUT', 'DELETE', 'PATCH'])('%s is refused', async (method) => {
    expect((await raw(method, '/')).status).toBe(405);
  });
});

test('the server listens on loopback only, unless told otherwise', async () => {
  const outside = Object.values(networkInterfaces())
    .flatMap((all) => all ?? [])
    .filter((one) => !one.internal && one.family === 'IPv4')
    .map((one) => one.address);
  const reaches = (host: string) =>
    new Promise<boolean>((resolve) => {
      const socket = connect({ host, port: server.port, timeout: 2000 });
      const end = (reached: boolean) => () => {
        socket.destroy();
        resolve(reached);
      };
      socket.once('connect', end(true)).once('error', end(false)).once('timeout', end(false));
    });
  expect(await reaches('127.0.0.1')).toBe(true);
  // Another address of loopback is there on every machine, one of the network on most.
  for (const host of [...(process.platform === 'linux' ? ['127.0.0.2'] : []), ...outside])
    expect(await reaches(host), host).toBe(false);
});

test('Permissions-Policy: the page cannot even ask for the camera or the place, and may for the microphone', async () => {
  const context = await browser.newContext();
  const page = await context.newPage();
  await page.goto(base);
  const allowed = await page.evaluate(() => {
    const policy = Reflect.get(document, 'featurePolicy') as {
      allowsFeature(name: string): boolean;
    };
    return ['microphone', 'camera', 'geolocation', 'usb', 'payment'].map((name) => [
      name,
      policy.allowsFeature(name),
    ]);
  });
  expect(Object.fromEntries(allowed)).toEqual({
    microphone: true,
    camera: false,
    geolocation: false,
    usb: false,
    payment: false,
  });
  const why = await page.evaluate(() =>
    navigator.mediaDevices.getUserMedia({ video: true }).then(
      () => 'granted',
      (error: unknown) => (error instanceof Error ? error.name : ''),
    ),
  );
  expect(why).not.toBe('granted');
  await context.close();
});

describe('the page keeps its policy', () => {
  test('nothing on any screen violates it, and nothing is said on the console', async () => {
    const page = await browser.newPage();
    const wrong: string[] = [];
    await page.addInitScript(() => {
      Object.assign(globalThis, { violations: [] });
      document.addEventListener('securitypolicyviolation', (event) => {
        (Reflect.get(globalThis, 'violations') as string[]).push(
          `${event.violatedDirective} ${event.blockedURI} ${event.sourceFile}:${event.lineNumber}`,
        );
      });
    });
    page.on('pageerror', (error) => wrong.push(error.message));
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) wrong.push(message.text());
    });
    await page.goto(base);
    await page.getByText('Who walks, and what listens').click();
    await page.getByLabel('Words come from').selectOption({ label: 'the keyboard only' });
    await page.getByRole('button', { name: 'Begin the walk' }).click();
    await page.getByRole('textbox', { name: 'Type instead of speaking' }).fill('cabin, doors good');
    await page.getByRole('button', { name: 'Say', exact: true }).click();
    await page.getByRole('link', { name: 'Finish the walk' }).click();
    for (const place of ['#/walks', '#/squawks', '#/squawk/', '#/settings', '#/']) {
      await page.goto(`${base}${place}`);
      await page.getByRole('main').waitFor();
      await page.waitForTimeout(300);
    }
    // The sheet and the debrief of the walk that was just made, charts and all.
    await page.goto(`${base}#/walks`);
    const walk = await page
      .locator('a[href*="/sheet/"], a[href*="/debrief/"]')
      .first()
      .getAttribute('href');
    const id = /\/(?:sheet|debrief)\/([^/?]+)/.exec(walk ?? '')?.[1] ?? '';
    expect(id).not.toBe('');
    for (const place of [`#/sheet/${id}`, `#/debrief/${id}`, `#/several/${id}`]) {
      await page.goto(`${base}${place}`);
      await page.getByRole('main').waitFor();
      await page.waitForTimeout(500);
    }
    expect(await page.evaluate(() => Reflect.get(globalThis, 'violations') as string[])).toEqual(
      [],
    );
    expect(wrong).toEqual([]);
    await page.close();
  });

  test('script that gets into the page does not run, and eval is refused', async () => {
    const page = await browser.newPage();
    await page.goto(base);
    const ran = await page.evaluate(async () => {
      const inline = document.createElement('script');
      inline.textContent = 'globalThis.intruder = true';
      document.head.append(inline);
      const image = document.createElement('div');
      image.innerHTML = '<img src="x:" onerror="globalThis.intruder = true">';
      document.body.append(image);
      await new Promise((resolve) => setTimeout(resolve, 200));
      return Reflect.get(globalThis, 'intruder') === true;
    });
    expect(ran).toBe(false);
    const evaluated = await page.evaluate(() => {
      // As a page would: the debugger's own evaluation is not held by the policy.
      return new Promise<string>((resolve) => {
        document.addEventListener('securitypolicyviolation', (e) => resolve(e.violatedDirective), {
          once: true,
        });
        const script = document.createElement('script');
        script.src = 'data:text/javascript,1';
        document.head.append(script);
      });
    });
    expect(evaluated).toContain('script-src');
    await page.close();
  });
});
