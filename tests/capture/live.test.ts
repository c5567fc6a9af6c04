import { expect, test } from 'vitest';
import {
  listeners,
  liveEar,
  type Allowed,
  type Ear,
  type Listeners,
  type LiveEar,
  type Microphone,
  type MicrophoneState,
  type Opened,
  type RecordedChunk,
} from '#capture';
import { heardOf } from '#capture';
import type { Heard } from '#shared/heard';
import { recognitionDouble, type Act } from './recognition.ts';
import { fakeTime } from './time.ts';

interface Stream {
  id: number;
  getAudioTracks(): [];
}
const open: Act[] = [
  [0.1, 'start'],
  [0.2, 'audiostart'],
];

function stage(
  options: {
    allowed?: Allowed;
    sessions?: readonly (readonly Act[])[];
    embedded?: boolean;
    android?: boolean;
    opens?: ('ok' | 'NotFound')[];
    agree?: boolean;
    keep?: boolean;
    claims?: boolean[];
    available?: string;
  } = {},
) {
  const time = fakeTime();
  const log: string[] = [];
  const heard: Heard[] = [];
  const one: string[] = [];
  const chunks: RecordedChunk[] = [];
  const own: { out: Listeners }[] = [];
  const { platform, calls } = recognitionDouble(time, options.sessions ?? [open], {
    android: options.android ?? false,
    ...(options.available === undefined ? {} : { available: options.available }),
  });
  let allowed: Allowed = options.allowed ?? 'this-device';
  let visible = true;
  const pageTakers = new Set<() => void>();
  const micTakers = new Set<(state: MicrophoneState, sentence: string) => void>();
  let current: Stream | null = null;
  let streams = 0;
  const plan = [...(options.opens ?? [])];
  const tell = (state: MicrophoneState) =>
    [...micTakers].forEach((take) => take(state, `mic ${state}.`));
  const mic: Microphone<Stream> = {
    open(): Promise<Opened<Stream>> {
      if ((plan.shift() ?? 'ok') !== 'ok') {
        return Promise.resolve({
          ok: false,
          trouble: 'microphone',
          sentence: 'There is no microphone.',
        });
      }
      log.push('mic open');
      current ??= { id: (streams += 1), getAudioTracks: () => [] };
      return Promise.resolve({ ok: true, stream: current });
    },
    stream: () => current,
    onChange: (take) => {
      micTakers.add(take);
      return () => void micTakers.delete(take);
    },
    close: () => {
      log.push('mic closed');
      current = null;
    },
  };
  const live: LiveEar = liveEar<Stream>({
    world: time.world,
    seconds: () => time.seconds(),
    allowed: () => allowed,
    speech: platform,
    microphone: mic,
    embedded: {
      probe: () =>
        Promise.resolve(
          options.embedded === false
            ? { able: false, why: 'The model is missing.' }
            : { able: true },
        ),
      make(): Ear {
        const out = listeners();
        own.push({ out });
        return {
          kind: 'embedded',
          name: 'own',
          sendsAway: false,
          start: () => {
            log.push(`own start on ${mic.stream()?.id ?? '-'}`);
            out.state('listening', 'Listening here.');
            return Promise.resolve();
          },
          stop: () => {
            log.push('own stop');
            return Promise.resolve();
          },
          pause: () => log.push('own pause'),
          resume: () => log.push('own resume'),
          expect: () => undefined,
          ...out.on,
        };
      },
    },
    keep:
      options.keep === false
        ? null
        : (chunk) => {
            chunks.push(chunk);
            return Promise.resolve({ kept: true });
          },
    recording: {
      supports: () => true,
      make: () => {
        let live = false;
        let give: (event: {
          data: { size: number; arrayBuffer(): Promise<ArrayBuffer> };
        }) => void = () => undefined;
        let ended: () => void = () => undefined;
        return {
          start() {
            live = true;
            log.push('record');
            const tick = () =>
              time.wait(1, () => {
                if (!live) return;
                give({ data: { size: 1, arrayBuffer: () => Promise.resolve(new ArrayBuffer(1)) } });
                tick();
              });
            tick();
          },
          stop() {
            if (live) log.push('record stop');
            live = false;
            ended();
          },
          addEventListener: (type: string, take: never) => {
            if (type === 'dataavailable') give = take;
            if (type === 'stop') ended = take;
          },
        };
      },
    },
    page: {
      visible: () => visible,
      onVisibility: (take) => {
        pageTakers.add(take);
        return () => void pageTakers.delete(take);
      },
    },
    claim: () => {
      const granted = options.claims?.shift() ?? true;
      return Promise.resolve(granted ? () => log.push('given back') : null);
    },
    agreed: () => false,
    agree: (sentence) => {
      log.push(`asked: ${sentence.slice(0, 44)}`);
      return Promise.resolve(options.agree ?? true);
    },
    onChanged: (key) => log.push(`now ${key}`),
    onInterruption: (why, _, over) => log.push(`${over ? 'over' : 'interrupted'} ${why}`),
    wait: time.wait,
  });
  live.onHeard((h) => heard.push(h));
  live.onState((state, sentence) => log.push(state === 'trouble' ? `! ${sentence}` : state));
  live.onNotice((n) => {
    log.push(`notice ${n.kind}`);
    if (n.kind === 'one-ear') one.push(n.sentence);
  });
  return {
    time,
    live,
    log,
    heard,
    one,
    chunks,
    calls,
    tell,
    ear: () => {
      const last = own.at(-1);
      if (last === undefined) throw new Error('never made');
      return last.out;
    },
    setAllowed: (to: Allowed) => (allowed = to),
    replug: () => {
      current = { id: (streams += 1), getAudioTracks: () => [] };
      tell('open');
    },
    unplug: () => {
      current = null;
      tell('lost');
    },
    show: (now: boolean) => {
      visible = now;
      [...pageTakers].forEach((take) => take());
    },
    watchers: () => pageTakers.size + micTakers.size,
  };
}

