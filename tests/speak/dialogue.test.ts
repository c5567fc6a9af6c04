import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { scriptedEar } from '#capture';
import { createGrammar, parseDictionary } from '#grammar';
import { createSession } from '#record';
import { coverageOf, openAtFinish, start, step } from '#reconcile';
import { createVoice, isVerdict, replyTo } from '#speak';
import type { Draft, Event } from '#shared/event';
import { LONGEST_PROMPT, secondsToSay } from '#shared/speech';
import { fakeTime } from '../capture/time.ts';
import { CATALOGUE } from './fixture.ts';
import { testWeights } from '../weights.ts';

/*
 * A person who closes their eyes: all that reaches the ear in a walk, with the
 * real grammar, record and reconciler. `>` is the pilot, `<` is Talkround.
 */

const GRAMMAR = createGrammar(CATALOGUE, {
  weights: testWeights(),
  pronunciations: parseDictionary(
    readFileSync('node_modules/soundswallower/model/en-us/dict.txt', 'utf8'),
  ),
});

/** Utterances with the seconds before them; what is heard of the walk, line by line. */
async function walk(said: readonly (readonly [after: number, text: string])[]): Promise<string[]> {
  const time = fakeTime();
  const lines: string[] = [];
  let state = start(CATALOGUE);
  const log = {
    append: (drafts: readonly Draft[]) =>
      Promise.resolve(drafts.map((d): Event => ({ ...d, device: 'd', prev: null, hash: '' }))),
    walk: () => Promise.resolve([]),
  };
  const session = createSession({
    catalogue: CATALOGUE,
    reader: GRAMMAR,
    log,
    world: time.world,
    onEvents(events) {
      for (const event of events) state = step(state, event).state;
    },
    open: () => openAtFinish(coverageOf(state)),
  });
  const voice = createVoice({
    synth: {
      able: true,
      say(text) {
        expect(secondsToSay(text)).toBeLessThanOrEqual(LONGEST_PROMPT);
        expect(isVerdict(text)).toBe(false);
        lines.push(`< ${text}`);
        return new Promise((resolve) => time.wait(secondsToSay(text), () => resolve(true)));
      },
      cancel: () => undefined,
    },
    sounder: {
      sound(name) {
        lines.push(`< (${name})`);
        return Promise.resolve();
      },
    },
    seconds: () => session.time(),
    wait: time.wait,
    talk: () => 'exceptions',
    onSpoken: (text, from, to) => void session.spoke(text, from, to),
    onReplied: (replied) => void session.note({ kind: 'replied', ...replied }),
    onUnanswered: (id) => void session.unanswered(id),
    onShown: () => undefined,
  });
  async function act(work: () => ReturnType<typeof session.hear>): Promise<void> {
    const before = coverageOf(state);
    const happened = await work();
    voice.reply(
      replyTo(
        happened,
        { before, after: coverageOf(state) },
        { catalogue: CATALOGUE, talk: 'exceptions' },
      ),
    );
    voice.attend(happened.question);
  }
  await act(() =>
    session.begin({
      aircraft: 'Demo One',
      edition: 'x',
      circumstances: [],
      pilot: null,
      instructor: null,
      hours: null,
      listening: 'scripted',
      squawks: [],
    }),
  );
  const ear = scriptedEar(
    { world: time.world, seconds: () => session.time() },
    said.map(([after, say]) => ({ after, say, seconds: 1 })),
    time.wait,
  );
  ear.onHeard((heard) => {
    lines.push(`> ${heard.text}`);
    const { take } = voice.admit(heard);
    void act(() => session.hear(take ?? heard));
  });
  void ear.start();
  await time.pass(said.reduce((sum, [after]) => sum + after, 0) + 40);
  return lines;
}

test('findings, a question answered, talk that does not count, a hold, what is left, the finish', async () => {
  expect(
    await walk([
      [30, 'drive belts are in good condition'],
      [4, 'you want to see no cracks in the brake lines'],
      [4, 'the drive belts are slack'],
      [14, 'oil level is five'],
      [12, 'five quarts'],
      [14, 'hold'],
      [60, 'resume'],
      [20, 'read back'],
      [20, "what's left"],
      [20, 'left brake line is chafed, watch it'],
      [20, 'finish'],
    ]),
  ).toMatchInlineSnapshot(`
    [
      "< (understood)",
      "< Master switch off before you walk. Listening. Begin at the Engine.",
      "> drive belts are in good condition",
      "< (understood)",
      "> you want to see no cracks in the brake lines",
      "> the drive belts are slack",
      "< (finding)",
      "< Drive belts: slack belt. Usually: ground it. Now also: Belt guard. Maintenance decides.",
      "> oil level is five",
      "< (question)",
      "< Level: five what?",
      "< (question)",
      "< Level: five what?",
      "> five quarts",
      "< (finding)",
      "< Oil: five quarts, limit at least 6 quarts. Usually: ground it.",
      "> hold",
      "< (understood)",
      "< Held.",
      "> resume",
      "< (understood)",
      "< Last completed: Oil. 1 left: Belt guard, demanded by a finding.",
      "> read back",
      "< (understood)",
      "< 2 findings: Drive belts: slack belt, ground it; Oil: five quarts, limit at least 6 quarts, ground it.",
      "> what's left",
      "< (understood)",
      "< 3 left: Belt guard, demanded by a finding; Rivet line; Brake line.",
      "> left brake line is chafed, watch it",
      "< (finding)",
      "< Left brake line: chafing. Watch it. Mind the tail rotor. Hot brakes: approach from the front.",
      "> finish",
      "< (understood)",
      "< Finished with 3 open: Belt guard, demanded by a finding; Brake line: right not said; Rivet line.",
    ]
  `);
});

test('a question nobody answers is put twice and left; talk over it is asked for again', async () => {
  expect(
    await walk([
      [30, 'oil level is five'],
      [40, 'brake lines are chafed, watch it'],
      [1, 'rivet lines have a crack'],
      [40, 'finish'],
    ]),
  ).toMatchInlineSnapshot(`
    [
      "< (understood)",
      "< Master switch off before you walk. Listening. Begin at the Engine.",
      "> oil level is five",
      "< (question)",
      "< Level: five what?",
      "< (question)",
      "< Level: five what?",
      "< (not-understood)",
      "> brake lines are chafed, watch it",
      "< (question)",
      "< Brake line: chafing. Watch it. Mind the tail rotor. Hot brakes: approach from the front. Left, right or both: brake line?",
      "> rivet lines have a crack",
      "< (question)",
      "< Left, right or both: brake line?",
      "< (question)",
      "< Left, right or both: brake line?",
      "< (not-understood)",
      "> finish",
      "< (understood)",
      "< Finished with 5 open: Level: five what; Left, right or both: brake line; and 3 more.",
    ]
  `);
});
