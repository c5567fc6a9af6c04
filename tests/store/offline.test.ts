import { expect, test } from 'vitest';
import { VERSION, watchForUpdate, type Update } from '#store';
import changes from '../../src/store/changes.json';
import pack from '../../package.json';

/** A browser's service workers, played. */
function played(options: { controlled: boolean; waiting?: boolean }) {
  const container = new EventTarget();
  const registration = new EventTarget();
  const posted: unknown[] = [];
  const worker = (state: string) =>
    Object.assign(new EventTarget(), { state, postMessage: (m: unknown) => posted.push(m) });
  Object.assign(registration, {
    waiting: options.waiting === true ? worker('installed') : null,
    installing: null,
  });
  Object.assign(container, {
    controller: options.controlled ? worker('activated') : null,
    ready: Promise.resolve(registration),
  });
  return { container: container as ServiceWorkerContainer, registration, posted, worker };
}

async function watch(
  platform: ReturnType<typeof played>,
  more: { busy?: () => boolean; changes?: unknown } = {},
) {
  const seen = { updates: [] as Update[], offline: [] as string[], reloads: 0, asked: 0 };
  await watchForUpdate({
    container: platform.container,
    busy: async () => more.busy?.() ?? false,
    onUpdate: (update) => seen.updates.push(update),
    onOffline: (sentence) => seen.offline.push(sentence),
    reload: () => (seen.reloads += 1),
    async fetchChanges() {
      seen.asked += 1;
      if (more.changes === undefined) throw new TypeError('no network');
      return more.changes;
    },
  });
  const settle = () => new Promise((resolve) => setTimeout(resolve, 0));
  await settle();
  return { seen, settle };
}
const NEWER = [
  { version: '9.1.0', changes: ['Two.'] },
  { version: '9.0.0', changes: ['One.'] },
  ...changes,
];

test('the list of changes begins with this version', () => {
  expect(VERSION).toBe(pack.version);
});

test('the first visit says that the app is kept, and does not load again', async () => {
  const platform = played({ controlled: false });
  const { seen } = await watch(platform);
  platform.container.dispatchEvent(new Event('controllerchange'));
  expect(seen).toMatchObject({ updates: [], reloads: 0 });
  expect(seen.offline).toEqual([expect.stringContaining('without a network')]);
});

test('an update says what changed since this version, and comes in when asked', async () => {
  const platform = played({ controlled: true, waiting: true });
  const { seen } = await watch(platform, { changes: NEWER });
  expect(seen.updates).toHaveLength(1);
  expect(seen.updates[0]?.changes).toEqual(['Two.', 'One.']);
  expect(seen.updates[0]?.sentence).toContain('Talkround 9.1.0 is ready');
  expect(await seen.updates[0]?.apply()).toBe(true);
  expect(platform.posted).toEqual([{ type: 'SKIP_WAITING' }]);
  platform.container.dispatchEvent(new Event('controllerchange'));
  expect(seen.reloads).toBe(1);
});

test('an update never interrupts a walk, and asks nothing over the network during one', async () => {
  const platform = played({ controlled: true, waiting: true });
  const { seen } = await watch(platform, { busy: () => true, changes: NEWER });
  expect(await seen.updates[0]?.apply()).toBe(false);
  expect(platform.posted).toEqual([]);
  expect(seen).toMatchObject({ reloads: 0, asked: 0 });
});

test.each([
  ['no network', undefined],
  ['nonsense', { evil: true }],
  ['an empty list', []],
])('an update without word of what changed is still told: %s', async (_name, told) => {
  const { seen } = await watch(played({ controlled: true, waiting: true }), { changes: told });
  expect(seen.updates[0]?.sentence).toContain('A newer Talkround is ready');
});

test('an update that is found later is told when it is on the device', async () => {
  const platform = played({ controlled: true });
  const { seen, settle } = await watch(platform, { changes: NEWER });
  const coming = platform.worker('installing');
  Object.assign(platform.registration, { installing: coming });
  platform.registration.dispatchEvent(new Event('updatefound'));
  expect(seen.updates).toEqual([]);
  coming.state = 'installed';
  coming.dispatchEvent(new Event('statechange'));
  await settle();
  expect(seen.updates).toHaveLength(1);
});