test('on this device only: our own recogniser, the sound kept, every utterance with its place', async () => {
  const s = stage();
  await s.live.start();
  await s.time.pass(5);
  s.ear().heard(heardOf({ id: 'h', by: 'embedded', text: 'belts good', from: 2, to: 3 }));
  expect(s.heard[0]?.sound).toEqual({ recording: s.chunks[0]?.recording, from: 2, to: 3 });
  expect(s.chunks.length).toBeGreaterThanOrEqual(4);
  expect(s.live.sentence).toBe("Talkround's own recogniser listens. No sound leaves this device.");
  expect(s.log).toEqual(['starting', 'mic open', 'record', 'own start on 1', 'listening']);
  await s.live.stop();
  expect(s.watchers()).toBe(0);
  expect(s.log.slice(-5)).toEqual([
    'own stop',
    'record stop',
    'mic closed',
    'given back',
    'stopped',
  ]);
});

test('the service: asked before first use; declined, our own listens', async () => {
  const yes = stage({ allowed: 'browser-service' });
  await Promise.all([yes.live.start(), yes.time.pass(2)]);
  expect(yes.log[1]).toBe("asked: The browser's speech service sends the sound");
  expect(yes.calls[0]).toBe('start 0');
  expect(yes.live.sendsAway).toBe(true);
  const no = stage({ allowed: 'browser-service', agree: false });
  await no.live.start();
  expect(no.calls).toEqual([]);
  expect(no.live.sendsAway).toBe(false);
  expect(no.log).toContain('own start on 1');
});

test('Android: its recogniser without a recording, which is said', async () => {
  const s = stage({ allowed: 'browser-service', android: true });
  await Promise.all([s.live.start(), s.time.pass(2)]);
  expect(s.log).not.toContain('record');
  expect(s.log).toContain('notice sound-missing');
  expect(s.log).not.toContain('mic open');
});

test('the service fails: our own takes over, with sound', async () => {
  const s = stage({
    allowed: 'browser-service',
    sessions: [[...open, [1, { error: 'network' }], [1.1, 'end']]],
  });
  await Promise.all([s.live.start(), s.time.pass(5)]);
  expect(s.log).toContain('now embedded');
  expect(s.log.at(-1)).toBe('listening');
  expect(s.live.sendsAway).toBe(false);
});

