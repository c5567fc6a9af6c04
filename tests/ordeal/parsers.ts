import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { editionOf, parseCatalogue } from '#catalogue';
import { transcriptHeard } from '#capture';
import { createGrammar, parseDictionary } from '#grammar';
import { readAnswers } from '#report';
import { CATALOGUES, WALKS } from '#seeds';
import { memoryStore, verifyFile } from '#store';
import { Event, EventFormat } from '#shared/event';
import { readAs } from '#shared/format';
import { Heard } from '#shared/heard';
import { FIRST_SCENE } from '#shared/scene';
import { Statement } from '#shared/statement';
import { readWav, writeWav } from '../../src/capture/signal/wav.ts';
import { canonical, sha256Hex } from '../../src/store/canonical.ts';
import { frameOf, framesOf, readLines } from '../../src/store/copy/lines.ts';
import { readJson } from '../../src/store/json.ts';
import { countingWorld } from '../store/help.ts';
import { heard } from '../store/words.ts';
import { testWeights } from '../weights.ts';

/** One parser under fire. */
export interface Target {
  readonly name: string;
  /** Honest input, to be changed. */
  readonly samples: readonly Uint8Array[];
  /** Throws when the parser throws, or when what it gave back breaks its own promise. */
  run(input: Uint8Array): void | Promise<void>;
}

class Broken extends Error {}
function promise(holds: boolean, what: string): void {
  if (!holds) throw new Broken(what);
}
const utf8 = (text: string) => new TextEncoder().encode(text);
const text = (bytes: Uint8Array) => new TextDecoder().decode(bytes);

export const SMALL_CATALOGUE = `v: 1
id: small-helicopter
name: Small helicopter
kind: helicopter
gauges:
  - id: slack
    name: Slack
    steps: [fingertip, first knuckle, { name: second knuckle, say: [two knuckles] }]
signs:
  - id: hard-landing
    name: Signs of a hard landing
    conditions: [bent]
    severity: ground
    followUps: [tail-skid]
stations:
  - id: mast
    name: Mast
    place: { x: 50, y: 40 }
    inOrder: true
    checks:
      - id: drive-belts
        name: Drive belts
        say: [belts]
        aspects: [condition, { name: slack, say: [play] }]
        measures:
          - { id: slack, name: slack, gauge: slack, atMost: first knuckle }
          - { id: pressure, name: pressure, unit: "[psi]", low: 30, high: 40 }
      - { id: brake-line, name: Brake line, repeat: { of: 2, sides: [left, right], plural: true } }
  - id: tail
    name: Tail
    place: { x: 50, y: 90 }
    checks: [{ id: tail-skid, name: Tail skid, blanket: true }]
`;

function catalogueTarget(): Target {
  return {
    name: 'catalogue',
    samples: [utf8(SMALL_CATALOGUE), ...CATALOGUES.map((c) => utf8(c.text.slice(0, 4000)))],
    run(input) {
      const parsed = parseCatalogue(text(input), 'fuzz.yaml');
      if (!parsed.ok) promise(parsed.problems.length > 0, 'refused without a problem');
      else promise(/^[0-9a-f]{64}$/.test(editionOf(parsed.catalogue)), 'no edition');
    },
  };
}

function transcriptTarget(): Target {
  return {
    name: 'transcript',
    samples: WALKS.map((w) => utf8(w.text.slice(0, 3000))),
    run(input) {
      const read = transcriptHeard(input, 'fuzz.vtt');
      if (!read.ok) promise(read.error.length > 0, 'refused without a word');
      else for (const one of read.heard) promise(Heard.safeParse(one).success, 'not a Heard');
    },
  };
}

function soundTarget(): Target {
  const tone = Float32Array.from({ length: 600 }, (_, i) => Math.sin(i / 9));
  return {
    name: 'sound',
    samples: [8000, 16000, 44100].map((rate) => writeWav(tone, rate)),
    run(input) {
      const read = readWav(input);
      if (!read.ok) promise(read.error.length > 0, 'refused without a word');
      else {
        promise(read.rate > 0 && Number.isFinite(read.rate), 'no rate');
        promise(read.samples.length <= input.length, 'more samples than bytes');
        promise(
          read.samples.every((s) => Number.isFinite(s)),
          'a sample that is no number',
        );
      }
    },
  };
}

const FIXTURE = fileURLToPath(new URL('../store/fixtures/backup-1.zip', import.meta.url));

