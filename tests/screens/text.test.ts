import { readdirSync, readFileSync } from 'node:fs';
import { FluentResource } from '@fluent/bundle';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { Act } from '#shared/catalogue';
import { Circumstance } from '#shared/circumstance';
import { Standing } from '#shared/coverage';
import { Decision } from '#shared/event';
import { Severity } from '#shared/severity';
import { EAR_WORDS } from '#screens';
import { textIn } from '../../src/screens/text/text.ts';

/** Screens whose every sentence is in the catalogue, and the frame round them. */
const FOLDERS = ['begin', 'ear', 'walk', 'finish', 'sheet', 'plan', 'workshop'];
function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => `${folder}/${name}`)
    .sort();
}

const FILES = [
  ...FOLDERS.flatMap((f) => filesIn(`src/screens/${f}`)),
  ...['Frame', 'KeyShown', 'Mark', 'Modal', 'Pictures', 'Reasons', 'Tell', 'WalkHead'].map(
    (f) => `src/screens/parts/${f}.tsx`,
  ),
  // Asked on Begin and on Walk, before sound leaves the device.
  'src/screens/settings/Agree.tsx',
];

const sourceOf = (language: string) =>
  [`${language}.ftl`, `workshop.${language}.ftl`]
    .map((name) => readFileSync(`src/screens/text/${name}`, 'utf8'))
    .join('\n');

/** Messages of a language, with the names of what stands in each. */
function messages(language: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const { id, value } of new FluentResource(sourceOf(language)).body) {
    const names = [...JSON.stringify(value).matchAll(/"type":"var","name":"(\w+)"/g)].map(
      (m) => m[1],
    );
    found.set(id, [...new Set(names)].sort().join(' '));
  }
  return found;
}

/** Ids that are made of a prefix and a word of a contract. */
const MADE: Readonly<Record<string, readonly string[]>> = {
  standing: Standing.options,
  severity: [...Severity.options, 'none'],
  circumstance: Circumstance.options,
  ear: Object.keys(EAR_WORDS),
  decision: Decision.options.flatMap((d) => [d, `${d}-text`]),
  'sheet-decides': Decision.options,
  paper: ['a4', 'letter'],
  unheard: ['faint', 'noise', 'voice'],
  check: ['off', 'starting', 'listening', 'hearing', 'fitting', 'trouble'],
  'check-why': ['few', 'noise', 'unlike', 'two', 'other'],
  'shop-act': Act.options,
  'shop-by': ['author', 'dictionary', 'spelling'],
  'shop-key': ['same', 'other', 'unknown'],
  'shop-own': ['starting', 'listening', 'hearing'],
  'shop-own-as': ['heard', 'other', 'not'],
  'shop-kind': ['aeroplane', 'helicopter', 'glider', 'gyroplane', 'other'],
  'shop-sort': ['error', 'doubt', 'by-ear'],
};

/** Every string of a file that may be an id. */
function idsUsed(file: string): readonly string[] {
  const out: string[] = [];
  visit(file, (node) => {
    if (ts.isStringLiteralLike(node)) out.push(node.text);
    if (ts.isTemplateExpression(node)) {
      const made = MADE[node.head.text.replace(/-$/, '')] ?? [];
      out.push(...made.map((word) => `${node.head.text}${word}`));
    }
  });
  return out;
}

function visit(file: string, see: (node: ts.Node) => void): void {
  const source = ts.createSourceFile(
    file,
    readFileSync(file, 'utf8'),
    ts.ScriptTarget.Latest,
    true,
    ts.ScriptKind.TSX,
  );
  const each = (node: ts.Node): void => {
    see(node);
    ts.forEachChild(node, each);
  };
  each(source);
}

/** Attributes that a reader never reads. */
const UNREAD =
  /^(className|d|viewBox|transform|key|type|href|name|id|htmlFor|autoComplete|autoCapitalize|enterKeyHint|inputMode|list|role|value|points|style)$/;

