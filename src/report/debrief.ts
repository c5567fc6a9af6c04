import { reviewWords, STANDING_WORDS, type CheckCoverage } from '#shared/coverage';
import type { Picture } from '#shared/picture';
import { toldCount, toldSentence } from '#shared/told';
import { editionLines } from './edition-words.ts';
import type { Line } from './pdf-flow.ts';
import type { SheetParts } from './sheet-pdf.ts';
import { checkNames, claimWords, findingLines, missingText, shown } from './sheet-text.ts';

/** What stands under one heading of the debrief, on paper and on a page alike. */
export interface Section {
  readonly title: string;
  /** Lines that stay together. */
  readonly blocks: readonly (readonly Line[])[];
  readonly pictures?: readonly { readonly of: readonly Picture[]; readonly caption: string }[];
}

/** The debrief below its plan and its time axis, which each kind of document draws in its own way. */
export function debriefSections(parts: SheetParts): readonly Section[] {
  return [
    ...openSections(parts),
    ...findingSection(parts),
    ...claimSection(parts),
    ...wentSections(parts),
    editionSection(parts),
  ];
}

/** What all of it was counted by, and where that comes from. */
function editionSection({ catalogue, coverage }: SheetParts): Section {
  const lines = editionLines(catalogue, coverage.edition);
  return {
    title: 'What it was counted by',
    blocks: [lines.map((text) => ({ text, pale: true, size: 9 }))],
  };
}

const OPEN: readonly (readonly [title: string, standings: readonly CheckCoverage['standing'][]])[] =
  [
    ['Skipped', ['skipped', 'unspoken']],
    ['In question', ['question']],
    ['Part spoken', ['part']],
    ['Set aside', ['set-aside']],
  ];

/** What is open, and what was set aside, each kind in one paragraph. */
function openSections({ coverage, catalogue }: SheetParts): Section[] {
  const names = checkNames(catalogue);
  return OPEN.flatMap(([title, standings]) => {
    const list = coverage.checks.filter((c) => c.required.today && standings.includes(c.standing));
    if (list.length === 0) return [];
    const items = list.map((c) => {
      const check = names.checks.get(c.check);
      const missing = missingText(c, check);
      const name = check?.name ?? c.check;
      return missing === '' ? name : `${name} (${missing})`;
    });
    return [{ title, blocks: [[{ text: items.join('; '), size: 9 }]] }];
  });
}

function findingSection({ coverage, catalogue }: SheetParts): Section[] {
  const names = checkNames(catalogue);
  const told = coverage.findings.map((f) => ({
    lines: findingLines(f, names, { why: false }),
    pictures: f.pictures ?? [],
  }));
  if (told.length === 0) return [];
  const blocks = told.map((f) =>
    f.lines.map((text): Line => {
      const found = /^\s*! /.test(text);
      return {
        text: bare(text),
        size: 9,
        ...(found ? { mark: 'finding' } : { indent: 14 }),
      };
    }),
  );
  return [
    {
      title: 'Findings',
      blocks,
      pictures: told.flatMap((f) =>
        f.pictures.length === 0 ? [] : [{ of: f.pictures, caption: bare(f.lines[0] ?? '') }],
      ),
    },
  ];
}

const bare = (text: string) => text.trim().replace(/^! /, '');

/**
 * Every check with how it stands and the words that it stands on, at its station,
 * with what was explained, done and reported there where anything was explained (R2).
 */
function claimSection({ coverage, catalogue }: SheetParts): Section[] {
  const names = checkNames(catalogue);
  const taught = toldSentence(coverage) !== null;
  const blocks = catalogue.stations.flatMap((station): Line[][] => {
    const here = coverage.checks.filter((c) => c.station === station.id && shown(c));
    if (here.length === 0) return [];
    const { checks, explained, done, reported } = toldCount(here);
    const counts = `: ${explained} of ${checks} explained, ${done} done, ${reported} reported`;
    const title: Line = {
      text: `${station.name}${taught ? counts : ''}`,
      bold: true,
      size: 9.5,
      above: 5,
      level: 3,
    };
    // A station may be longer than a page: it is torn between checks, never in one.
    return here.map((c, i) => [
      ...(i === 0 ? [title] : []),
      { mark: c.standing, text: claimWords(c, names), size: 8.5 },
    ]);
  });
  if (blocks.length === 0) return [];
  const title = taught
    ? 'What was taught and what was reported'
    : 'Check by check, in the words said';
  return [{ title, blocks }];
}

function wentSections({ coverage, catalogue }: SheetParts): Section[] {
  const names = checkNames(catalogue);
  const stations = new Map(catalogue.stations.map((s) => [s.id, s.name]));
  const pace = coverage.times
    .filter((t) => t.seconds > 0)
    .map((t) => `${stations.get(t.station) ?? t.station} ${Math.round(t.seconds)} s`);
  const marked = coverage.checks.filter((c) => (c.reviews ?? []).length > 0);
  const sections: readonly { title: string; lines: readonly string[] }[] = [
    { title: 'Time at each station', lines: pace.length === 0 ? [] : [pace.join('; ')] },
    { title: 'How the walk went', lines: coverage.remarks.map((r) => r.text) },
    {
      title: 'Reviewer',
      lines: marked.map((c) =>
        [
          `${names.checks.get(c.check)?.name ?? c.check}: ${STANDING_WORDS[c.standing]}`,
          ...(c.reviews ?? []).map(reviewWords),
        ].join('; '),
      ),
    },
  ];
  return sections.flatMap(({ title, lines }) =>
    lines.length === 0 ? [] : [{ title, blocks: [lines.map((text) => ({ text, size: 9 }))] }],
  );
}
