import { expect, test } from 'vitest';
import { whyUncopied } from '../../src/wire/offline-copy.ts';

const refusing = (error: unknown) => ({
  controller: null,
  register: () => Promise.reject(error),
});
const beside = () => Promise.resolve('https://192.168.4.5:4710/phone/');

test('14.7: a browser that does not trust the certificate is told honestly, with the way out', async () => {
  const container = refusing(new DOMException('An SSL certificate error', 'SecurityError'));
  expect(await whyUncopied({ container, beside })).toEqual({
    sentence:
      'Talkround is not kept on this device: its browser does not trust the certificate of this server. It works now, but without this network it will not open here.',
    help: 'https://192.168.4.5:4710/phone/',
  });
});

test('14.7: a server without such a page is not linked to', async () => {
  const container = refusing(new DOMException('', 'SecurityError'));
  const none = await whyUncopied({ container, beside: () => Promise.resolve(null) });
  const gone = await whyUncopied({ container, beside: () => Promise.reject(new TypeError()) });
  expect([none?.help, gone?.help]).toEqual([null, null]);
});

test('14.7: another refusal is not called a matter of certificates', async () => {
  const told = await whyUncopied({ container: refusing(new TypeError('failed')), beside });
  expect(told?.sentence).not.toContain('certificate');
  expect(told?.help).toBe(null);
});

test('14.7: where there is a copy, or will be one, nothing is said', async () => {
  const made = { register: () => Promise.resolve({} as ServiceWorkerRegistration) };
  expect(await whyUncopied({ container: { ...made, controller: null }, beside })).toBe(null);
  const controller = {} as ServiceWorker;
  expect(await whyUncopied({ container: { ...refusing(null), controller }, beside })).toBe(null);
});
