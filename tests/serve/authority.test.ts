import { X509Certificate } from 'node:crypto';
import { mkdtempSync, rmSync, statSync, writeFileSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { makers, newAuthority } from './authority.ts';

/** Issue 14.7: the authority that a phone installs once. */
const DAY = 24 * 3600 * 1000;
let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'talkround-authority-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const { ownAuthority, certificateFor, speaksFor } = await makers();

describe('14.7: the authority of this machine', () => {
  test('is made once, and its key is for its owner alone', async () => {
    const now = Date.now();
    const first = await ownAuthority(folder, now, []);
    const second = await ownAuthority(folder, now + 100 * DAY, []);
    expect([first.made, second.made]).toEqual([true, false]);
    expect(second.fingerprint).toBe(first.fingerprint);
    if (process.platform !== 'win32')
      expect(statSync(join(folder, 'key.pem')).mode & 0o077).toBe(0);
  });

  test('is made anew when asked, when it ends soon, when it is damaged, and when its key is of another', async () => {
    const now = Date.now();
    const first = await ownAuthority(folder, now, []);
    expect((await ownAuthority(folder, first.until - 39 * DAY, [])).made).toBe(true);
    expect((await ownAuthority(folder, now, [], true)).made).toBe(true);
    writeFileSync(join(folder, 'key.pem'), (await newAuthority()).keyPem);
    expect((await ownAuthority(folder, now, [])).made).toBe(true);
    writeFileSync(join(folder, 'authority.pem'), 'cut off');
    expect((await ownAuthority(folder, now, [])).made).toBe(true);
    const kept = new X509Certificate(readFileSync(join(folder, 'authority.pem')));
    expect(kept.ca).toBe(true);
  });

  test.each([
    ['127.0.0.1', true],
    ['10.1.2.3', true],
    ['172.31.255.255', true],
    ['172.32.0.1', false],
    ['192.168.4.5', true],
    ['198.51.100.7', true],
    ['198.51.100.8', false],
    ['8.8.8.8', false],
  ])('speaks for %s: %s (it was made at 198.51.100.7)', async (ip, can) => {
    expect(speaksFor(await newAuthority(['192.168.4.5', '198.51.100.7']), ip)).toBe(can);
  });
});

test('14.7: the certificate of a visit has the extensions that browsers and phones ask for', async () => {
  const authority = await newAuthority();
  const now = Date.now();
  const made = await certificateFor(authority, ['192.168.4.5'], ['localhost', 'hangar.local'], now);
  const [own = '', chain = ''] =
    made.cert.match(/-----BEGIN[^-]+-----[^-]+-----END[^-]+-----/g) ?? [];
  const certificate = new X509Certificate(own);
  const issuer = new X509Certificate(chain);
  expect(certificate.ca).toBe(false);
  expect(certificate.verify(issuer.publicKey)).toBe(true);
  expect(certificate.checkIssued(issuer)).toBe(true);
  expect(issuer.fingerprint256.replaceAll(':', ' ')).toBe(authority.fingerprint);
  expect(certificate.checkIP('192.168.4.5')).toBe('192.168.4.5');
  expect(certificate.checkIP('192.168.4.6')).toBe(undefined);
  expect(certificate.checkHost('hangar.local')).toBe('hangar.local');
  // id-kp-serverAuth (RFC 5280, section 4.2.1.12), and nothing else.
  expect(certificate.keyUsage).toEqual(['1.3.6.1.5.5.7.3.1']);
  // iOS refuses more than 825 days.
  const days = (Date.parse(certificate.validTo) - Date.parse(certificate.validFrom)) / DAY;
  expect(days).toBeLessThan(32);
});
