import { familyOf } from './forms.ts';
import type { Conversation } from './conversation.ts';
import { WATCHED_NAMES } from './intervals.ts';
import type { Judged } from './judge.ts';
import type { Measures } from './measures.ts';
import type { KeptRules } from './rules.ts';
import type { ReaderSpeed } from './speed.ts';

/** What a run shows beside what it judged. */
export interface Extra {
  /** Kept figures that take the place of the rules' own; null while the rules are read. */
  readonly keptRules: KeptRules | null;
  readonly speed: ReaderSpeed | null;
  readonly weightsKb: number;
}

/** The run for programs: figures by level and reader, intervals, forms, and what was kept rather than measured. */
export function jsonOf(judged: Judged, { keptRules, speed, weightsKb }: Extra): object {
  const levels = [...judged.rows];
  const rules = (level: number) =>
    judged.rows.get(level)?.get('rules')?.measures ?? keptRules?.wer[String(level)] ?? null;
  return {
    wer: Object.fromEntries(
      levels.map(([level, row]) => [
        String(level),
        {
          ours: row.get('ours')?.measures ?? null,
          rules: rules(level),
          bestPeer: judged.peers.get(level)?.measures ?? null,
        },
      ]),
    ),
    bestPeer: Object.fromEntries([...judged.peers].map(([level, { name }]) => [level, name])),
    speed,
    weightsKb,
    intervals: Object.fromEntries(
      levels.map(([level, row]) => [
        String(level),
        {
          ours: row.get('ours')?.intervals ?? null,
          rules: row.get('rules')?.intervals ?? keptRules?.intervals[String(level)] ?? null,
        },
      ]),
    ),
    byForm: Object.fromEntries(
      [...judged.byForm].map(([family, row]) => [
        family,
        {
          ours: row.get('ours') ?? null,
          rules: row.get('rules') ?? keptRules?.byForm[family] ?? null,
        },
      ]),
    ),
    /** Readers whose figures are of an earlier run. */
    kept: keptRules === null ? [] : ['rules'],
    crashes: judged.crashes.length,
  };
}

const COLUMNS: readonly (readonly [string, (m: Measures) => string])[] = [
  ['check F1', (m) => m.checkF1.toFixed(3)],
  ['credited', (m) => m.credited.toFixed(2)],
  ['polarity', (m) => m.polarity.toFixed(2)],
  ['condition', (m) => m.condition.toFixed(2)],
  ['value', (m) => m.value.toFixed(2)],
  ['false spoken', (m) => m.falseSpokenForPer1000.toFixed(1)],
  ['false finds', (m) => m.falseFindingsPer100.toFixed(1)],
  ['in utterances', (m) => m.falseFindingUtterancesPer100.toFixed(1)],
  ['lost', (m) => m.findingsLostPer1000.toFixed(0)],
  ['asked', (m) => m.questionsPer100.toFixed(1)],
  ['needless', (m) => m.needlessQuestionsPer100.toFixed(1)],
  ['severity', (m) => m.severityQuestionsPer100.toFixed(1)],
  ['how bad', (m) => m.severity?.toFixed(2) ?? ''],
  ['false bad', (m) => m.falseSeverityPer1000?.toFixed(1) ?? ''],
  ['mentions', (m) => m.mentionF1.toFixed(2)],
  ['orders', (m) => m.ordersF1.toFixed(2)],
  ['sheet', (m) => (m.sheet === null ? '' : m.sheet.agreement.toFixed(3))],
  ['of touched', (m) => (m.sheet === null ? '' : m.sheet.touchedAgreement.toFixed(3))],
  [
    'false/found/lost',
    ({ sheet: s }) =>
      s === null ? '' : `${s.falseSpokenFor}/${s.falseFindings}/${s.lostFindings}`,
  ],
];

function table(rows: readonly (readonly string[])[]): string {
  const width = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((r) => (r[i] ?? '').length)));
  return rows
    .map((row) =>
      row
        .map((cell, i) => (i === 0 ? cell.padEnd(width[i] ?? 0) : cell.padStart(width[i] ?? 0)))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

const rowOf = (name: string, m: Measures) => [name, ...COLUMNS.map(([, of]) => of(m))];
const HEAD = COLUMNS.map(([name]) => name);

/** The run as tables for people. */
export function textOf(
  judged: Judged,
  conversations: readonly Conversation[],
  { keptRules, speed, weightsKb }: Extra,
): string {
  const parts = [...judged.rows].map(([level, row]) => {
    const peer = judged.peers.get(level);
    const rules = keptRules?.wer[String(level)];
    return [
      `At ${level} % word errors`,
      table([
        ['', ...HEAD],
        ...[...row].map(([name, { measures }]) => rowOf(name, measures)),
        ...(row.has('rules') || rules === undefined ? [] : [rowOf('rules, as kept', rules)]),
        ...(peer === undefined ? [] : [rowOf(`best peer: ${peer.name}`, peer.measures)]),
      ]),
      ...[...row].flatMap(([name, { intervals }]) =>
        intervals === null
          ? []
          : [
              `  ${name}, 95 %: ${WATCHED_NAMES.map((w) => `${w} ${intervals[w].map((x) => x.toFixed(x < 2 ? 3 : 1)).join(' to ')}`).join('; ')}`,
            ],
      ),
    ].join('\n');
  });
  if (judged.byForm.size > 0) {
    const count = (family: string) =>
      conversations.filter((c) => familyOf(c.form) === family).length;
    parts.push(
      `By form of the walk, at 0 %\n${table([
        ['', 'walks', ...HEAD],
        ...[...judged.byForm].flatMap(([family, row]) => {
          const kept = keptRules?.byForm[family];
          return [
            ...[...row].map(([name, m]) => [name, m] as const),
            ...(row.has('rules') || kept === undefined ? [] : [['rules, as kept', kept] as const]),
          ].map(([name, m]) => {
            const [first = '', ...rest] = rowOf(`${family}: ${name}`, m);
            return [first, String(count(family)), ...rest];
          });
        }),
      ])}`,
    );
  }
  if (speed !== null) {
    parts.push(
      `25 words at 400 phrases: median ${speed.p50Ms.toFixed(2)} ms, p95 ${speed.p95Ms.toFixed(2)} ms. Weights: ${weightsKb} kB.`,
    );
  }
  if (judged.crashes.length > 0) {
    parts.push(`The reader failed ${judged.crashes.length} times:\n${judged.crashes.join('\n')}`);
  }
  parts.push(
    'False spoken, lost and false bad are per 1,000 (how bad: of the utterances that say how bad a fault is, those understood), false finds, asked, needless and severity per 100; false/found/lost: checks falsely spoken for, false and lost findings on the sheets.',
  );
  return parts.join('\n\n');
}
