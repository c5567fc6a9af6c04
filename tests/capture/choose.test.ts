import { expect, test } from 'vitest';
import { chooseEar, PRIVACY, scriptedEar, substitutes, type Source } from '#capture';
import { fakeTime } from './time.ts';

const time = fakeTime();
function source(key: Source['key'], able: boolean): Source {
  const sendsAway = key === 'browser-service';
  return {
    key,
    name: key,
    sendsAway,
    probe: () =>
      Promise.resolve(able ? { able: true } : { able: false, why: `${key} is not here.` }),
    make: () => scriptedEar({ world: time.world, seconds: () => 0 }, [], time.wait),
  };
}
const all = (able: Partial<Record<Source['key'], boolean>>) =>
  (['embedded', 'browser-local', 'browser-service'] as const).map((k) =>
    source(k, able[k] ?? false),
  );

const YES = { embedded: true, 'browser-local': true, 'browser-service': true };
test.each([
  ['this-device', YES, 'browser-local'],
  ['this-device', { embedded: true, 'browser-service': true }, 'embedded'],
  ['this-device', { 'browser-local': true, 'browser-service': true }, 'browser-local'],
  ['this-device', { 'browser-service': true }, null],
  ['browser-service', YES, 'browser-local'],
  ['browser-service', { embedded: true, 'browser-service': true }, 'browser-service'],
  ['browser-service', { embedded: true }, 'embedded'],
] as const)('%s of %j: %s', async (allowed, able, expected) => {
  const choice = await chooseEar(allowed, all(able));
  expect(choice.ok ? choice.source.key : null).toBe(expected);
});

test('it says which one listens, whether sound leaves, and asks before the first use of one that sends', async () => {
  const away = await chooseEar('browser-service', all({ 'browser-service': true }));
  expect(away).toMatchObject({
    ok: true,
    sentence: 'browser-service listens. The sound leaves this device.',
    privacy: PRIVACY,
    passedOver: ['browser-local is not here.'],
  });
  expect(await chooseEar('browser-service', all({ 'browser-service': true }), true)).toMatchObject({
    privacy: null,
  });
  expect(await chooseEar('this-device', all(YES))).toMatchObject({
    sentence: 'browser-local listens. No sound leaves this device.',
    privacy: null,
  });
});

test('nothing able: one sentence that says why and what to do', async () => {
  expect(await chooseEar('this-device', all({}))).toEqual({
    ok: false,
    sentence:
      'Nothing can listen here: browser-local is not here. embedded is not here. Words can be typed.',
  });
});

test('a probe that fails is an answer too', async () => {
  const broken = { ...source('embedded', true), probe: () => Promise.reject(new Error('x')) };
  expect(await chooseEar('this-device', [broken])).toMatchObject({ ok: false });
});

test('never from local to network by itself, in any setting', () => {
  for (const allowed of ['this-device', 'browser-service'] as const) {
    for (const failed of all(YES)) {
      for (const next of substitutes(failed, allowed, all(YES))) {
        expect(next.sendsAway && !failed.sendsAway).toBe(false);
        expect(next.key).not.toBe(failed.key);
      }
    }
  }
  // Where the browser's own here fails in mid-walk, ours takes over, and the other way round.
  const here = (key: Source['key']) =>
    substitutes(source(key, true), 'this-device', all(YES)).map((s) => s.key);
  expect(here('browser-local')).toEqual(['embedded']);
  expect(here('embedded')).toEqual(['browser-local']);
  expect(
    substitutes(source('browser-service', true), 'browser-service', all(YES)).map((s) => s.key),
  ).toEqual(['browser-local', 'embedded']);
});
