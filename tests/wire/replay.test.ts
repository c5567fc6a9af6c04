import { expect, test } from 'vitest';
import type { Told } from '#screens';
import type { Event } from '#shared/event';
import { secondsToSay } from '#shared/speech';
import { playerOf, type Playing } from '../../src/wire/player.ts';
import { nextAfter, repliesIn } from '../../src/wire/replies.ts';
import { retelling } from '../../src/wire/retell.ts';
import { fakeTime } from '../capture/time.ts';
import { walkingStage } from './walking-stage.ts';

/*
 * A person who closes their eyes and plays the recorded session can tell what the
 * app did: what reaches the ear in the replay is what reached it in the walk.
 */

/** How often a browser tells where the sound is, seconds. */
const TICK = 0.25;

/** Plays the recordings of a walk on a double of the audio element; what is heard, line by line. */
async function replay(
  events: readonly Event[],
  lengths: Readonly<Record<string, number>>,
  options: { able?: boolean; from?: number; fails?: boolean } = {},
) {
  const time = fakeTime();
  const lines: string[] = [];
  const shown: string[] = [];
  const heard = events.flatMap((e) => (e.what.kind === 'heard' ? [e.what.heard] : []));
  let opened = '';
  let tried = 0;
  const player = playerOf(
    {
      sound(recording) {
        opened = recording;
        const chunk = { recording, chunk: 0, mime: 'audio/webm', data: new ArrayBuffer(8) };
        return Promise.resolve({
          recording,
          chunks: [{ ...chunk, place: { recording, from: 0, to: 1 }, hash: '' }],
          mime: 'audio/webm',
          missing: [],
          erased: null,
        });
      },
    },
    {
      in: (recording) => repliesIn(events, recording),
      next: (recording) => nextAfter(events, recording),
      retelling: retelling({
        wait: time.wait,
        sounder: {
          sound(name) {
            lines.push(`< (${name})`);
            return new Promise((resolve) => time.wait(0.3, resolve));
          },
        },
        synth: {
          able: options.able ?? true,
          say(text) {
            tried += 1;
            if (options.fails === true) {
              return new Promise((resolve) => time.wait(3, () => resolve(false)));
            }
            lines.push(`< ${text}`);
            return new Promise((resolve) => time.wait(secondsToSay(text), () => resolve(true)));
          },
          cancel: () => undefined,
        },
      }),
    },
    () => audioOf(opened),
  );
  player.told.subscribe(() => {
    const told: Told | null = player.told.get();
    if (told !== null && !told.aloud && told.text !== '') shown.push(told.text);
  });

  function audioOf(recording: string): Playing {
    let playing = false;
    const audio: Playing = {
      currentTime: 0,
      ontimeupdate: null,
      onended: null,
      onpause: null,
      play() {
        playing = true;
        const tick = () => {
          if (!playing) return;
          const before = audio.currentTime;
          audio.currentTime = before + TICK;
          for (const h of heard) {
            const at = h.sound?.recording === recording ? h.sound.from : Infinity;
            if (at > before && at <= audio.currentTime) lines.push(`> ${h.text}`);
          }
          Reflect.apply(audio.ontimeupdate ?? (() => undefined), audio, [new Event_('timeupdate')]);
          if (audio.currentTime < (lengths[recording] ?? 0)) time.wait(TICK, tick);
          else Reflect.apply(audio.onended ?? (() => undefined), audio, [new Event_('ended')]);
        };
        time.wait(TICK, tick);
        return Promise.resolve();
      },
      pause() {
        playing = false;
      },
    };
    return audio;
  }

  const first = heard.find((h) => h.sound !== null)?.sound;
  const recording = first?.recording ?? '';
  await player.play({ recording, from: options.from ?? 0, to: 0 });
  return { time, lines, shown, player, tried: () => tried };
}
const Event_ = globalThis.Event;

/** Finding, question and answer, hold, correction: as it was heard, and its record. */
async function recorded() {
  const s = await walkingStage({ recording: { id: 'r1', from: 5 } });
  for (const [text, after] of [
    ['drive belts are in good condition', 4],
    ['the drive belts are slack', 12],
    ['oil level is five', 5],
    ['five quarts', 10],
    ['hold', 4],
    ['rivet line is good', 5],
    ['resume', 9],
    ['left brake line is chafed, watch it', 14],
    ['take that back', 8],
    ['finish', 20],
  ] as const) {
    await s.say(text, 0.5);
    await s.time.pass(after);
  }
  const live = s.log.filter((l) => /^[<>]/.test(l));
  return { live, events: await s.store.walk(s.walking.session.walk) };
}

test('the replay gives to the ear what the walk gave: the words, the tone, the answer, in order', async () => {
  const { live, events } = await recorded();
  // What a listener has to be able to tell from it.
  expect(live.join('\n')).toMatch(
    /belts are slack\n< \(finding\)\n< Drive belts: slack.*[^]*level is five\n< \(question\)\n< Level: five what\?\n> five quarts\n< \(finding\)[^]*> hold\n< \(understood\)\n< Held\.\n> rivet line is good\n< \(not-understood\)\n< The walk is held; say resume\.\n> resume[^]*take that back\n< \(understood\)\n< Taken back: /,
  );
  const { time, lines } = await replay(events, { r1: 100 });
  await time.pass(200);
  const opening = lines.indexOf(live[0] ?? '');
  expect(lines.slice(0, opening).join(' ')).toContain('Listening. Begin at the Engine.');
  expect(lines.slice(opening)).toEqual(live);
});

test('from the middle on: what was said before is not said again', async () => {
  const { live, events } = await recorded();
  const hold = events.find((e) => e.what.kind === 'heard' && e.what.heard.text === 'hold');
  const from = (hold?.t ?? 0) - 5 - 0.1;
  const { time, lines } = await replay(events, { r1: 100 }, { from });
  await time.pass(200);
  expect(lines).toEqual(live.slice(live.indexOf('> hold')));
});

test('no voice: the tones sound, the words are shown, each at its place', async () => {
  const { live, events } = await recorded();
  const { time, lines, shown } = await replay(events, { r1: 100 }, { able: false, from: 14 });
  await time.pass(200);
  expect(lines).toEqual(live.filter((l) => /^>|^< \(/.test(l)));
  expect(shown).toEqual(live.flatMap((l) => (/^< [^(]/.test(l) ? [l.slice(2)] : [])));
});

test('a voice that does not begin is tried once a replay, and no tone waits for it again', async () => {
  const { live, events } = await recorded();
  const { time, lines, shown, tried } = await replay(
    events,
    { r1: 100 },
    { fails: true, from: 14 },
  );
  await time.pass(200);
  expect(tried()).toBe(1);
  expect(lines).toEqual(live.filter((l) => /^>|^< \(/.test(l)));
  expect(shown).toHaveLength(live.filter((l) => /^< [^(]/.test(l)).length);
});

test('stopped: silent at once, and nothing comes after it', async () => {
  const { events } = await recorded();
  const { time, lines, player } = await replay(events, { r1: 100 }, { from: 14 });
  await time.pass(9);
  player.stop();
  const then = lines.length;
  expect(then).toBeGreaterThan(0);
  await time.pass(200);
  expect(lines).toHaveLength(then);
  expect(player.at.get()).toBe(null);
  expect(player.told.get()).toBe(null);
});
