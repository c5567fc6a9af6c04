import fc from 'fast-check';
import { parseText } from 'media-captions';
import { expect, test } from 'vitest';
import { transcriptHeard } from '#capture';
import { Heard } from '#shared/heard';

/** Words with their times, one row an utterance, as `from-to who: text`. */
function rows(input: string | Uint8Array, file = 'walk.txt'): string[] {
  const read = transcriptHeard(input, file);
  if (!read.ok) return [`! ${read.error}`];
  return read.heard.map(
    (h) => `${h.from ?? '?'}-${h.to ?? '?'} ${h.speaker === null ? '' : `${h.speaker}: `}${h.text}`,
  );
}
function warnings(input: string | Uint8Array, file = 'walk.txt'): string[] {
  const read = transcriptHeard(input, file);
  return read.ok ? read.warnings : [`! ${read.error}`];
}

test('WebVTT: header, notes, styles, ids, settings, tags, voices and entities', () => {
  const vtt = `WEBVTT - a walk
Kind: captions

STYLE
::cue { color: white }

NOTE this is --> not a cue

1
00:01.000 --> 00:02.500 align:start position:10%
Left tyre <b>good</b> &amp; dry

id two
01:00:03.000 --> 01:00:04.000
<v Pat>No cracks.
<v.loud Kim>Are you sure?

1:02:00.5 --> 1:02:01.25
<00:00:01.000><c>belts</c> tight`;
  expect(rows(vtt)).toEqual([
    '1-2.5 Left tyre good & dry',
    '3603-3604 Pat: No cracks.',
    '3603-3604 Kim: Are you sure?',
    '3720.5-3721.25 belts tight',
  ]);
});

test('a cue named NOTE is a cue', () => {
  expect(rows('WEBVTT\n\nNOTE\n00:01.000 --> 00:02.000\nbelts good\n')).toEqual(['1-2 belts good']);
});

test('SubRip: commas, numbers, tags of its own, carriage returns', () => {
  const srt =
    '1\r\n00:00:01,000 --> 00:00:02,000\r\n<i>Left tyre</i> good\r\nno cuts\r\n\r\n2\r\n00:00:03,500 --> 00:00:04,000\r\n{\\an8}Belts <font color="red">tight</font>\r\n';
  expect(rows(srt, 'walk.srt')).toEqual(['1-2 Left tyre good no cuts', '3.5-4 Belts tight']);
});

test('cues that follow each other without an empty line are two', () => {
  expect(
    rows('1\n00:00:01,000 --> 00:00:02,000\nbelts\n2\n00:00:02,000 --> 00:00:03,000\ntight\n'),
  ).toEqual(['1-2 belts', '2-3 tight']);
});

test('plain text: one line one utterance; stamps in minutes, hours and parts; wrapped lines', () => {
  expect(rows('belts good\n\n  left tyre good \n')).toEqual([
    '?-? belts good',
    '?-? left tyre good',
  ]);
  expect(
    rows(
      '[0:01] belts good\n[1:02] left tyre,\n   no cuts\n\n[1:00:05.5] finish\n(1:00:09 - 1:00:11) read back\nno stamp here\n',
    ),
  ).toEqual([
    '1-? belts good',
    '62-? left tyre, no cuts',
    '3605.5-? finish',
    '3609-3611 read back no stamp here',
  ]);
});

test('who speaks: roles only; "Left tyre:" stays in the words', () => {
  expect(
    rows('Instructor: you want no cracks\nSpeaker 2: right\nLeft tyre: good\n>> belts good'),
  ).toEqual([
    '?-? Instructor: you want no cracks',
    '?-? Speaker 2: right',
    '?-? Left tyre: good',
    '?-? belts good',
  ]);
  const read = transcriptHeard('Left tyre: good', 'a.txt');
  expect(read.ok && read.heard[0]?.speaker).toBe(null);
});

