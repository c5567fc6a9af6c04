import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { FluentResource } from '@fluent/bundle';
import ts from 'typescript';
import { expect, test } from 'vitest';
import { Act } from '#shared/catalogue';
import { Circumstance } from '#shared/circumstance';
import { Standing } from '#shared/coverage';
import { Decision } from '#shared/event';
import { HeardBy } from '#shared/heard';
import { Tone } from '#shared/replied';
import { Role } from '#shared/school';
import { Severity } from '#shared/severity';
import { SquawkState } from '#shared/squawk';
import { OFFERED } from '#speak';
import { textIn } from '../../src/screens/text/text.ts';
import '../../src/screens/text/later.ts';

/** Screens whose every sentence is in the catalogue, and the parts of the frame round them. */
const FOLDERS = [
  'begin',
  'debrief',
  'ear',
  'finish',
  'learned',
  'parts',
  'plan',
  'school',
  'settings',
  'sheet',
  'squawks',
  'student',
  'walk',
  'walks',
  'workshop',
];
function filesIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => `${folder}/${name}`)
    .sort();
}

const FILES = ['src/screens/App.tsx', ...FOLDERS.flatMap((f) => filesIn(`src/screens/${f}`))];

const TEXT = 'src/screens/text';
/** Files of a language: the first screens' own, then an area's each. The house's sentences have no id in the code. */
const sourcesOf = (language: string) => [
  `${TEXT}/${language}.ftl`,
  ...readdirSync(TEXT)
    .filter((name) => name.endsWith(`.${language}.ftl`) && !name.startsWith('house.'))
    .map((name) => `${TEXT}/${name}`),
];
const sourceOf = (language: string) =>
  sourcesOf(language)
    .map((file) => readFileSync(file, 'utf8'))
    .join('\n');
const idsIn = (file: string) =>
  new FluentResource(readFileSync(file, 'utf8')).body.map(({ id }) => id);

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

/** What words may be besides a result. */
const TALK = ['intention', 'teaching', 'hypothesis', 'question', 'past', 'hearsay'];

/** Ids that are made of a prefix and a word of a contract. */
const MADE: Readonly<Record<string, readonly string[]>> = {
  standing: Standing.options,
  severity: [...Severity.options, 'none'],
  circumstance: Circumstance.options,
  ear: ['embedded', 'browser', 'typed', 'file'],
  'ear-here': ['both', 'browser'],
  decision: Decision.options.flatMap((d) => [d, `${d}-text`]),
  'sheet-decides': Decision.options,
  paper: ['a4', 'letter'],
  unheard: ['faint', 'noise', 'voice'],
  check: ['off', 'starting', 'listening', 'hearing', 'fitting', 'trouble'],
  force: TALK,
  'heard-by': HeardBy.options,
  outcome: ['gone', 'still-there', 'worse'],
  'reply-tone': Tone.options,
  role: Role.options,
  'squawk-state': SquawkState.options,
  stepped: [
    'opened',
    'amended',
    'jasc',
    'deferred',
    'rectified',
    'rechecked',
    'corrected',
    'noted',
    'withdrawn',
    'closed',
    'joined',
  ],
  talk: TALK.filter((force) => force !== 'teaching'),
  'taught-class': ['explained', 'done', 'reported'],
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

function visit(
  file: string,
  see: (node: ts.Node) => void,
  text = readFileSync(file, 'utf8'),
): void {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true, ts.ScriptKind.TSX);
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
function literals(file: string, source?: string): readonly string[] {
  const out: string[] = [];
  const see = (node: ts.Node) => {
    if (ts.isJsxText(node) && /[A-Za-z]{2,}/.test(node.text) && !NAMES.has(node.text.trim()))
      out.push(node.text.trim());
    const text = ts.isStringLiteralLike(node)
      ? node.text
      : ts.isTemplateHead(node) || ts.isTemplateMiddleOrTemplateTail(node)
        ? node.text
        : null;
    if (text !== null && isSentence(text) && !NAMES.has(text) && !isUnread(node)) out.push(text);
  };
  visit(file, see, source);
  return out;
}

const english = messages('en');

test.each(FILES)('%s: no sentence stands outside the catalogue', (file) => {
  expect(literals(file)).toEqual([]);
});

test('the inventory finds what it is there to find', () => {
  const planted = `
    const LABELS = [['by', 'Deferred by', true]];
    const one = <label title="For full sun">Pilot <input placeholder={\`Name of \${who}\`} /></label>;
    say('Certificate number');
    const none = <p className="press main" key={'two words'}>{t('of-the-catalogue')}</p>;
  `;
  expect(literals('planted.tsx', planted)).toEqual([
    'Deferred by',
    'For full sun',
    'Pilot',
    'Name of ',
    'Certificate number',
  ]);
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

test.each(['en', 'de'])('%s: no message stands in two files', (language) => {
  const all = sourcesOf(language).flatMap(idsIn);
  expect(all.filter((id, i) => all.indexOf(id) !== i)).toEqual([]);
});

/** What the first script is made of: all that App.tsx imports at once, and what those files load later by themselves. */
function firstFiles(): readonly string[] {
  const found = new Set<string>();
  const add = (file: string) => {
    if (found.has(file)) return;
    found.add(file);
    const from = (path: string) => {
      if (/^\.{1,2}\/.*\.tsx?$/.test(path)) add(join(dirname(file), path));
    };
    visit(file, (node) => {
      if (ts.isImportDeclaration(node) && node.importClause?.isTypeOnly !== true)
        from(node.moduleSpecifier.getText().slice(1, -1));
      // The screens that App.tsx loads later come with their sentences.
      const [path] = ts.isCallExpression(node) ? node.arguments : [];
      if (
        !file.endsWith('/App.tsx') &&
        ts.isCallExpression(node) &&
        node.expression.kind === ts.SyntaxKind.ImportKeyword &&
        path !== undefined
      )
        from(path.getText().slice(1, -1));
    });
  };
  add('src/screens/App.tsx');
  return [...found];
}

test('the first screens need no message that is loaded with the later ones', () => {
  const files = firstFiles();
  expect(files).toContain('src/screens/walk/Walk.tsx');
  expect(files).toContain('src/screens/settings/Agree.tsx');
  expect(files).not.toContain('src/screens/text/later.ts');
  const first = new Set(idsIn(`${TEXT}/en.ftl`));
  const late = (id: string) => english.has(id) && !first.has(id);
  for (const file of files) {
    const asked = [...readFileSync(file, 'utf8').matchAll(/\bt\(\s*'([a-z-]+)'/g)].map(
      (m) => m[1] ?? '',
    );
    // A string of one word may be anything; with a hyphen in it it is an id.
    const named = idsUsed(file).filter((id) => id.includes('-'));
    expect([...asked, ...named].filter(late), file).toEqual([]);
  }
});

test('17 figures of a later screen are written as the language writes them', () => {
  for (const language of ['en', 'de'] as const) {
    const t = textIn(language);
    expect(t('walks-count', { n: 1 })).toMatch(/^1 /);
    expect(t('agreed-interval', { kappa: 0.5, low: 0.25, high: 1 })).toContain(
      language === 'en'
        ? '0.50 (95 % interval 0.25 to 1.00)'
        : '0,50 (95-%-Intervall 0,25 bis 1,00)',
    );
  }
});

test('the first use has an order said as it is heard best, in every language', () => {
  for (const language of ['en', 'de'] as const)
    expect(textIn(language)('first-hold')).toContain(OFFERED.hold);
});