/** What reads like words for people: two words, or a capital at the start of one. */
function isSentence(text: string): boolean {
  return (
    /[A-Za-z’]{2,}[,.:;?!…]? +[A-Za-z“]{2,}/.test(text) || /^[A-Z][a-z]{2,}$/.test(text.trim())
  );
}

/** Strings that stand where nobody reads them: imports, attributes of style, keys of code, thrown mistakes of ours. */
function isUnread(node: ts.Node): boolean {
  for (let up = node.parent; up !== undefined; up = up.parent) {
    if (ts.isImportDeclaration(up) || ts.isThrowStatement(up) || ts.isTypeNode(up)) return true;
    if (ts.isJsxAttribute(up)) return UNREAD.test(up.name.getText());
    if (ts.isBinaryExpression(up) || ts.isCaseClause(up)) {
      if (node.parent === up) return true;
    }
    if (ts.isCallExpression(up)) {
      const called = up.expression.getText();
      if (/^(t|window\.matchMedia|setOverlay|.+\.closest)$/.test(called) && node.parent === up)
        return true;
      // A style sheet.
      if (called === 'EditorView.theme') return true;
    }
  }
  return false;
}

/** A name is the same in every language, and so is the code of a unit. */
const NAMES: ReadonlySet<string> = new Set(['Talkround', 'Cel']);

/** Sentences of a file that are not in the catalogue. */
function literals(file: string): readonly string[] {
  const out: string[] = [];
  visit(file, (node) => {
    if (ts.isJsxText(node) && /[A-Za-z]{2,}/.test(node.text) && !NAMES.has(node.text.trim()))
      out.push(node.text.trim());
    const text = ts.isStringLiteralLike(node)
      ? node.text
      : ts.isTemplateHead(node) || ts.isTemplateMiddleOrTemplateTail(node)
        ? node.text
        : null;
    if (text !== null && !NAMES.has(text) && isSentence(text) && !isUnread(node)) out.push(text);
  });
  return out;
}

const english = messages('en');

test.each(FILES)('%s: no sentence stands outside the catalogue', (file) => {
  expect(literals(file)).toEqual([]);
});

test('the inventory finds what it is there to find', () => {
  const planted = 'src/screens/settings/Settings.tsx';
  expect(literals(planted)).toEqual(
    expect.arrayContaining(['Pilot', 'Certificate number', 'For full sun']),
  );
});

test.each(['de'])('%s: every message, with the same things in it', (language) => {
  expect(Object.fromEntries(messages(language))).toEqual(Object.fromEntries(english));
});

test('every message is used, and every id that is used is a message', () => {
  const used = new Set(filesIn('src/screens').flatMap((file) => [...idsUsed(file)]));
  expect([...english.keys()].filter((id) => !used.has(id))).toEqual([]);
  const asked = filesIn('src/screens').flatMap((file) =>
    [...readFileSync(file, 'utf8').matchAll(/\bt\(\s*'([a-z-]+)'/g)].map((m) => m[1] ?? ''),
  );
  expect(asked.filter((id) => !english.has(id))).toEqual([]);
  for (const [prefix, words] of Object.entries(MADE)) {
    for (const word of words)
      expect(english.has(`${prefix}-${word}`), `${prefix}-${word}`).toBe(true);
  }
});

test('numbers take their form in both languages, and nothing invisible stands round them', () => {
  expect(textIn('en')('gaps', { n: 1 })).toBe('1 gap');
  expect(textIn('en')('gaps', { n: 3 })).toBe('3 gaps');
  expect(textIn('de')('gaps', { n: 1 })).toBe('1 Lücke');
  expect(textIn('de')('findings', { n: 2 })).toBe('2 Befunde');
  expect(textIn('en')('plan-label', { kind: 'other', stations: '3 stations' })).toBe(
    'Walk round the aircraft: 3 stations',
  );
});

test('R9: no language calls an aircraft airworthy', () => {
  for (const language of ['en', 'de']) {
    expect(sourceOf(language)).not.toMatch(/airworth|lufttüchtig|flugtüchtig|flugtauglich/i);
  }
});

test('a message that no language has is a mistake that is named', () => {
  expect(() => textIn('de')('no-such-message')).toThrow('The message "no-such-message"');
});
