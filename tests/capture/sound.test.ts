import { expect, test } from 'vitest';
import { joinSound, microphone, recorder, type Keep, type RecordedChunk } from '#capture';
import { fakeTime } from './time.ts';

/** A recorder that gives a slice every second, `begun` ms late never. */
function stage(
  options: {
    keep?: (chunk: RecordedChunk, n: number) => ReturnType<Keep>;
    fails?: 'make' | 'start' | 'kind';
  } = {},
) {
  const time = fakeTime();
  const kept: RecordedChunk[] = [];
  const missing: string[] = [];
  const listeners = new Map<string, ((event: never) => void)[]>();
  let running = 0;
  const fire = (type: string, event: unknown) =>
    (listeners.get(type) ?? []).forEach((take) => take(event as never));
  const data = (n: number) => ({
    data: { size: 4, arrayBuffer: () => Promise.resolve(new Uint8Array([n, n, n, n]).buffer) },
  });
  const it = recorder({
    world: time.world,
    seconds: () => time.seconds(),
    keep: async (chunk) => {
      const answer = await (options.keep?.(chunk, kept.length) ??
        Promise.resolve({ kept: true as const }));
      if (answer.kept) kept.push(chunk);
      return answer;
    },
    onMissing: (why) => missing.push(why),
    supports: (mime) => options.fails !== 'kind' && mime.includes('opus'),
    make: () => {
      if (options.fails === 'make') throw new Error('no');
      listeners.clear();
      let n = 0;
      let live = false;
      return {
        start(slice) {
          if (options.fails === 'start') throw new Error('no');
          live = true;
          running += 1;
          const next = () =>
            time.wait(slice / 1000, () => {
              if (!live) return;
              fire('dataavailable', data((n += 1)));
              next();
            });
          next();
        },
        stop() {
          if (!live) throw new Error('inactive');
          live = false;
          running -= 1;
          fire('dataavailable', data(99));
          fire('stop', {});
        },
        addEventListener: (type: string, take: (event: never) => void) =>
          void listeners.set(type, [...(listeners.get(type) ?? []), take]),
      };
    },
  });
  return { it, time, kept, missing, fire, running: () => running };
}

test('slices are handed over within 2 s, in order, with their place', async () => {
  const { it, time, kept } = stage();
  await time.pass(3);
  it.start({});
  await time.pass(2);
  expect(kept.map((c) => [c.chunk, c.place.from, c.place.to])).toEqual([
    [0, 0, 1],
    [1, 1, 2],
  ]);
  await time.pass(0.5);
  await it.stop();
  expect(kept.map((c) => [c.chunk, c.place.from, c.place.to]).at(-1)).toEqual([2, 2, 2.5]);
  expect(it.place(4, 4.5)).toEqual({ recording: kept[0]?.recording, from: 1, to: 1.5 });
  expect(it.place(1, 2)).toBe(null);
  expect(it.place(6, 7)).toBe(null);
  expect(it.place(5, 9)).toMatchObject({ from: 2, to: 2.5 });
});

test('a second recording begins its own places', async () => {
  const { it, time, kept } = stage();
  it.start({});
  await time.pass(1.5);
  await it.stop();
  await time.pass(5);
  it.start({});
  await time.pass(3);
  expect(new Set(kept.map((c) => c.recording)).size).toBe(2);
  expect(it.place(7, 8)).toMatchObject({ recording: kept.at(-1)?.recording, from: 0.5, to: 1.5 });
});

test('disk full: sound stops, told once, what was kept before has its places', async () => {
  const { it, time, missing, kept, running } = stage({
    keep: (_, n) =>
      Promise.resolve(n < 2 ? { kept: true } : { kept: false, why: 'The disk is full.' }),
  });
  it.start({});
  await time.pass(10);
  expect(missing).toEqual(['The disk is full.']);
  expect(kept).toHaveLength(2);
  expect(running()).toBe(0);
  expect(it.place(1, 1.5)).not.toBe(null);
  expect(it.place(5, 6)).toBe(null);
  expect(it.recording).toBe(false);
});

test('a keeper that throws and a recorder that breaks are told, each once', async () => {
  const a = stage({ keep: () => Promise.reject(new Error('x')) });
  a.it.start({});
  await a.time.pass(5);
  expect(a.missing).toHaveLength(1);
  const b = stage();
  b.it.start({});
  await b.time.pass(1.5);
  b.fire('error', {});
  await b.time.pass(3);
  expect(b.missing).toEqual(['The recording broke off; the words alone are kept from here on.']);
});

test.each(['make', 'start', 'kind'] as const)(
  'no recorder (%s): the words alone, said in a sentence',
  (fails) => {
    const { it, missing } = stage({ fails });
    it.start({});
    expect(missing).toHaveLength(1);
    expect(missing[0]).toMatch(/words alone are kept\.$/);
    expect(it.recording).toBe(false);
  },
);

