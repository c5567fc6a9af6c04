import { parseArgs } from 'node:util';
import type { Event } from '#shared/event';
import { Question } from '#shared/question';
import { CorpusError, type Label } from '../corpus/format.ts';
import { conditionLabels } from '../corpus/load.ts';
import { ownWalks, PARTS } from '../corpus/walks.ts';
import { ourReader } from './grammar/ours.ts';
import { conversationOf, heardAt, type Conversation } from './reader/conversation.ts';
import { outcomeOf } from './reader/product.ts';
import { compare, sheetOf } from './reader/sheet.ts';
import { statedBy } from './reader/tally.ts';
import { PILOTS, walked, type PilotKind } from './conversation/walked.ts';

const USAGE = `Usage: npm run bench:conversation -- [--json] [--part learn|tune|report] [--walks N] [--wer PER_CENT] [--learning]
  --part      which part of our own walks (default: report); no words of it are printed
  --walks     only the first N walks
  --wer       word errors put into what is said (default: 0)
  --learning  the same voice walks five times and keeps its phrasebook (npm run bench:learning)`;

/** Walks with questions answered from the labels, through the real session, clock and voice gate. */
export async function main(words: string[]): Promise<number> {
  try {
    const no = { type: 'boolean', default: false } as const;
    const { values } = parseArgs({
      args: words,
      options: {
        json: no,
        learning: no,
        part: { type: 'string' },
        walks: { type: 'string' },
        wer: { type: 'string' },
      },
    });
    const part = PARTS.find((p) => p === (values.part ?? 'report'));
    const most = Number(values.walks ?? Infinity);
    const wer = Number(values.wer ?? 0);
    if (part === undefined || !(most > 0) || !(wer >= 0 && wer <= 60)) throw new CorpusError('');
    const walks = ownWalks(part).map(conversationOf).map(goneOn).slice(0, most);
    const made = values.learning ? await learning(walks, wer) : await conversations(walks, wer);
    console.log(values.json ? JSON.stringify(made, null, 2) : tableOf(made));
    return 0;
  } catch (error) {
    console.error(error instanceof CorpusError ? USAGE : String(error));
    return 2;
  }
}

const tableOf = (made: Readonly<Record<string, unknown>>): string =>
  Object.entries(made)
    .map(([name, value]) => `${name.padEnd(24)}${JSON.stringify(value)}`)
    .join('\n');

type Kinds = Record<Question['kind'], number>;
const NO_KINDS = Object.fromEntries(Question.shape.kind.options.map((kind) => [kind, 0])) as Kinds;

interface Sums {
  walks: number;
  lines: number;
  questions: number;
  /** Where the questions come from. */
  kinds: Kinds;
  notHeard: number;
  answered: number;
  taken: number;
  checks: number;
  agreed: number;
  falseSpokenFor: number;
  lostFindings: number;
  falseFindings: number;
  due: number;
}
const nothing = (): Sums => ({
  walks: 0,
  lines: 0,
  questions: 0,
  kinds: { ...NO_KINDS },
  notHeard: 0,
  answered: 0,
  taken: 0,
  checks: 0,
  agreed: 0,
  falseSpokenFor: 0,
  lostFindings: 0,
  falseFindings: 0,
  due: 0,
});

async function one(
  conversation: Conversation,
  wer: number,
  pilot: PilotKind,
  learned: readonly Event[],
  sums: Sums,
): Promise<readonly Event[]> {
  const { catalogue, lines } = conversation;
  const texts = wer === 0 ? lines.map((l) => l.say) : heardAt(conversation, wer);
  const own = await walked(conversation, texts, pilot, ourReader(catalogue), learned);
  // What the labels leave to be asked about is settled where the pilot has answered it.
  const truth = statedBy(
    conversation,
    lines.map((l, i) => (own.settled.has(i) ? l.labels.map(asSettled) : l.labels)),
    conditionLabels(),
  );
  const due = outcomeOf(catalogue, truth).sheet;
  const counts = compare(sheetOf(due, truth), sheetOf(own.coverage, own.statements));
  sums.walks += 1;
  sums.lines += lines.length;
  sums.questions += own.questions.length;
  for (const kind of own.questions) sums.kinds[kind] += 1;
  sums.notHeard += own.notHeard;
  sums.answered += own.answered;
  sums.taken += own.taken;
  sums.checks += counts.checks;
  sums.agreed += counts.agreed;
  sums.falseSpokenFor += counts.falseSpokenFor;
  sums.lostFindings += counts.lostFindings;
  sums.falseFindings += counts.falseFindings;
  sums.due += due.findings.length;
  return own.events;
}