test('R4: words of a cue with bad times are kept, and each kind of fault is one sentence', () => {
  const vtt = `WEBVTT

00:05.000 --> 00:02.000
crack in the left skid

00:99.000 --> 00:100.000
belts slack

00:0x.000 --> 00:10.000
oil leak

lonely words

00:01.000 --> 00:09.000
tyre good

00:02.000 --> 00:03.000
brake good`;
  const read = transcriptHeard(vtt, 'w.vtt');
  expect(read.ok && read.heard.map((h) => h.text).sort()).toEqual([
    'belts slack',
    'brake good',
    'crack in the left skid',
    'lonely words',
    'oil leak',
    'tyre good',
  ]);
  expect(read.ok && read.warnings.join('\n')).toMatchInlineSnapshot(`
    "w.vtt, line 3: one cue ends before it begins; its words are kept, its end is not.
    w.vtt, from line 6: 2 cues have times that cannot be read; their words are kept without a time.
    w.vtt, line 12: one block of words stands without a time; it is kept.
    w.vtt, from line 14: 2 cues begin before the one in front of them; they were put in order of time."
  `);
});

test('times that go back: cues are put in order, stamped lines stay where they were said', () => {
  expect(
    rows('WEBVTT\n\n00:05.000 --> 00:06.000\nsecond\n\n00:01.000 --> 00:02.000\nfirst\n'),
  ).toEqual(['1-2 first', '5-6 second']);
  expect(rows('[0:05] one\n[0:03] two\n[0:07] three')).toEqual(['5-? one', '?-? two', '7-? three']);
  expect(warnings('[0:05] one\n[0:03] two\n[0:07] three')).toEqual([
    'walk.txt, line 2: one stamp goes back in time; the line is kept in its place without a time.',
  ]);
});

test('rolling captions lose their repeats; three rivet lines stay three', () => {
  const cue = (n: number, text: string) => `00:0${n}.000 --> 00:0${n + 1}.000\n${text}\n\n`;
  const rolling =
    'WEBVTT\n\n' +
    cue(1, 'left tyre') +
    cue(2, 'left tyre\ngood no cuts') +
    cue(3, 'good no cuts\nbelts tight') +
    cue(4, 'belts tight\nfan good') +
    cue(5, 'fan good\nfinish');
  expect(rows(rolling).map((r) => r.slice(4))).toEqual([
    'left tyre',
    'good no cuts',
    'belts tight',
    'fan good',
    'finish',
  ]);
  const three = 'WEBVTT\n\n' + [1, 2, 3].map((n) => cue(n, 'rivet line good')).join('');
  expect(rows(three)).toHaveLength(3);
});

test('a sentence broken where the line was full is one utterance; without punctuation nothing is joined', () => {
  const cue = (from: number, to: number, text: string) =>
    `00:0${from}.000 --> 00:0${to}.000\n${text}\n\n`;
  const broken = cue(1, 3, "Right skid tube's got a") + cue(3, 4, 'small dent. Watch it.');
  expect(rows(`WEBVTT\n\n${broken}${cue(5, 6, 'Belts good.')}${cue(7, 8, 'and tight.')}`)).toEqual([
    "1-4 Right skid tube's got a small dent. Watch it.",
    '5-6 Belts good.',
    '7-8 and tight.',
  ]);
  const bare = cue(1, 2, 'rivet line good') + cue(2, 3, 'rivet line good') + cue(3, 4, 'hold');
  expect(rows(`WEBVTT\n\n${bare}`)).toHaveLength(3);
});

test('stamped lines that break in mid-sentence are joined, and cut where a sentence ends', () => {
  const said = [
    "[0:01] So this is the drive belt, and what we're",
    "[0:04] looking for is cracks. It's a wear item, so",
    '[0:08] I always turn it over. This one',
    '[0:11] looks good.',
    '[0:20] Belts are fine.',
  ];
  expect(rows(said.join('\n')).map((r) => r.replace(/^\S+ /, ''))).toEqual([
    "So this is the drive belt, and what we're looking for is cracks.",
    "It's a wear item, so I always turn it over.",
    'This one looks good.',
    'Belts are fine.',
  ]);
});

