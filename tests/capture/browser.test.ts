import { expect, test } from 'vitest';
import { browserEar, type BrowserEarOptions, type Ear } from '#capture';
import { Heard } from '#shared/heard';
import { recognitionDouble, type Act } from './recognition.ts';
import { fakeTime, type FakeTime } from './time.ts';

interface Run {
  time: FakeTime;
  ear: Ear;
  heard: string[];
  full: Heard[];
  states: string[];
  partials: string[];
  notices: string[];
  calls: string[];
  settings: { processLocally: boolean | undefined; phrases: number }[];
}

async function run(
  sessions: readonly (readonly Act[])[],
  options: Parameters<typeof recognitionDouble>[2] &
    Partial<BrowserEarOptions> & { seconds?: () => number } = {},
): Promise<Run> {
  const time = fakeTime();
  const double = recognitionDouble(time, sessions, options);
  const ear = browserEar({
    world: time.world,
    seconds: () => time.seconds(),
    wait: time.wait,
    platform: double.platform,
    local: options.local ?? false,
    ...(options.phrases === undefined ? {} : { phrases: options.phrases }),
    ...(options.place === undefined ? {} : { place: options.place }),
  });
  const result: Run = {
    time,
    ear,
    heard: [],
    full: [],
    states: [],
    partials: [],
    notices: [],
    calls: double.calls,
    settings: double.settings,
  };
  ear.onHeard((h) => {
    result.heard.push(h.text);
    result.full.push(Heard.parse(h));
  });
  ear.onState((state, sentence, trouble) =>
    result.states.push(state === 'trouble' ? `${state} ${trouble ?? '?'}: ${sentence}` : state),
  );
  ear.onPartial((text) => result.partials.push(text));
  ear.onNotice((notice) => result.notices.push(notice.kind));
  void ear.start();
  await time.pass(0);
  return result;
}

const open: Act[] = [
  [0.1, 'start'],
  [0.2, 'audiostart'],
];

/*
 * Event sequences as they are reported publicly for each platform: desktop
 * Chrome by the specification; Android from pull requests and issues of
 * libraries that use the API (react-speech-recognition pull 31: interims marked
 * final with confidence 0 and finals twice; others: resultIndex back at 0, one
 * growing result, a list of results each repeating all before).
 */