function backupTarget(): Target {
  return {
    name: 'backup',
    samples: [new Uint8Array(readFileSync(FIXTURE))],
    async run(input) {
      const store = await memoryStore(countingWorld(80));
      const restored = await store.restore(input);
      promise(restored.text.length > 0, 'no words');
      promise(restored.ok === (restored.refused.length === 0), 'ok and refused disagree');
      const verdict = await store.verify();
      // What hangs on nothing is kept aside and said to be; anything else that was taken verifies.
      const said = restored.aside.some((a) => a.walk === verdict.broken?.walk);
      promise(
        verdict.ok || (!restored.ok && said),
        `what was restored does not verify: ${JSON.stringify(verdict.broken)}`,
      );
      promise(Reflect.get({}, 'polluted') === undefined, 'prototype polluted');
      const file = await verifyFile(input);
      promise(file.lines.length > 0, 'verify has no words');
    },
  };
}

function eventTarget(): Target {
  const zip = text(new Uint8Array(readFileSync(FIXTURE)));
  // The backup is not compressed: its events are lines in it.
  const lines = zip.split('\n').filter((line) => line.startsWith('{"aircraft"'));
  return {
    name: 'event',
    samples: lines.map(utf8),
    async run(input) {
      const json = readJson(text(input), 1_000_000);
      if (json.ok) {
        const read = readAs(EventFormat, json.value);
        if (read.ok) promise(Event.safeParse(read.value).success, 'not an Event');
        else promise(read.error.length > 0, 'refused without a word');
        const store = await memoryStore(countingWorld(80));
        const merged = await store.merge([json.value]);
        promise(
          merged.added + merged.known + merged.refused.length + merged.aside.length > 0,
          'neither taken nor refused nor kept aside',
        );
      }
      promise((await verifyFile(input)).lines.length > 0, 'verify has no words');
    },
  };
}

function answersTarget(): Target {
  const csv =
    'squawk,aircraft,part,rectified_by,certificate,certificate_kind,work_reference,rectified_on\n' +
    's1,R-102,left main tyre,A. Wren,123,mechanic,WO 7,2026-01-31\n"s2",R-102,"belts, drive",,,,,\n';
  return {
    name: 'answers',
    samples: [utf8(csv)],
    run(input) {
      const read = readAnswers(text(input), 'fuzz.csv', []);
      promise(read.ok ? read.text.length > 0 : read.error.length > 0, 'no words');
    },
  };
}

function wordsTarget(): Target {
  const parsed = parseCatalogue(SMALL_CATALOGUE, 'small.yaml');
  if (!parsed.ok) throw new Error(`The small catalogue: ${JSON.stringify(parsed.problems)}`);
  const grammar = createGrammar(parsed.catalogue, {
    pronunciations: parseDictionary(''),
    weights: testWeights(),
  });
  const sentences = grammar.sample(7, 60).map((s) => utf8(s.text));
  return {
    name: 'words',
    samples: sentences,
    run(input) {
      const said = text(input).slice(0, 2000);
      const { statements } = grammar.read(heard('h', said), FIRST_SCENE);
      for (const statement of statements)
        promise(Statement.safeParse(statement).success, 'not a Statement');
    },
  };
}

/** The second copy of the record, as a crash or a bad disk leaves it. */
function copyTarget(): Target {
  const zip = text(new Uint8Array(readFileSync(FIXTURE)));
  const events = zip.split('\n').filter((line) => line.startsWith('{"aircraft"'));
  const log = [`["rows",[${events.slice(0, 4).join(',')}]]`, '["void",["00"]]', '["note","a",1]'];
  const data = Uint8Array.from({ length: 300 }, (_, i) => (i * 31) % 256);
  const frames = [0, 1, 2].map((chunk) =>
    frameOf({
      recording: 'r',
      chunk,
      place: { recording: 'r', from: chunk, to: chunk + 1 },
      mime: 'audio/wav',
      hash: sha256Hex(data),
      data: data.slice().buffer,
    }),
  );
  return {
    name: 'copy',
    samples: [utf8(`${log.join('\n')}\n`), new Uint8Array(Buffer.concat(frames))],
    async run(input) {
      for (const line of readLines(input, canonical).lines)
        if (line.kind === 'rows')
          for (const row of line.rows) promise(row.text.length > 0, 'a row without its text');
      let bytes = 0;
      const read = (from: number, to: number) => Promise.resolve(input.slice(from, to));
      for await (const frame of framesOf(read, input.length)) {
        bytes += frame.data.byteLength;
        promise(sha256Hex(new Uint8Array(frame.data)) === frame.hash, 'not the sound of its hash');
      }
      promise(bytes <= input.length, 'more sound than there are bytes');
    },
  };
}

/** All of them, made once. */
export function targets(): readonly Target[] {
  return [
    catalogueTarget(),
    transcriptTarget(),
    soundTarget(),
    backupTarget(),
    eventTarget(),
    copyTarget(),
    answersTarget(),
    wordsTarget(),
  ];
}