test('without punctuation only a line that cannot be the end of a sentence goes on', () => {
  const said = 'left skid tube has a\nsmall dent\nthe cap is on\nright skid tube good\nhold';
  expect(rows(said).map((r) => r.replace(/^\S+ /, ''))).toEqual([
    'left skid tube has a small dent',
    'the cap is on',
    'right skid tube good',
    'hold',
  ]);
});

test('nobody ends the sentence of somebody else, nor after a long silence', () => {
  const said = '[0:01] Instructor: Look at the\n[0:02] Student: Belt. It is good.\n';
  expect(rows(said)).toHaveLength(2);
  expect(rows('[0:01 - 0:02] This is the\n[0:31 - 0:33] belt. It is good.')).toHaveLength(2);
});

const bytes = (text: string, how: 'utf16le' | 'latin1' | 'utf8') =>
  new Uint8Array(Buffer.from(text, how));
const swapped = (b: Uint8Array) => b.map((_, i) => b[i ^ 1] ?? 0);

test.each([
  ['UTF-8', bytes('[0:01] façade good', 'utf8')],
  ['UTF-8 with a mark', bytes('\uFEFF[0:01] façade good', 'utf8')],
  ['UTF-16 with a mark', bytes('\uFEFF[0:01] façade good', 'utf16le')],
  ['UTF-16 without one', bytes('[0:01] façade good', 'utf16le')],
  ['UTF-16 big end first', swapped(bytes('\uFEFF[0:01] façade good', 'utf16le'))],
  ['UTF-16 big end first without a mark', swapped(bytes('[0:01] façade good', 'utf16le'))],
  ['Latin-1', bytes('[0:01] façade good', 'latin1')],
])('read as it was written: %s', (_, input) => {
  expect(rows(input)).toEqual(['1-? façade good']);
});

test('Latin-1 is said to be a guess', () => {
  expect(warnings(bytes('façade good', 'latin1'))[0]).toContain('Latin-1');
});

test.each([
  ['nothing', '', 'walk.txt is empty.'],
  ['white space', ' \n\n ', 'no speech'],
  ['a header alone', 'WEBVTT\n\n', 'no speech'],
  ['notes of music', 'WEBVTT\n\n00:01.000 --> 00:02.000\n♪♪\n', 'no speech'],
  ['a sound file', new Uint8Array(Buffer.from('RIFF....WAVEfmt ')), 'open it as sound'],
  ['a PDF', new Uint8Array(Buffer.from('%PDF-1.7')), 'PDF'],
  ['noise', Uint8Array.from({ length: 4000 }, (_, i) => (i * 7919) % 256), 'not text'],
  ['a web page', '<!DOCTYPE html><p>belts good', 'web page'],
  ['JSON', '{"text": "belts good"}', 'JSON'],
])('bad input gets one sentence: %s', (_, input, expected) => {
  const read = transcriptHeard(input, 'walk.txt');
  expect(read.ok).toBe(false);
  const error = read.ok ? '' : read.error;
  expect(error).toContain(expected);
  expect(error).toMatch(/^walk\.txt [^\n]*\.$/);
});

test('100,000 cues and a line of 5 MB do not hang', { timeout: 60_000 }, () => {
  const cues = ['WEBVTT', ''];
  for (let i = 0; i < 100_000; i += 1) {
    const at = `${Math.floor(i / 3600)}:${String(Math.floor(i / 60) % 60).padStart(2, '0')}:${String(i % 60).padStart(2, '0')}`;
    cues.push(`${at}.000 --> ${at}.900`, `rivet ${i} good`, '');
  }
  for (const [input, count] of [
    [cues.join('\n'), 100_000],
    ['good '.repeat(1_000_000), 1],
    ['<'.repeat(200_000) + ' a', 1],
    ['[0:01] '.repeat(100_000) + 'x', 1],
  ] as const) {
    const began = performance.now();
    const read = transcriptHeard(input, 'long.vtt');
    expect(read.ok && read.heard.length).toBe(count);
    expect(performance.now() - began).toBeLessThan(15_000);
  }
});