const SEQUENCES: readonly [
  name: string,
  android: boolean,
  acts: readonly Act[],
  heard: readonly string[],
][] = [
  [
    'desktop: interims, then finals at their own index',
    false,
    [
      [1, { results: [['left', 0]] }],
      [1.2, { results: [['left tyre', 0]] }],
      [2, { results: [['left tyre good', 1]] }],
      [
        3,
        {
          results: [
            ['left tyre good', 1],
            [' no cuts', 0],
          ],
          index: 1,
        },
      ],
      [
        4,
        {
          results: [
            ['left tyre good', 1],
            [' no cuts', 1],
          ],
          index: 1,
        },
      ],
    ],
    ['left tyre good', 'no cuts'],
  ],
  [
    'desktop: a genuine repeat, with its own interims',
    false,
    [
      [1, { results: [['rivet line', 0]] }],
      [2, { results: [['rivet line good', 1]] }],
      [
        2.3,
        {
          results: [
            ['rivet line good', 1],
            ['rivet', 0],
          ],
          index: 1,
        },
      ],
      [
        2.9,
        {
          results: [
            ['rivet line good', 1],
            ['rivet line good', 1],
          ],
          index: 1,
        },
      ],
    ],
    ['rivet line good', 'rivet line good'],
  ],
  [
    'desktop: a genuine one-word repeat apart in time',
    false,
    [
      [2, { results: [['good', 1]] }],
      [
        4,
        {
          results: [
            ['good', 1],
            ['good', 1],
          ],
          index: 1,
        },
      ],
    ],
    ['good', 'good'],
  ],
  [
    'desktop: a second utterance that begins like the first',
    false,
    [
      [2, { results: [['belts good', 1]] }],
      [
        3,
        {
          results: [
            ['belts good', 1],
            ['belts', 0],
          ],
          index: 1,
        },
      ],
      [
        4,
        {
          results: [
            ['belts good', 1],
            ['belts good and tight', 1],
          ],
          index: 1,
        },
      ],
    ],
    ['belts good', 'belts good and tight'],
  ],
  [
    'Android: the final twice',
    true,
    [
      [1, { results: [['belts', 1, 0]] }],
      [1.3, { results: [['belts tight', 1, 0]] }],
      [2, { results: [['belts tight', 1, 0.92]] }],
      [2.05, { results: [['belts tight', 1, 0.92]] }],
      [2.2, 'end'],
    ],
    ['belts tight'],
  ],
  [
    'Android: the final twice at two indexes',
    true,
    [
      [2, { results: [['belts tight', 1, 0.92]] }],
      [
        2.7,
        {
          results: [
            ['belts tight', 1, 0.92],
            ['belts tight', 1, 0.92],
          ],
        },
      ],
      [3.5, 'end'],
    ],
    ['belts tight'],
  ],
  [
    'Android: resultIndex back at 0 with every event',
    true,
    [
      [1, { results: [['belts tight', 1]] }],
      [
        3,
        {
          results: [
            ['belts tight', 1],
            ['fan', 0],
          ],
        },
      ],
      [
        4,
        {
          results: [
            ['belts tight', 1],
            ['fan good', 1],
          ],
        },
      ],
      [
        4.1,
        {
          results: [
            ['belts tight', 1],
            ['fan good', 1],
          ],
        },
      ],
    ],
    ['belts tight', 'fan good'],
  ],
  [
    'Android: one result whose text grows',
    true,
    [
      [1, { results: [['left', 1, 0]] }],
      [1.2, { results: [['left tyre', 1, 0]] }],
      [1.5, { results: [['left tyre good', 1, 0]] }],
      [1.9, { results: [['left tyre good no cuts', 1, 0]] }],
      [3, { results: [['left tyre good no cuts', 1, 0.9]] }],
      [3.2, 'end'],
    ],
    ['left tyre good no cuts'],
  ],
  [
    'Android: a list of results each repeating all before',
    true,
    [
      [1, { results: [['hi', 1]] }],
      [
        1.3,
        {
          results: [
            ['hi', 1],
            ['hi belts', 1],
          ],
        },
      ],
      [
        1.6,
        {
          results: [
            ['hi', 1],
            ['hi belts', 1],
            ['hi belts tight', 1],
          ],
        },
      ],
      [
        4,
        {
          results: [
            ['hi', 1],
            ['hi belts', 1],
            ['hi belts tight', 1],
            ['hi belts tight fan good', 1],
          ],
        },
      ],
      [6, 'end'],
    ],
    ['hi belts tight', 'fan good'],
  ],
  [
    'Android: the one place used again for the same words, said anew',
    true,
    [
      [1, { results: [['rivet line good', 1]] }],
      [3, { results: [['rivet', 0]] }],
      [3.4, { results: [['rivet line good', 1]] }],
      [5, 'end'],
    ],
    ['rivet line good', 'rivet line good'],
  ],
  [
    'iOS: finals without confidence, once each',
    false,
    [
      [1, { results: [['left', 0, 0]] }],
      [2, { results: [['left tyre good', 1, 0]] }],
      [
        5,
        {
          results: [
            ['left tyre good', 1, 0],
            ['no cuts', 0, 0],
          ],
          index: 1,
        },
      ],
      [
        6,
        {
          results: [
            ['left tyre good', 1, 0],
            ['no cuts', 1, 0],
          ],
          index: 1,
        },
      ],
    ],
    ['left tyre good', 'no cuts'],
  ],
  [
    'any: what is new is not cut off from its "not"',
    true,
    [
      [1, { results: [['swashplate is not', 1]] }],
      [4, { results: [['swashplate is not secure', 1]] }],
      [6, 'end'],
    ],
    ['swashplate is not', 'swashplate is not secure'],
  ],
  [
    'any: "no" as an answer, then "no cracks"',
    false,
    [
      [1, { results: [['no', 1]] }],
      [
        3,
        {
          results: [
            ['no', 1],
            ['no', 0],
          ],
          index: 1,
        },
      ],
      [
        4,
        {
          results: [
            ['no', 1],
            ['no cracks', 1],
          ],
          index: 1,
        },
      ],
    ],
    ['no', 'no cracks'],
  ],
  [
    'any: an interim that never becomes final goes out at the end',
    false,
    [
      [1, { results: [['crack in the', 0]] }],
      [1.5, { results: [['crack in the left skid', 0]] }],
      [2, 'end'],
    ],
    ['crack in the left skid'],
  ],
  [
    'any: a final that is delivered after the end',
    false,
    [
      [1, { results: [['crack in the left', 0]] }],
      [2, 'end'],
      [2.1, { results: [['crack in the left skid', 1]] }],
    ],
    ['crack in the left', 'skid'],
  ],
  [
    'any: the list begins anew within the session',
    false,
    [
      [
        1,
        {
          results: [
            ['belts good', 1],
            ['fan good', 1],
          ],
        },
      ],
      [3, { results: [['nick in the blade', 1]] }],
    ],
    ['belts good', 'fan good', 'nick in the blade'],
  ],
  [
    'any: empty results and white space',
    false,
    [
      [1, { results: [['', 0]] }],
      [2, { results: [['  ', 1]] }],
      [3, { results: [['belts good', 1]] }],
    ],
    ['belts good'],
  ],
];