/**
 * Results that somebody gives in a hold count for nothing, and he is told to say "resume". Writers
 * whose pilot held the walk and went on left that out; our pilot does as he is told.
 */
function goneOn(conversation: Conversation): Conversation {
  let held = false;
  const lines = conversation.lines.flatMap((line) => {
    const ordered = (of: string): boolean =>
      line.labels.some((l) => l.kind === 'order' && l.name === 'command' && l.of === of);
    const gives = line.labels.some((l) => l.kind === 'claim' && l.force === 'result');
    const goesOn = held && gives && !ordered('resume');
    held = ordered('hold') || (held && !gives && !ordered('resume'));
    return goesOn ? [{ ...line, ...RESUMING }, line] : [line];
  });
  return { ...conversation, lines };
}
const RESUMING = {
  say: 'resume',
  labels: [{ kind: 'order', name: 'command', of: 'resume' }],
  after: [],
  heard: [],
  asked: null,
} as const satisfies Partial<Conversation['lines'][number]>;

/** A fault that is no longer in doubt. */
const asSettled = (label: Label): Label =>
  label.kind === 'claim' && (label.good === false || label.signs.some((s) => s.present))
    ? { ...label, asked: false }
    : label;

const round = (x: number): number => Math.round(x * 1000) / 1000;

/** Each walk by one pilot, the kinds in turn. */
async function conversations(walks: readonly Conversation[], wer: number) {
  const all = nothing();
  const byPilot: Record<string, unknown> = {};
  const kinds = new Map<PilotKind, Sums>();
  for (const [i, walk] of walks.entries()) {
    const pilot = PILOTS[i % PILOTS.length] ?? 'eager';
    const sums = kinds.get(pilot) ?? nothing();
    kinds.set(pilot, sums);
    await one(walk, wer, pilot, [], sums);
  }
  for (const [pilot, sums] of kinds) {
    byPilot[pilot] = figures(sums);
    for (const key of Object.keys(all) as (keyof Sums)[])
      if (key !== 'kinds') all[key] += sums[key];
    for (const kind of Question.shape.kind.options) all.kinds[kind] += sums.kinds[kind];
  }
  return { ...figures(all), questionsPer70ByKind: perUtterances(all, 70), byPilot };
}

function figures(s: Sums) {
  return {
    walks: s.walks,
    utterancesPerWalk: round(s.lines / s.walks),
    questionsPerWalk: round(s.questions / s.walks),
    questionsPer70: round((70 * s.questions) / s.lines),
    notHeardPer70: round((70 * s.notHeard) / s.lines),
    answeredRightly: s.answered === 0 ? null : round(s.taken / s.answered),
    sheetAgreement: round(s.agreed / s.checks),
    falseSpokenFor: s.falseSpokenFor,
    lostFindings: s.lostFindings,
    findings: s.due,
    falseFindings: s.falseFindings,
  };
}

/** Times that the same voice walks. */
const TIMES = 5;
/** Milliseconds: it walks again the next day. */
const DAY = 24 * 60 * 60 * 1000;

async function learning(walks: readonly Conversation[], wer: number) {
  const rounds = Array.from({ length: TIMES }, nothing);
  for (const walk of walks) {
    let learned: readonly Event[] = [];
    for (const [day, sums] of rounds.entries()) {
      const events = await one(walk, wer, 'eager', learned, sums);
      const told = events.filter((e) => e.what.kind === 'learned');
      learned = [...learned, ...told.map((e) => ({ ...e, at: e.at + day * DAY }))];
    }
  }
  return {
    walks: walks.length,
    questionsPer100: rounds.map((s) => round((100 * (s.questions + s.notHeard)) / s.lines)),
    falseSpokenForPer1000: rounds.map((s) => round((1000 * s.falseSpokenFor) / s.checks)),
    sheetAgreement: rounds.map((s) => round(s.agreed / s.checks)),
    questionsPer100ByKind: rounds.map((s) => perUtterances(s, 100)),
  };
}

/** Questions of each kind that was asked, most first, in so many utterances. */
function perUtterances({ kinds, lines }: Sums, many: number): Readonly<Record<string, number>> {
  return Object.fromEntries(
    Object.entries(kinds)
      .filter(([, n]) => n > 0)
      .sort(([, a], [, b]) => b - a)
      .map(([kind, n]) => [kind, round((many * n) / lines)]),
  );
}
