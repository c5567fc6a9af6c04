import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { main } from '../../src/cli/main.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'talkround-cli-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A command as somebody types it: its exit code, what it prints, what it complains of. */
async function run(...words: string[]) {
  const told = { code: 0, out: '', err: '' };
  const out = vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
    told.out += String(text);
    return true;
  });
  const err = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    told.err += String(text);
    return true;
  });
  try {
    told.code = await main(words);
  } finally {
    out.mockRestore();
    err.mockRestore();
  }
  return told;
}

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const HELICOPTER = ['--catalogue', 'training-helicopter'];

test('cover: the sheet of a transcript, its findings first, 1 as long as something is open', async () => {
  const walk = file('walk.txt', 'Boom underside has a ripple, ground it.\nFinish.\n');
  const { code, out, err } = await run('cover', walk, ...HELICOPTER);
  expect([code, err]).toEqual([1, '']);
  expect(out.indexOf('ripple in the boom')).toBeGreaterThan(0);
  expect(out.indexOf('ripple in the boom')).toBeLessThan(out.indexOf('magneto switch'));
  expect(out).toContain('Maintenance decides after a hard landing.');
  expect(out).not.toMatch(/airworthy/i); // R9
});

test('cover --why names the rule, --json is for a program', async () => {
  const walk = file('walk.txt', 'Pedals are free.\n');
  expect((await run('cover', walk, ...HELICOPTER, '--why')).out).toMatch(
    /R1: No result names it\./,
  );
  const { out } = await run('cover', walk, ...HELICOPTER, '--json');
  expect(JSON.parse(out)).toHaveProperty('coverage.checks');
});

test('explain tells what a sentence means and why', async () => {
  const { code, out } = await run('explain', 'swashplate is good', ...HELICOPTER);
  expect(code).toBe(0);
  expect(out).toMatch(/means: swashplate/);
  expect(out).toMatch(/because/);
});

test('sample, lint and schema print what they are asked for', async () => {
  const sample = await run('sample', ...HELICOPTER);
  expect([sample.code, sample.out.trim() !== '']).toEqual([0, true]);
  const lint = await run('lint', 'training-helicopter');
  expect([lint.code, lint.err]).toEqual([0, '']);
  expect(JSON.parse((await run('schema')).out)).toHaveProperty('properties');
});

test.each(['cover', 'draft', 'explain', 'lint', 'sample', 'schema', 'verify'])(
  '%s --help shows how it is called',
  async (name) => {
    const { code, out, err } = await run(name, '--help');
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain(`Usage: talkround ${name}`);
  },
);

test('lint names two checks that sound the same, and exits 1', async () => {
  const twins = file(
    'twins.yaml',
    [
      'v: 1',
      'id: twins',
      'name: Twins',
      'kind: other',
      'stations:',
      '  - id: nose',
      '    name: nose',
      '    place: { x: 50, y: 10 }',
      '    checks:',
      '      - { id: brake-cable, name: Brake cable }',
      '      - { id: break-cable, name: Break cable }',
      '      - { id: pitot, name: Pitot tube }',
      '',
    ].join('\n'),
  );
  const { code, out } = await run('lint', twins);
  expect(code).toBe(1);
  expect(out).toMatch(/"Brake cable" sounds like "Break cable"/);
  expect(out).not.toContain('Pitot');
  const said = await run('explain', 'the brake cable is good', '--catalogue', twins);
  expect(said.out).toContain('means: Brake cable');
});

test.each([
  ['no command', [], /^$/],
  ['an unknown one', ['fly'], /^There is no "talkround fly"\. There are: cover/],
  ['a file that is not there', ['cover', 'nowhere.txt'], /^There is no file nowhere\.txt\.$/],
  ['an unknown option', ['cover', 'x.txt', '--loud'], /Usage: talkround cover/],
  ['a catalogue that is not there', ['lint', 'zeppelin'], /zeppelin/],
  ['nothing to explain', ['explain'], /Usage: talkround explain/],
])('%s: one sentence, and 2', async (_what, words, sentence) => {
  const { code, err } = await run(...words);
  expect(code).toBe(2);
  expect(err.trim()).toMatch(sentence);
  expect(err.trim().split('\n')).toHaveLength(1);
});

test('a folder, a false backup, a walk of 17 MB: each refused in a sentence', async () => {
  expect((await run('cover', folder)).err).toMatch(/is a folder; give a file\./);
  const false_ = await run('verify', file('false.zip', 'no zip at all'));
  expect(false_.code).not.toBe(0);
  expect(false_.err + false_.out).not.toBe('');
  const large = await run('cover', file('large.txt', 'belts good\n'.repeat(1_600_000)));
  expect([large.code, large.err]).toEqual([
    2,
    expect.stringMatching(/is larger than 16 MB; give a shorter file\./),
  ]);
});

const PRINTED = [
  'CABIN',
  'Doors - locked',
  'Oil - check 6 qt min',
  'Note: mind the step.',
  'Türen prüfen',
];

test('issue 18: draft makes a file of a printed checklist, its guesses as comments; what became nothing is told beside it', async () => {
  const { code, out, err } = await run('draft', file('list.txt', `${PRINTED.join('\n')}\n`));
  expect(code).toBe(0);
  expect(out).toContain('# line 3: Oil - check 6 qt min');
  expect(out).toContain('# to confirm: “6 qt min” is at least 6 [qt_us]');
  expect(err.trimEnd().split('\n')).toEqual([
    'Lines that became nothing:',
    'list.txt:4: Note: mind the step.',
    'list.txt:5: Türen prüfen',
  ]);
  // Read again it is a catalogue, and its names are heard apart.
  const lint = await run('lint', file('draft.yaml', out));
  expect([lint.code, lint.out, lint.err]).toEqual([0, 'Nothing to mend.\n', '']);
});

test('issue 18: draft reads a table, and complains of nothing when every line became something', async () => {
  const table = file('list.csv', 'Area,Item,Action\nTail,Rudder,Free\n,Elevator,Free\n');
  const { code, out, err } = await run('draft', table);
  expect([code, err]).toEqual([0, '']);
  expect(out.match(/- id: \S+/g)).toEqual(['- id: tail', '- id: rudder', '- id: elevator']);
});

test.each([
  ['no such file', () => 'nowhere.txt', /^There is no file nowhere\.txt\.\n$/],
  ['a PDF', () => file('a.pdf', '%PDF-1.7'), /^a\.pdf is not text\. .+\.\n$/],
  [
    'no checklist',
    () => file('a.txt', 'lorem ipsum dolor'),
    /^a\.txt: No line of this text .+\.\n$/,
  ],
  [
    '5 MB',
    () => file('b.txt', 'OIL ... CHECK\n'.repeat(380_000)),
    /^b\.txt: The text has 5320000 .+\.\n$/,
  ],
  [
    'a catalogue',
    () => file('c.yaml', '# ours\nv: 1\n'),
    /^c\.yaml is a catalogue already; .+\.\n$/,
  ],
])(
  'issue 18: draft refuses %s in one sentence, and prints nothing',
  async (_what, path, sentence) => {
    const { code, out, err } = await run('draft', path());
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(sentence);
  },
);