test.each(SEQUENCES)('each utterance once: %s', async (_, android, acts, heard) => {
  const r = await run([[...open, ...acts], open], { android });
  await r.time.pass(12);
  expect(r.heard).toEqual(heard);
});

test('alternatives, confidence, times, and that the sound left the device', async () => {
  const place = (from: number, to: number) => ({ recording: 'r', from, to });
  const r = await run(
    [
      [
        ...open,
        [2, 'speechstart'],
        [3, { results: [['swash', 0]] }],
        [5, { results: [['swash late good', 1, 0.8, ['swashplate good']]] }],
      ],
    ],
    { place },
  );
  await r.time.pass(6);
  expect(r.full[0]).toMatchObject({
    by: 'browser',
    text: 'swash late good',
    confidence: 0.8,
    from: 2,
    to: 5,
    sentAway: true,
    alternatives: [{ text: 'swashplate good', confidence: 0.3 }],
    sound: { recording: 'r', from: 2, to: 5 },
  });
});

test('the begin of a later utterance is not that of the first one in the session', async () => {
  const r = await run([
    [
      ...open,
      [1, 'speechstart'],
      [2, { results: [['a b', 1]] }],
      [
        9,
        {
          results: [
            ['a b', 1],
            ['c', 0],
          ],
          index: 1,
        },
      ],
      [
        10,
        {
          results: [
            ['a b', 1],
            ['c d', 1],
          ],
          index: 1,
        },
      ],
    ],
  ]);
  await r.time.pass(11);
  expect(r.full.map((h) => h.from)).toEqual([1, 8.5]);
});

test('it listens on across endings, starting at most once a second', async () => {
  const short: Act[] = [
    [0.05, 'start'],
    [0.1, 'audiostart'],
    [0.3, { error: 'no-speech' }],
    [0.35, 'end'],
  ];
  const r = await run([short]);
  await r.time.pass(10);
  const starts = r.calls.filter((c) => c.startsWith('start')).map((c) => Number(c.slice(6)));
  expect(starts.length).toBeGreaterThanOrEqual(10);
  starts
    .slice(1)
    .forEach((at, i) => expect(at - (starts[i] ?? 0)).toBeGreaterThanOrEqual(1 - 1e-6));
  expect(r.states.filter((s) => s.startsWith('trouble'))).toEqual([]);
});

test('a start that throws because the last session still closes is tried again', async () => {
  const r = await run([[...open, [1, { results: [['belts good', 1]] }]]], { throwsOnStart: 1 });
  await r.time.pass(5);
  expect(r.heard).toEqual(['belts good']);
});

test('an error twice and no end: one new session', async () => {
  const r = await run([
    [...open, [1, { error: 'no-speech' }], [1.1, { error: 'no-speech' }]],
    [...open, [1, { results: [['belts good', 1]] }]],
  ]);
  await r.time.pass(6);
  expect(r.calls).toEqual(['start 0', 'start 2.6']);
  expect(r.heard).toEqual(['belts good']);
});

test('a session that goes silent without end is replaced, and what it heard goes out', async () => {
  const r = await run(
    [
      [...open, [1, { results: [['oil at six', 0]] }]],
      [...open, [1, { results: [['belts good', 1]] }]],
    ],
    { endsWhenTold: false },
  );
  await r.time.pass(25);
  expect(r.heard).toEqual(['oil at six', 'belts good']);
  expect(r.notices).toEqual(['cut-off']);
});

test('no audiostart in 3 s: the API does nothing here', async () => {
  for (const acts of [[], [[0.1, 'start']]] as Act[][]) {
    const r = await run([acts]);
    await r.time.pass(2.9);
    expect(r.states).toEqual(['starting']);
    await r.time.pass(1);
    expect(r.states.at(-1)).toBe(
      'trouble service: This browser does not let the page use its speech service.',
    );
    await r.time.pass(20);
    expect(r.calls.filter((c) => c.startsWith('start'))).toHaveLength(1);
  }
});

test('while the pilot is asked for permission it waits', async () => {
  const r = await run(
    [
      [
        [20, 'start'],
        [20.1, 'audiostart'],
        [22, { results: [['begin', 1]] }],
      ],
    ],
    { permission: 'prompt' },
  );
  await r.time.pass(23);
  expect(r.heard).toEqual(['begin']);
  expect(r.states).toEqual(['starting', 'starting', 'listening']);
});

