import { expect, test } from 'vitest';
import { installLocal, localState } from '#capture';
import { INSTALL_PATIENCE } from '../../src/capture/browser/install.ts';
import { recognitionDouble } from './recognition.ts';
import { fakeTime } from './time.ts';

type Options = Parameters<typeof recognitionDouble>[2];

function stage(options: Options) {
  const time = fakeTime();
  const double = recognitionDouble(time, [[]], options);
  return { ...double, time };
}

test.each([
  ['available', 'done', 'here'],
  ['downloadable', 'done', 'offered'],
  ['downloading', 'done', 'coming'],
  ['unavailable', 'done', 'none'],
  // Nothing that cannot be kept is offered.
  ['downloadable', undefined, 'none'],
  ['throws', 'done', 'none'],
  ['a word of a later version', 'done', 'none'],
  ['constructor', 'done', 'none'],
  [undefined, undefined, 'none'],
] as const)('the platform says %s, with install %s: %s', async (available, install, state) => {
  const { platform, asked } = stage({
    ...(available === undefined ? {} : { available }),
    ...(install === undefined ? {} : { install }),
  });
  expect(await localState(platform)).toBe(state);
  // Asked for this device alone; looking installs nothing.
  expect(asked.every((c) => c === 'available here')).toBe(true);
});

test('a browser without the API has none', async () => {
  const { platform } = stage({});
  expect(await localState({ ...platform, api: null })).toBe('none');
});

test.each([
  ['done', { ok: true }],
  ['refused', { ok: false, why: expect.stringContaining('could not install') as string }],
  ['throws', { ok: false, why: expect.stringContaining('could not install') as string }],
  ['empty', { ok: false, why: expect.stringContaining('could not install') as string }],
] as const)('an installation that is %s: %j', async (install, outcome) => {
  const { platform, time, asked } = stage({ available: 'downloadable', install });
  const done = installLocal(platform, { wait: time.wait });
  await time.pass(31);
  expect(await done).toEqual(outcome);
  expect(asked).toContain('install en-US');
});

test('an installation that was cut off and never answers is given up, and not called a failure of anything', async () => {
  const { platform, time } = stage({ available: 'downloadable', install: 'never' });
  let came: unknown = null;
  void installLocal(platform, { wait: time.wait }).then((done) => (came = done));
  await time.pass(INSTALL_PATIENCE - 1);
  expect(came).toBeNull();
  await time.pass(2);
  expect(came).toEqual({ ok: false, why: expect.stringContaining('may still come') as string });
});
