import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { readCatalogue } from '../corpus/load.ts';
import { ourReader } from '../bench/grammar/ours.ts';
import { parseJsgf, speaks, wordsOf } from './jsgf.ts';

/**
 * W3C Note "JSpeech Grammar Format", 5 June 2000, examples of its section on
 * complete grammars (simple command and control). The text of the second one
 * was seen again where a paper quotes it; the rest is from memory of the note.
 */
const POLITENESS = parseJsgf(`#JSGF V1.0;
grammar com.acme.politeness;
// Body
public <startPolite> = (please | kindly | could you | oh mighty computer) *;
public <endPolite> = [ please | thanks | thank you ];
`);
const COMMANDS = parseJsgf(`#JSGF V1.0 ISO8859-1 en;
grammar com.acme.commands;
import <com.acme.politeness.startPolite>;
import <com.acme.politeness.endPolite>;
/**
 * Basic command.
 * @example please move the window
 * @example open a file
 */
public <basicCmd> = <startPolite> <command> <endPolite>;
<command> = <action> <object>;
<action> = /10/ open |/2/ close |/1/ delete |/1/ move;
<object> = [the | a] (window | file | menu);
`);

test("the note's header: version, character encoding and locale", () => {
  expect(COMMANDS).toMatchObject({ version: '1.0', charset: 'ISO8859-1', locale: 'en' });
  expect(POLITENESS).toMatchObject({ version: '1.0', charset: null, locale: null });
});

test.each([
  'please move the window',
  'open a file',
  'oh mighty computer please open menu thank you',
  'delete window',
])('the note\'s command grammar speaks "%s"', (text) => {
  expect(speaks(COMMANDS, text, [POLITENESS])).toBe(true);
});

test.each(['please', 'open', 'open the the file', 'file open', 'thanks open a file', ''])(
  'and it does not speak "%s"',
  (text) => {
    expect(speaks(COMMANDS, text, [POLITENESS])).toBe(false);
  },
);

test('weights are read, tags and comments are no words (note, 4.4 and 4.6)', () => {
  const action = COMMANDS.rules.get('action')?.node;
  expect(action).toMatchObject({
    kind: 'choice',
    of: [{ weight: 10 }, { weight: 2 }, { weight: 1 }, { weight: 1 }],
  });
  const tagged = parseJsgf('#JSGF V1.0;\ngrammar t;\npublic <c> = yes {Y} | no {N; "x"}; // end\n');
  expect(speaks(tagged, 'yes')).toBe(true);
  expect(speaks(tagged, 'no')).toBe(true);
  expect(speaks(tagged, 'Y')).toBe(false);
});

test.each([
  ['no header', 'grammar x;\npublic <a> = b;'],
  ['an unclosed group', '#JSGF V1.0;\ngrammar x;\npublic <a> = (b | c;'],
  ['an undefined rule', '#JSGF V1.0;\ngrammar x;\npublic <a> = <b>;'],
  ['an empty alternative', '#JSGF V1.0;\ngrammar x;\npublic <a> = b | ;'],
  ['weights on some alternatives only', '#JSGF V1.0;\ngrammar x;\npublic <a> = /1/ b | c;'],
  ['a rule defined twice', '#JSGF V1.0;\ngrammar x;\npublic <a> = b;\n<a> = c;'],
])('refuses %s', (_what, text) => {
  expect(() => parseJsgf(text)).toThrow();
});

const own = ['helicopter', 'aeroplane'].map((name) => {
  const file = fileURLToPath(new URL(`../corpus/${name}.yaml`, import.meta.url));
  return { name, catalogue: readCatalogue(file), reader: ourReader(readCatalogue(file)) };
});

test.each(own)(
  'what we compile for the $name is JSGF by the note, with and without the phone loop',
  ({ reader }) => {
    for (const phoneLoop of [false, true]) {
      const grammar = parseJsgf(reader.jsgf({ phoneLoop }));
      expect(grammar.version).toBe('1.0');
      expect([...grammar.rules.values()].some((r) => r.shown)).toBe(true);
      expect(grammar.imports).toEqual([]);
    }
  },
);

test.each(own)(
  'every word of the $name grammar has a pronunciation for the recogniser',
  ({ reader }) => {
    const known = new Map(reader.vocabulary().map((v) => [v.word, v.phones]));
    const words = wordsOf(parseJsgf(reader.jsgf()));
    expect(words.size).toBeGreaterThan(100);
    expect([...words].filter((w) => (known.get(w)?.length ?? 0) === 0)).toEqual([]);
  },
);

test.each([
  'left door good',
  'windscreen clean',
  'exhaust collector cracked',
  'oil seven quarts',
  'hold',
  'finish',
])('the helicopter grammar speaks "%s"', (text) => {
  const grammar = parseJsgf(own[0]?.reader.jsgf() ?? '');
  expect(speaks(grammar, text)).toBe(true);
});

test.each(['the cat sat on the mat', 'good good left', 'once upon a time'])(
  'and not "%s"',
  (text) => {
    const grammar = parseJsgf(own[0]?.reader.jsgf() ?? '');
    expect(speaks(grammar, text)).toBe(false);
  },
);

test('of one station, the grammar speaks its checks and not those of another', () => {
  const grammar = parseJsgf(own[0]?.reader.jsgf({ station: 'cabin' }) ?? '');
  expect(speaks(grammar, 'windscreen clean')).toBe(true);
  expect(speaks(grammar, 'exhaust collector cracked')).toBe(false);
});
