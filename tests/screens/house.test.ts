import { readFileSync } from 'node:fs';
import { FluentResource } from '@fluent/bundle';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { PRIVACY } from '#capture';
import { fold } from '#reconcile';
import { saidIn } from '../../src/screens/text/house.ts';
import { catalogueOf, EVENTFUL, HALF_WAY, HARD_LANDING } from './cases.ts';
import { madeWalk } from './made.ts';

/** Where the sentences are made that the ear, the record and the device put on the screen. */
const SOURCES = [
  'capture/browser/browser',
  'capture/browser/install',
  'capture/choose',
  'capture/embedded/model',
  'capture/live',
  'capture/own/check',
  'capture/own/ear',
  'capture/own/here',
  'capture/pair',
  'capture/platform/interruption',
  'capture/sound/microphone',
  'capture/sound/recorder',
  'capture/sound/tap',
  'capture/switchboard',
  'reconcile/course',
  'reconcile/findings',
  'reconcile/rated',
  'reconcile/student',
  'reconcile/trend',
  'store/copy/copy',
  'store/room',
  'sync/api',
  'wire/offline-copy',
  'wire/readers',
  'wire/unkept',
].map((f) => `src/${f}.ts`);

/** What stands in the place of something that is only known when it is said. */
const SOMETHING = 'five bolts';

/** The whole sentences of a file, such as "The microphone is back." */
function sentencesIn(file: string): readonly string[] {
  const out: string[] = [];
  const each = (node: ts.Node): void => {
    const text = ts.isStringLiteralLike(node)
      ? node.text
      : ts.isTemplateExpression(node)
        ? node.head.text + node.templateSpans.map((s) => SOMETHING + s.literal.text).join('')
        : '';
    if (/^[A-Z].*\.$/s.test(text) && text.split(' ').length > 2) out.push(text);
    ts.forEachChild(node, each);
  };
  const text = readFileSync(file, 'utf8');
  each(ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true));
  return out;
}

const idsOf = (language: string) =>
  new FluentResource(readFileSync(`src/screens/text/house.${language}.ftl`, 'utf8')).body.map(
    ({ id, value }) => [
      id,
      JSON.stringify(value)
        .match(/"name":"\w+"/g)
        ?.sort() ?? [],
    ],
  );

test.each(SOURCES)('issue 17: %s says nothing that a German screen shows in English', (file) => {
  const sentences = sentencesIn(file);
  expect(sentences.length).toBeGreaterThan(0);
  expect(sentences.filter((s) => saidIn('de', s) === s)).toEqual([]);
});

test('every sentence of the house is in both languages, with the same things in it', () => {
  expect(idsOf('de')).toEqual(idsOf('en'));
});

test.each([
  ['one sentence', 'The microphone is back.', 'Das Mikrofon ist wieder da.'],
  [
    'two that are one message',
    'The microphone is back. Say resume to go on.',
    'Das Mikrofon ist wieder da. „resume“ sagen, um weiterzumachen.',
  ],
  [
    'two messages, one behind the other',
    "The browser's speech service cannot be reached. Nothing else can listen; words can be typed.",
    'Der Sprachdienst des Browsers ist nicht zu erreichen. Nichts anderes kann zuhören; Worte lassen sich tippen.',
  ],
  [
    'one inside another',
    'Nothing can listen here: This browser has no speech service. Words can be typed.',
    'Nichts kann hier zuhören: Dieser Browser hat keinen Sprachdienst. Worte lassen sich tippen.',
  ],
  [
    'with something in it',
    'There is room for about 12 minutes of sound. After that the walk goes on in words.',
    'Für etwa 12 Minuten Ton ist Platz. Danach geht der Rundgang in Worten weiter.',
  ],
  [
    '17 how a walk went',
    'Held at the beginning with 3 of its 7 checks to go. Taken up again at Mast. 2 of them are still open.',
    'Pause bei dem Anfang, als dort 3 von 7 Prüfpunkten noch fehlten. Fortgesetzt bei Mast. Davon noch offen: 2.',
  ],
  [
    '17 what is for the next lesson',
    'Report oil line yourself: explained on one walk, reported on none, left open on 2 of 3 walks.',
    'oil line selbst melden: erklärt auf einem Rundgang, gemeldet auf keinem, offen geblieben auf 2 von 3 Rundgängen.',
  ],
  [
    '17 a value past its limit',
    'Past its limit already: 13 mm, and at most 12 mm is allowed. 3 values are too few for a trend.',
    'Schon jenseits der Grenze: 13 mm, und höchstens 12 mm ist erlaubt. 3 Werte sind zu wenige für eine Richtung.',
  ],
  [
    '17 a value that nears its limit',
    'It reaches the limit at about 1256.3 aircraft hours; between 1238 and 1281.',
    'Die Grenze ist etwa bei 1256.3 Betriebsstunden erreicht; zwischen 1238 und 1281.',
  ],
  [
    '17 a deferral that ran out',
    'The deferral ran out on 2026-09-01.',
    'Der Aufschub ist am 2026-09-01 abgelaufen.',
  ],
  [
    '17 what somebody said stays as it was said',
    'A finding: “ground it”.',
    'Ein Befund: „ground it“.',
  ],
  [
    '17 a quotation that is two sentences',
    '“blades good. No value for now” was said without its unit.',
    '„blades good. No value for now“ wurde ohne Einheit gesagt.',
  ],
  [
    '17 a severity, and a milder one',
    'Said: ground it. A milder one was said too; the worse stands.',
    'Gesagt: nicht fliegen. Auch etwas Milderes wurde gesagt; das Schlimmere gilt.',
  ],
  ['what nobody knows stays', 'The hamster is asleep.', 'The hamster is asleep.'],
])('%s', (_, english, german) => {
  expect(saidIn('de', english)).toBe(german);
  expect(saidIn('en', english)).toBe(english);
});

test('what the browser’s recogniser does with the voice is told in the language of the yes', () => {
  expect(saidIn('de', PRIVACY)).toContain('über das Netz');
});

test.each([
  ['everything in it', EVENTFUL],
  ['half way', HALF_WAY],
  ['a hard landing', HARD_LANDING],
])('17 a walk with %s: every reason and every remark is told in German', (_, plot) => {
  const catalogue = catalogueOf('training-helicopter');
  const { checks, findings, remarks } = fold(catalogue, madeWalk(catalogue, 'w', plot));
  const told = [
    ...checks.flatMap((c) => c.reasons.map((r) => r.text)),
    ...findings.flatMap((f) => f.reasons.map((r) => r.text)),
    ...remarks.map((r) => r.text),
  ];
  expect(told.length).toBeGreaterThan(100);
  // What the author of a catalogue wrote is not ours to translate.
  const ours = told.filter((text) => !JSON.stringify(catalogue).includes(text));
  expect([...new Set(ours.filter((text) => saidIn('de', text) === text))]).toEqual([]);
});