test('unplugged and plugged in: held, a new recording, the recogniser on the new stream, without a reload', async () => {
  const s = stage();
  await s.live.start();
  await s.time.pass(2);
  s.unplug();
  await s.time.pass(1);
  expect(s.log.slice(-3)).toEqual(['record stop', '! mic lost.', 'interrupted sound-lost']);
  s.replug();
  await s.time.pass(2);
  expect(s.log).toContain('own start on 2');
  expect(s.log.filter((l) => l === 'record')).toHaveLength(2);
  expect(s.log).toContain('over sound-lost');
  s.ear().heard(heardOf({ id: 'h', by: 'embedded', text: 'belts good', from: 3.5, to: 4 }));
  expect(s.heard[0]?.sound?.from).toBeCloseTo(0.5);
});

test('no microphone at first: it begins by itself when one is plugged in', async () => {
  const s = stage({ opens: ['NotFound'] });
  await s.live.start();
  expect(s.log.at(-1)).toBe('! There is no microphone.');
  s.replug();
  await s.time.pass(1);
  expect(s.log.at(-1)).toBe('listening');
});

test('a call: silent for a while, the same stream goes on', async () => {
  const s = stage();
  await s.live.start();
  s.tell('muted');
  await s.time.pass(3);
  expect(s.log).toContain('interrupted interrupted');
  s.tell('open');
  await s.time.pass(1);
  expect(s.log).toContain('over interrupted');
  expect(s.log.filter((l) => l.startsWith('own start'))).toHaveLength(1);
  expect(s.log).toContain('listening');
});

test('hidden with no sound coming: said, and begun again on return; hidden with sound coming: nothing', async () => {
  const s = stage();
  await s.live.start();
  s.show(false);
  await s.time.pass(3);
  expect(s.log.at(-1)).toBe('interrupted hidden');
  s.show(true);
  await s.time.pass(1);
  expect(s.log.filter((l) => l.startsWith('own start'))).toHaveLength(2);
  const desk = stage();
  await desk.live.start();
  desk.show(false);
  await desk.time.pass(1);
  desk.ear().level(0.2);
  await desk.time.pass(3);
  expect(desk.log.filter((l) => l.startsWith('interrupted'))).toEqual([]);
});

test('the setting changed in mid-walk', async () => {
  const s = stage();
  await s.live.start();
  s.setAllowed('browser-service');
  void s.live.reconsider();
  await s.time.pass(2);
  expect(s.log.filter((l) => l.startsWith('asked') || l.startsWith('now'))).toEqual([
    "asked: The browser's speech service sends the sound",
    'now browser-service',
  ]);
  s.setAllowed('this-device');
  void s.live.reconsider();
  await s.time.pass(2);
  expect(s.live.sendsAway).toBe(false);
});

test('the model is missing and only this device is allowed: said, words can be typed', async () => {
  const s = stage({ embedded: false });
  await s.live.start();
  expect(s.log.at(-1)).toBe(
    '! Nothing can listen here: The browser has no recogniser on this device. The model is missing. Words can be typed.',
  );
});

test('no sound wanted: none is kept', async () => {
  const s = stage({ keep: false });
  await s.live.start();
  await s.time.pass(3);
  expect(s.log).not.toContain('record');
  expect(s.chunks).toEqual([]);
});

test('two tabs: the second says so, listens to nothing, and can start once the first is closed', async () => {
  const s = stage({ claims: [false, true] });
  await s.live.start();
  expect(s.log).toEqual([
    'starting',
    '! Another tab of Talkround is listening. Close it there, then start again here.',
  ]);
  await s.live.start();
  expect(s.log.at(-1)).toBe('listening');
});

test('permission withdrawn and given again without a word from the platform: started by hand it goes on', async () => {
  const s = stage();
  await s.live.start();
  s.unplug();
  await s.time.pass(1);
  await s.live.start();
  await s.time.pass(1);
  expect(s.log).toContain('own start on 2');
  expect(s.log.filter((l) => l === 'record')).toHaveLength(2);
});

test('the recogniser gave up: started by hand it is opened again, without a reload', async () => {
  const s = stage();
  await s.live.start();
  s.ear().state('trouble', 'The recogniser stopped again and again.', 'files');
  await s.time.pass(1);
  expect(s.log.at(-1)).toMatch(/^! .*words can be typed/);
  await s.live.start();
  expect(s.log.filter((l) => l.startsWith('own start'))).toHaveLength(2);
  expect(s.log.at(-1)).toBe('listening');
});

test('permission refused at first, then given by hand: it begins', async () => {
  const s = stage({ opens: ['NotFound'] });
  await s.live.start();
  await s.live.start();
  expect(s.log.at(-1)).toBe('listening');
});

