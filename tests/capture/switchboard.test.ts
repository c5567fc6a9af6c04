import { expect, test } from 'vitest';
import {
  listeners,
  switchboard,
  heardOf,
  type Ear,
  type Listeners,
  type Source,
  type Trouble,
} from '#capture';
import { FIRST_SCENE } from '#shared/scene';
import { fakeTime } from './time.ts';

interface Puppet extends Source {
  ears: { out: Listeners; log: string[] }[];
}

/** A source whose ears do what the test tells them; `flush` is let out at stop. */
function puppet(
  key: Source['key'],
  able = true,
  flush?: { text: string; from: number; to: number },
): Puppet {
  const ears: Puppet['ears'] = [];
  const sendsAway = key === 'browser-service';
  return {
    key,
    name: key,
    sendsAway,
    ears,
    probe: () => Promise.resolve(able ? { able: true } : { able: false, why: 'no' }),
    make(): Ear {
      const out = listeners();
      const log: string[] = [];
      ears.push({ out, log });
      return {
        kind: 'scripted',
        name: key,
        sendsAway,
        start: () => {
          log.push('start');
          out.state('listening', 'l');
          return Promise.resolve();
        },
        stop: async () => {
          log.push('stop');
          await Promise.resolve();
          if (flush !== undefined && log.includes('start'))
            say(out, flush.text, flush.from, flush.to);
        },
        pause: () => log.push('pause'),
        resume: () => log.push('resume'),
        expect: () => log.push('expect'),
        ...out.on,
      };
    },
  };
}
let ids = 0;
function say(out: Listeners, text: string, from: number, to: number): void {
  out.heard(heardOf({ id: `h${(ids += 1)}`, by: 'scripted', text, from, to }));
}
function board(sources: Puppet[], together = true) {
  const time = fakeTime();
  const heard: string[] = [];
  const states: string[] = [];
  const changed: string[] = [];
  const first = sources[0];
  if (first === undefined) throw new Error('no source');
  const it = switchboard({
    world: time.world,
    seconds: () => time.seconds(),
    first,
    sources,
    allowed: () => 'browser-service',
    together,
    onChanged: (s, why) => changed.push(`${s.key}: ${why}`),
  });
  it.onHeard((h) => heard.push(h.text));
  it.onState((s, sentence) => states.push(s === 'trouble' ? sentence : s));
  const at = (p: Puppet) => {
    const ear = p.ears.at(-1);
    if (ear === undefined) throw new Error(`${p.key} was never made`);
    return ear;
  };
  const trouble = async (p: Puppet, kind: Trouble) => {
    at(p).out.state('trouble', 'It broke.', kind);
    await time.pass(0);
  };
  return { it, time, heard, states, changed, at, trouble };
}

test.each([true, false])(
  'changed in mid-walk: what the old one was hearing is not lost (both at once: %s)',
  async (together) => {
    const a = puppet('embedded', true, { text: 'crack in the skid', from: 3, to: 5 });
    const b = puppet('browser-local');
    const { it, heard, changed, at } = board([a, b], together);
    await it.start();
    say(at(a).out, 'belts good', 1, 2);
    await it.use(b, 'Chosen.');
    expect(a.ears[0]?.log).toEqual(['start', 'stop']);
    if (together) say(at(b).out, 'crack in this kid', 3.2, 5);
    say(at(b).out, 'oil six quarts', 6, 7);
    expect(heard).toEqual(['belts good', 'crack in the skid', 'oil six quarts']);
    expect(changed).toEqual([
      'browser-local: Chosen. browser-local listens. No sound leaves this device.',
    ]);
    expect(it.sendsAway).toBe(false);
  },
);

test('trouble with the service: the next one takes over, once, and says so', async () => {
  const a = puppet('browser-service');
  const b = puppet('browser-local', false);
  const c = puppet('embedded');
  const { it, heard, changed, at, trouble, states } = board([a, b, c]);
  await it.start();
  await trouble(a, 'service');
  say(at(c).out, 'belts good', 1, 2);
  expect(heard).toEqual(['belts good']);
  expect(changed).toEqual(['embedded: It broke. embedded listens. No sound leaves this device.']);
  expect(states.filter((s) => s.includes('broke'))).toEqual([]);
});

test('never from local to network by itself: with nothing else it says that nothing listens', async () => {
  const a = puppet('embedded');
  const b = puppet('browser-service');
  const { it, trouble, states } = board([a, b]);
  await it.start();
  await trouble(a, 'files');
  expect(b.ears).toEqual([]);
  expect(states.at(-1)).toBe('It broke. Nothing else can listen; words can be typed.');
});

test.each(['permission', 'microphone', 'hidden'] as const)(
  'trouble with the %s is no reason to change',
  async (kind) => {
    const a = puppet('browser-service');
    const b = puppet('embedded');
    const { it, trouble, states } = board([a, b]);
    await it.start();
    await trouble(a, kind);
    expect(b.ears).toEqual([]);
    expect(states.at(-1)).toBe('It broke.');
  },
);

test('two that fail in turn do not go round for ever', async () => {
  const a = puppet('embedded');
  const b = puppet('browser-local');
  const { it, trouble, states, time } = board([a, b]);
  await it.start();
  await trouble(a, 'service');
  await time.pass(0);
  await trouble(b, 'service');
  await time.pass(0);
  expect(a.ears.length + b.ears.length).toBe(2);
  expect(states.at(-1)).toContain('Nothing else can listen');
});

test('hold and scene go over to the next one', async () => {
  const a = puppet('embedded');
  const b = puppet('browser-local');
  const { it, at } = board([a, b]);
  await it.start();
  it.expect(FIRST_SCENE);
  it.pause();
  await it.use(b, 'Chosen.');
  expect(at(b).log).toEqual(['expect', 'start', 'pause']);
});
