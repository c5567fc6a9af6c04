import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'yaml';
import { z } from 'zod';
import { draftFrom, type Draft } from '#catalogue';

const Truth = z.object({
  stations: z.array(z.object({ name: z.string(), checks: z.array(z.string()) })),
});

/** What one text gave. Counts, so that texts add up. */
export interface Score {
  readonly text: string;
  readonly checks: number;
  readonly found: number;
  readonly drafted: number;
  readonly invented: number;
  readonly limits: number;
  readonly limitsRight: number;
  readonly limitsDrafted: number;
  readonly stations: number;
  readonly stationsRight: number;
  readonly linesLost: number;
  /** What was missed or invented, for a person. */
  readonly notes: readonly string[];
}

/** Texts that were written after the reader of drafts: their first figures stand in their README. */
export const FRESH = join(process.cwd(), 'tests/bench/workshop/fresh');
const FOLDER = join(process.cwd(), 'tests/bench/workshop/texts');

interface TrueCheck {
  readonly station: string;
  readonly names: readonly string[];
  readonly limit: string | null;
}

/** Names are the same when their letters are: case, articles and signs aside. Nothing is forgiven beyond that. */
function plain(name: string): string {
  return name
    .toLowerCase()
    .replace(/\b(the|a|an)\b/g, ' ')
    .replace(/[^\p{L}\d]+/gu, ' ')
    .trim();
}

export function textsOf(folder = FOLDER): string[] {
  return readdirSync(folder)
    .filter((f) => !f.endsWith('.truth.yaml'))
    .sort();
}

export function scoreOf(file: string, folder = FOLDER): Score {
  const text = readFileSync(join(folder, file), 'utf8');
  const truth = Truth.parse(
    parse(readFileSync(join(folder, file.replace(/\.\w+$/, '.truth.yaml')), 'utf8')),
  );
  const drafted = draftFrom(text);
  const draft: Draft | null = drafted.ok ? drafted.draft : null;
  const notes: string[] = drafted.ok ? [] : [drafted.error];
  const stationNames = truth.stations.map((s) => s.name.split('|').map(plain));
  const wanted = truth.stations.flatMap((s, i) =>
    s.checks.map((c): TrueCheck => {
      const [names = '', limit] = c.split(' = ');
      return {
        station: String(i),
        names: names.split('|').map(plain),
        limit: limit?.trim() ?? null,
      };
    }),
  );
  const there = (draft?.stations ?? []).flatMap((s) =>
    s.checks.map((c) => ({
      station: String(stationNames.findIndex((n) => n.includes(plain(s.name)))),
      stationName: s.name,
      name: plain(c.name),
      limits: c.measures.map((m) => `${m.low ?? ''}..${m.high ?? ''} ${m.unit}`),
    })),
  );
  const free = new Set(there);
  let found = 0;
  let limitsRight = 0;
  for (const check of wanted) {
    const hit = [...free].find((d) => d.station === check.station && check.names.includes(d.name));
    if (hit === undefined) {
      notes.push(`missed: ${check.names[0] ?? ''}`);
      continue;
    }
    free.delete(hit);
    found += 1;
    if (check.limit !== null && hit.limits.length === 1 && hit.limits[0] === check.limit)
      limitsRight += 1;
    else if (check.limit !== null)
      notes.push(`limit of ${hit.name}: ${hit.limits.join('; ')}, not ${check.limit}`);
    else if (hit.limits.length > 0)
      notes.push(`limit invented at ${hit.name}: ${hit.limits.join('; ')}`);
  }
  for (const d of free) notes.push(`invented: ${d.stationName} / ${d.name}`);
  const stations = (draft?.stations ?? []).map((s) => plain(s.name));
  const rightInOrder = stations.filter((s, i) => stationNames[i]?.includes(s) === true).length;
  return {
    text: file,
    checks: wanted.length,
    found,
    drafted: there.length,
    invented: free.size,
    limits: wanted.filter((w) => w.limit !== null).length,
    limitsRight,
    limitsDrafted: there.reduce((n, d) => n + d.limits.length, 0),
    stations: Math.max(stationNames.length, stations.length),
    stationsRight: rightInOrder,
    linesLost: lost(text, draft),
    notes,
  };
}

/** Lines with something on them that are in no part of the draft and not on the list of what is left. */
function lost(text: string, draft: Draft | null): number {
  const kept = new Set<number>();
  const keep = (lines: readonly number[]) => lines.forEach((l) => kept.add(l));
  if (draft !== null) {
    keep(draft.titleLines);
    keep(draft.left.map((l) => l.line));
    for (const c of draft.cautions) keep(c.lines);
    for (const s of draft.stations) {
      keep(s.lines);
      for (const c of s.checks) keep(c.lines);
    }
  }
  return text.split(/\r?\n/).filter((l, i) => l.trim() !== '' && !kept.has(i + 1)).length;
}

export interface Summary {
  readonly checksFound: number;
  readonly checksInvented: number;
  readonly limitsRight: number;
  readonly stationsRight: number;
  readonly linesLost: number;
}

/** Shares over all texts. A limit is right among those that the truth has and those that were made up. */
export function summaryOf(scores: readonly Score[]): Summary {
  const sum = (of: (s: Score) => number) => scores.reduce((n, s) => n + of(s), 0);
  const share = (a: number, b: number) => (b === 0 ? 1 : Math.round((a / b) * 1000) / 1000);
  const right = sum((s) => s.limitsRight);
  return {
    checksFound: share(
      sum((s) => s.found),
      sum((s) => s.checks),
    ),
    checksInvented: share(
      sum((s) => s.invented),
      sum((s) => s.drafted),
    ),
    limitsRight: share(right, sum((s) => s.limits) + sum((s) => s.limitsDrafted) - right),
    stationsRight: share(
      sum((s) => s.stationsRight),
      sum((s) => s.stations),
    ),
    linesLost: sum((s) => s.linesLost),
  };
}