test('joined in order, doubles once; behind a gap nothing is played', () => {
  const chunk = (n: number) => ({ chunk: n, mime: 'audio/webm', data: new Uint8Array([n]).buffer });
  expect(joinSound([chunk(2), chunk(0), chunk(1), chunk(1)])).toMatchObject({
    data: Uint8Array.from([0, 1, 2]),
    missing: [],
    warning: null,
  });
  expect(joinSound([chunk(0), chunk(1), chunk(3)])).toMatchObject({
    data: Uint8Array.from([0, 1]),
    missing: [2],
  });
  expect(joinSound([chunk(1)])?.warning).toBe(
    'The begin of this recording is missing; it cannot be played.',
  );
  expect(joinSound([])).toBe(null);
});

function devices(plan: (string | 'ok')[]) {
  const tracks: { listeners: Map<string, () => void>; stopped: boolean }[] = [];
  let change: (() => void) | null = null;
  return {
    tracks,
    plug: () => change?.(),
    get watched() {
      return change !== null;
    },
    api: {
      getUserMedia: () => {
        const next = plan.shift() ?? 'ok';
        if (next !== 'ok') return Promise.reject(Object.assign(new Error('no'), { name: next }));
        const track = { listeners: new Map<string, () => void>(), stopped: false };
        tracks.push(track);
        return Promise.resolve({
          getAudioTracks: () => [
            {
              muted: false,
              readyState: 'live',
              addEventListener: (t: string, f: () => void) => void track.listeners.set(t, f),
              stop: () => (track.stopped = true),
            },
          ],
        });
      },
      addEventListener: (_: 'devicechange', take: () => void) => void (change = take),
      removeEventListener: () => void (change = null),
    },
  };
}
const turns = async () => {
  for (let i = 0; i < 10; i += 1) await Promise.resolve();
};

test.each([
  ['NotAllowedError', 'permission'],
  ['SecurityError', 'permission'],
  ['NotFoundError', 'microphone'],
  ['NotReadableError', 'microphone'],
  ['AnythingElse', 'microphone'],
])('microphone refused with %s: %s, in a sentence with what to do', async (name, trouble) => {
  const opened = await microphone(devices([name]).api).open();
  expect(opened).toMatchObject({ ok: false, trouble });
  expect(!opened.ok && opened.sentence).toMatch(/^[A-Z].*\.$/);
});

test('no media devices at all (not HTTPS)', async () => {
  expect(await microphone(undefined).open()).toMatchObject({ ok: false, trouble: 'permission' });
});

test('unplugged in mid-walk: told, and taken again without a reload when it is back', async () => {
  const d = devices(['ok', 'NotFoundError', 'ok']);
  const mic = microphone(d.api);
  const states: string[] = [];
  mic.onChange((s) => states.push(s));
  await mic.open();
  d.tracks[0]?.listeners.get('ended')?.();
  await turns();
  expect(states).toEqual(['lost']);
  expect(mic.stream()).toBe(null);
  d.plug();
  await turns();
  expect(states).toEqual(['lost', 'open']);
  expect(mic.stream()).not.toBe(null);
});

test('a call takes the sound and gives it back', async () => {
  const d = devices(['ok']);
  const mic = microphone(d.api);
  const states: string[] = [];
  mic.onChange((s) => states.push(s));
  await mic.open();
  d.tracks[0]?.listeners.get('mute')?.();
  d.tracks[0]?.listeners.get('unmute')?.();
  expect(states).toEqual(['muted', 'open']);
});

test('closed it lets the microphone go and stays closed', async () => {
  const d = devices(['ok', 'ok']);
  const mic = microphone(d.api);
  const states: string[] = [];
  mic.onChange((s) => states.push(s));
  await mic.open();
  mic.close();
  expect(d.tracks[0]?.stopped).toBe(true);
  expect(d.watched).toBe(false);
  d.tracks[0]?.listeners.get('ended')?.();
  await turns();
  expect(states).toEqual([]);
});

test('there was none, and it is plugged in later: it opens by itself', async () => {
  const d = devices(['NotFoundError', 'ok']);
  const mic = microphone(d.api);
  const states: string[] = [];
  mic.onChange((s) => states.push(s));
  expect((await mic.open()).ok).toBe(false);
  d.plug();
  await turns();
  expect(states).toEqual(['open']);
});

test('permission withdrawn and given again: taken again by itself', async () => {
  const d = devices(['ok', 'NotAllowedError', 'ok']);
  let change: () => void = () => undefined;
  let watched = false;
  const mic = microphone(d.api, {}, (take) => {
    change = take;
    watched = true;
    return () => (watched = false);
  });
  const states: string[] = [];
  mic.onChange((state) => states.push(state));
  await mic.open();
  d.tracks[0]?.listeners.get('ended')?.();
  await turns();
  change();
  await turns();
  expect(states).toEqual(['lost', 'open']);
  mic.close();
  expect(watched).toBe(false);
});
