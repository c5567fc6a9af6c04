import { expect, test } from 'vitest';
import { parseJsgf, speaks } from './jsgf.ts';

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