// Peer: media-captions reads well-formed WebVTT and SubRip; words, begins and ends must agree.
test('property, seed 20261125: well-formed cues read as a caption library reads them', async () => {
  const word = fc.constantFrom('belts', 'good', 'crack', 'two', 'left', 'skid', 'slack');
  const cue = fc.record({
    gap: fc.integer({ min: 1, max: 5000 }),
    length: fc.integer({ min: 1, max: 9000 }),
    lines: fc.array(fc.array(word, { minLength: 1, maxLength: 5 }), { minLength: 1, maxLength: 3 }),
    id: fc.boolean(),
  });
  await fc.assert(
    fc.asyncProperty(
      fc.array(cue, { minLength: 1, maxLength: 20 }),
      fc.constantFrom('vtt' as const, 'srt' as const),
      async (cues, type) => {
        let at = 0;
        const stamp = (ms: number) =>
          new Date(ms)
            .toISOString()
            .slice(11, 23)
            .replace('.', type === 'srt' ? ',' : '.');
        const blocks = cues.map((c, i) => {
          const from = at + c.gap;
          at = from + c.length;
          const id = type === 'srt' ? `${i + 1}\n` : c.id ? `cue ${i}\n` : '';
          return `${id}${stamp(from)} --> ${stamp(at)}\n${c.lines.map((l) => l.join(' ')).join('\n')}\n`;
        });
        const text = (type === 'vtt' ? 'WEBVTT\n\n' : '') + blocks.join('\n');
        const theirs = await parseText(text, { type });
        const ours = transcriptHeard(text, 'a');
        expect(ours.ok && ours.heard.map((h) => [h.from, h.to, h.text])).toEqual(
          theirs.cues.map((c) => [c.startTime, c.endTime, c.text.replace(/\n/g, ' ')]),
        );
      },
    ),
    { seed: 20261125, numRuns: 100 },
  );
});

test('property, seed 7: any text or bytes end in utterances that keep the contract or in one sentence', () => {
  const bit = fc.constantFrom(
    'WEBVTT\n',
    '\n\n',
    '00:01.000 --> 00:02.000\n',
    '-->',
    '[0:01]',
    '[9:99]',
    '<v A>',
    '</b>',
    '&amp;',
    'belts good',
    '1\n',
    '\r',
    '\u0000',
    'NOTE x',
    '(',
    '00:00:01,000 --> ',
    '{\\an8}',
    '\u2028',
  );
  fc.assert(
    fc.property(
      fc.oneof(
        fc.array(bit, { maxLength: 30 }).map((b) => b.join('')),
        fc.string(),
        fc.uint8Array({ maxLength: 300 }),
      ),
      (input) => {
        const read = transcriptHeard(input, 'f');
        if (read.ok) for (const heard of read.heard) Heard.parse(heard);
        else expect(read.error).toMatch(/^f [^\n]*\.$/);
      },
    ),
    { seed: 7, numRuns: 2000 },
  );
});

test('property, seed 11: no word between valid marks is lost, whatever the times are', () => {
  const time = fc
    .tuple(fc.nat(99), fc.nat(99), fc.nat(99))
    .map(([h, m, s]) => `${h}:${String(m).padStart(2, '0')}:${String(s).padStart(2, '0')}.000`);
  fc.assert(
    fc.property(fc.array(fc.tuple(time, time), { minLength: 1, maxLength: 12 }), (times) => {
      const text = 'WEBVTT\n\n' + times.map(([a, b], i) => `${a} --> ${b}\nword${i}\n`).join('\n');
      const read = transcriptHeard(text, 'f');
      expect(read.ok && read.heard.map((h) => h.text).sort()).toEqual(
        times.map((_, i) => `word${i}`).sort(),
      );
    }),
    { seed: 11, numRuns: 300 },
  );
});