/* The browser's own recogniser on this device, ours beside it. */

const here = { available: 'available' };

test('on this device only, where the browser has its own: it listens, ours beside it, the sound kept once', async () => {
  const s = stage({ ...here, sessions: [[...open, [4, { results: [['belts good', 1]] }]]] });
  await Promise.all([s.live.start(), s.time.pass(3)]);
  expect(s.live.sentence).toBe(
    "The browser's recogniser on this device listens. No sound leaves this device.",
  );
  expect(s.live.kind).toBe('browser');
  expect(s.live.beside).toBe('own');
  expect(s.live.sendsAway).toBe(false);
  expect(s.log.filter((l) => l === 'mic open' || l === 'record')).toEqual([
    'mic open',
    'record',
    'mic open',
  ]);
  expect(s.log).toContain('own start on 1');
  s.ear().heard(heardOf({ id: 'h', by: 'embedded', text: 'belts are good', from: 2, to: 3 }));
  await s.time.pass(2);
  expect(s.heard).toHaveLength(1);
  expect(s.heard[0]).toMatchObject({
    by: 'browser',
    text: 'belts good',
    sentAway: false,
    alternatives: [{ text: 'belts are good', by: 'embedded' }],
  });
  expect(s.heard[0]?.sound).not.toBeNull();
  await Promise.all([s.live.stop(), s.time.pass(3)]);
  expect(s.watchers()).toBe(0);
  expect(s.log.filter((l) => l === 'own stop')).toHaveLength(1);
});

test.each([['downloadable'], ['downloading'], ['unavailable'], ['throws']])(
  'on this device only, the browser says %s: ours listens, and nothing is installed unasked',
  async (available) => {
    const s = stage({ available });
    await Promise.all([s.live.start(), s.time.pass(2)]);
    expect(s.live.kind).toBe('embedded');
    expect(s.calls).toEqual([]);
  },
);

test.each(['network', 'language-not-supported', 'service-not-allowed'])(
  'the browser fails in mid-walk with %s: ours takes over, which is told, and no sound leaves the device',
  async (error) => {
    const s = stage({ ...here, sessions: [[...open, [3, { error }], [3.1, 'end']]] });
    await Promise.all([s.live.start(), s.time.pass(2)]);
    s.ear().heard(heardOf({ id: 'h', by: 'embedded', text: 'fan cracked', from: 1, to: 1.9 }));
    await s.time.pass(6);
    // R4: what ours alone had heard by then is not lost.
    expect(s.heard.map((h) => h.text)).toEqual(['fan cracked']);
    expect(s.log).toContain('now embedded');
    expect(s.live.kind).toBe('embedded');
    expect(s.live.beside).toBeNull();
    expect(s.live.sendsAway).toBe(false);
    expect(s.log.filter((l) => !l.startsWith('own')).at(-1)).toBe('listening');
  },
);

test('ours is not complete: the browser listens alone, and that is said', async () => {
  const s = stage({ ...here, embedded: false });
  await Promise.all([s.live.start(), s.time.pass(2)]);
  expect(s.one).toEqual(['Only one recogniser listens. The model is missing.']);
  expect(s.live.beside).toBeNull();
  expect(s.log.at(-1)).toBe('listening');
});

test('the microphone cannot be had twice: the browser listens alone, and that is said', async () => {
  const none = stage({ ...here, keep: false, opens: ['NotFound'] });
  await Promise.all([none.live.start(), none.time.pass(2)]);
  expect(none.one).toEqual(['Only one recogniser listens. There is no microphone.']);
  const android = stage({ ...here, android: true });
  await Promise.all([android.live.start(), android.time.pass(2)]);
  expect(android.one[0]).toContain('cannot both have the microphone');
  expect(android.log).not.toContain('mic open');
  expect(android.log).toContain('notice sound-missing');
});

test('a microphone that comes later gives the second ear its sound', async () => {
  const s = stage({ ...here, opens: ['NotFound', 'NotFound'] });
  await Promise.all([s.live.start(), s.time.pass(2)]);
  expect(s.live.beside).toBeNull();
  s.replug();
  await s.time.pass(4);
  expect(s.log).toContain('own start on 1');
  expect(s.live.beside).toBe('own');
});