test.each([
  ['network', 'service'],
  ['service-not-allowed', 'service'],
  ['language-not-supported', 'service'],
  ['something-new', 'service'],
  ['not-allowed', 'permission'],
  ['audio-capture', 'microphone'],
])(
  'error %s is trouble with the %s, said in one sentence, and not tried again',
  async (error, kind) => {
    const r = await run([
      [
        [0.1, { error }],
        [0.15, { error }],
        [0.2, 'end'],
      ],
    ]);
    await r.time.pass(10);
    expect(r.calls).toEqual(['start 0', expect.stringMatching(/./)].slice(0, r.calls.length));
    expect(r.states.at(-1)).toMatch(
      new RegExp(`^trouble ${kind}: [A-Z][^.]*\\.( [A-Z][^.]*\\.)?$`),
    );
  },
);

test('permission denied before: no session is even tried', async () => {
  const r = await run([open], { permission: 'denied' });
  await r.time.pass(1);
  expect(r.calls).toEqual([]);
  expect(r.states.at(-1)).toContain('trouble permission');
});

test('five sessions without sound are trouble and no endless loop', async () => {
  const r = await run([
    [
      [0.1, 'start'],
      [0.2, 'end'],
    ],
  ]);
  await r.time.pass(60);
  expect(r.calls.filter((c) => c.startsWith('start'))).toHaveLength(5);
  expect(r.states.at(-1)).toContain('trouble service');
});

test('two pages taking the recogniser from each other: said, and given up', async () => {
  const r = await run([[...open, [0.5, { error: 'aborted' }], [0.6, 'end']]]);
  await r.time.pass(60);
  expect(r.states.at(-1)).toContain('Another page or app');
});

const phrases = () => [
  { phrase: 'swashplate', boost: 5 },
  { phrase: 'teeter bearing', boost: 99 },
];

test('phrases are set, and after an error at once tried without them, once, and still on this device', async () => {
  const r = await run(
    [
      [
        [0.1, { error: 'phrases-not-supported' }],
        [0.15, { error: 'phrases-not-supported' }],
      ],
      [...open, [1, { results: [['belts good', 1]] }], [2, 'end']],
      open,
    ],
    { phrases, local: true, available: 'available' },
  );
  await r.time.pass(8);
  expect(r.settings).toEqual([
    { processLocally: true, phrases: 2 },
    { processLocally: true, phrases: 0 },
    { processLocally: true, phrases: 0 },
  ]);
  expect(r.heard).toEqual(['belts good']);
  expect(r.full[0]?.sentAway).toBe(false);
});

test.each([['downloadable'], ['downloading'], ['unavailable'], [undefined]])(
  'on this device only, availability %s: trouble, and no session is started',
  async (available) => {
    const r = await run([open], { local: true, ...(available === undefined ? {} : { available }) });
    await r.time.pass(10);
    expect(r.calls).toEqual([]);
    expect(r.states.at(-1)).toContain('trouble service');
  },
);

test('never from local to network by itself: whatever errors come, every session is local', async () => {
  for (const error of [
    'network',
    'language-not-supported',
    'service-not-allowed',
    'phrases-not-supported',
    'no-speech',
  ]) {
    const r = await run(
      [
        [
          [0.1, { error }],
          [0.2, 'end'],
        ],
      ],
      { phrases, local: true, available: 'available' },
    );
    await r.time.pass(30);
    expect(r.settings.length).toBeGreaterThan(0);
    expect(r.settings.every((s) => s.processLocally === true)).toBe(true);
  }
});

test('hold lets the words out that were begun, takes nothing, and goes on', async () => {
  const r = await run([
    [...open, [1, { results: [['crack in the', 0]] }]],
    [...open, [1, { results: [['belts good', 1]] }]],
  ]);
  await r.time.pass(1.5);
  r.ear.pause();
  await r.time.pass(30);
  expect(r.heard).toEqual(['crack in the']);
  expect(r.calls.filter((c) => c.startsWith('start'))).toHaveLength(1);
  r.ear.resume();
  await r.time.pass(3);
  expect(r.heard).toEqual(['crack in the', 'belts good']);
});

test('stop resolves after the last words are out, also where end never comes', async () => {
  const r = await run([[...open, [1, { results: [['crack in the', 0]] }]]], {
    endsWhenTold: false,
  });
  await r.time.pass(1.5);
  let done = false;
  void r.ear.stop().then(() => (done = true));
  await r.time.pass(2);
  expect(done).toBe(true);
  expect(r.heard).toEqual(['crack in the']);
  expect(r.states.at(-1)).toBe('stopped');
});

test('something heard without words is a notice', async () => {
  const r = await run([[...open, [1, 'nomatch']]]);
  await r.time.pass(2);
  expect(r.notices).toEqual(['lost']);
});
