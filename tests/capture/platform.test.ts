import { expect, test } from 'vitest';
import { headset, stayAwake, watchInterruptions } from '#capture';
import { fakeTime } from './time.ts';

function page() {
  let visible = true;
  const takers = new Set<() => void>();
  return {
    visible: () => visible,
    onVisibility: (take: () => void) => {
      takers.add(take);
      return () => void takers.delete(take);
    },
    show(now: boolean) {
      visible = now;
      for (const take of takers) take();
    },
    get watched() {
      return takers.size;
    },
  };
}

test('the screen lock is taken again on return, and let go at the end', async () => {
  const p = page();
  const locks: { released: boolean; release(): Promise<void> }[] = [];
  const awake = stayAwake({
    visible: p.visible,
    onVisibility: p.onVisibility,
    wakeLock: {
      request: () => {
        const lock = {
          released: false,
          release() {
            lock.released = true;
            return Promise.resolve();
          },
        };
        locks.push(lock);
        return Promise.resolve(lock);
      },
    },
  });
  expect(await awake.on()).toBe(true);
  // The platform lets go when the page is hidden.
  if (locks[0] !== undefined) locks[0].released = true;
  p.show(false);
  p.show(true);
  await Promise.resolve();
  expect(locks).toHaveLength(2);
  await awake.off();
  expect(locks[1]?.released).toBe(true);
  expect(p.watched).toBe(0);
});

test('no wake lock, or refused: the walk goes on', async () => {
  const p = page();
  expect(await stayAwake({ visible: p.visible, onVisibility: p.onVisibility }).on()).toBe(false);
  const refused = stayAwake({
    visible: p.visible,
    onVisibility: p.onVisibility,
    wakeLock: { request: () => Promise.reject(new Error('low battery')) },
  });
  expect(await refused.on()).toBe(false);
});

test('the headset button: more than 5 s of generated sound plays in a loop, and plays on after the button', async () => {
  const handlers = new Map<string, (() => void) | null>();
  let plays = 0;
  let bytes = new Uint8Array(0);
  const audio = {
    src: '',
    loop: false,
    volume: 1,
    play: () => {
      plays += 1;
      return Promise.resolve();
    },
    pause: () => undefined,
  };
  const done: string[] = [];
  const it = headset({
    session: {
      setActionHandler: (action, handler) => {
        if (action === 'stop') throw new TypeError('unknown action');
        handlers.set(action, handler);
      },
      playbackState: 'none',
      metadata: null,
    },
    audio: () => audio,
    url: (b) => {
      bytes = new Uint8Array(b);
      return 'blob:silence';
    },
    revoke: (url) => done.push(`revoked ${url}`),
  });
  expect(await it.on({ toggle: () => done.push('toggle'), next: () => done.push('next') })).toBe(
    true,
  );
  expect(audio).toMatchObject({ src: 'blob:silence', loop: true });
  // 16-bit, 8,000 samples a second.
  expect((bytes.length - 44) / 16_000).toBeGreaterThan(5);
  handlers.get('pause')?.();
  handlers.get('nexttrack')?.();
  expect(done).toEqual(['toggle', 'next']);
  expect(plays).toBe(2);
  it.off();
  expect(handlers.get('pause')).toBe(null);
  expect(done.at(-1)).toBe('revoked blob:silence');
});

test('without Media Session, or when play is refused, the button cannot reach us', async () => {
  const none = {
    audio: () => ({
      src: '',
      loop: false,
      volume: 1,
      play: () => Promise.reject(new Error('touch first')),
      pause: () => undefined,
    }),
    url: () => '',
    revoke: () => undefined,
  };
  const actions = { toggle: () => undefined, next: () => undefined };
  expect(await headset(none).on(actions)).toBe(false);
  expect(
    await headset({
      ...none,
      session: { setActionHandler: () => undefined, playbackState: 'none', metadata: null },
    }).on(actions),
  ).toBe(false);
});

test('interruptions: told once at the begin and once at the end; a glance is none', async () => {
  const p = page();
  const time = fakeTime();
  const log: string[] = [];
  let mic: (state: 'open' | 'muted' | 'lost') => void = () => undefined;
  const off = watchInterruptions({
    visible: p.visible,
    onVisibility: p.onVisibility,
    onMicrophone: (take) => {
      mic = take;
      return () => undefined;
    },
    wait: time.wait,
    onBegin: (why) => log.push(`begin ${why}`),
    onEnd: (why) => log.push(`end ${why}`),
  });
  p.show(false);
  await time.pass(1);
  p.show(true);
  await time.pass(5);
  expect(log).toEqual([]);
  p.show(false);
  await time.pass(5);
  p.show(false);
  p.show(true);
  mic('muted');
  await time.pass(5);
  mic('open');
  mic('lost');
  await time.pass(0);
  mic('open');
  expect(log).toEqual([
    'begin hidden',
    'end hidden',
    'begin interrupted',
    'end interrupted',
    'begin sound-lost',
    'end sound-lost',
  ]);
  off();
  expect(p.watched).toBe(0);
});
