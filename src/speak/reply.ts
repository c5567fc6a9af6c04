import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage, Coverage, Finding } from '#shared/coverage';
import type { Happened } from '#shared/happened';
import { nameAt, placeOf } from '#shared/names';
import { LONGEST_PROMPT, joined, secondsToSay, sentence } from '#shared/speech';
import type { CommandName, Statement } from '#shared/statement';
import { CIRCUMSTANCE_WORDS } from '#shared/circumstance';
import type { EarconName } from './earcon.ts';
import { readBack, readBackAll, severitySentence } from './findings.ts';
import { list, withoutVerdict } from './wording.ts';

/**
 * How much is said aloud.
 *
 * - tones: earcons only, and the answer to an order such as "what's left"
 * - exceptions: also questions, findings, cautions, follow-ups, what went wrong
 * - everything: also each check that is now spoken for
 */
export type Talk = 'tones' | 'exceptions' | 'everything';

export interface ReplySettings {
  readonly catalogue: Catalogue;
  readonly talk: Talk;
}

export interface Around {
  /** Before it happened; null at the begin of a walk. */
  readonly before: Coverage | null;
  readonly after: Coverage;
}

/** What to sound, and what to say after it. */
export interface Reply {
  readonly earcon: EarconName | null;
  /** Sentences, together at most LONGEST_PROMPT seconds. */
  readonly say: readonly string[];
  /** The pilot asked to hear the last reply again. */
  readonly again: boolean;
}

/** One thing to say. Smaller rank is more urgent; `at` is its place in what is said. */
interface Line {
  readonly text: string;
  readonly rank: number;
  readonly from: 'order' | 'exception' | 'confirmation';
}

const HELP =
  "Name a part and say how it is. Say: what's left, read back, take that back, hold, or finish.";

/**
 * What to say back. Pure: the same happening gives the same words.
 *
 * When not all of it can be said in one go, the question stays, then what is
 * dangerous, then findings; the rest is on the screen.
 */
export function replyTo(happened: Happened, around: Around, settings: ReplySettings): Reply {
  if (happened.dropped !== null) return { earcon: null, say: [], again: false };
  const { talk } = settings;
  const lines = [
    ...(happened.refused === null ? [] : [exception(happened.refused, 0)]),
    ...begun(happened, around, settings),
    ...ordered(happened, around, settings),
    ...found(happened, around, settings),
    ...demanded(around, settings),
    ...cautions(happened, around, settings),
    ...contradicted(happened, around, settings),
    ...notUnderstood(happened),
    ...decided(happened),
    ...confirmed(happened, around, settings),
    ...(happened.asked === null ? [] : [exception(happened.asked.text, -1)]),
  ];
  const wanted = lines.filter(
    ({ from }) =>
      from === 'order' || talk === 'everything' || (talk === 'exceptions' && from === 'exception'),
  );
  return {
    earcon: earconFor(happened, around),
    say: fitted(wanted),
    again: commandsIn(happened).includes('repeat'),
  };
}

function exception(text: string, rank: number): Line {
  return { text, rank, from: 'exception' };
}

/** The most urgent lines that fit into one go, in the order in which they are said. */
function fitted(lines: readonly Line[]): string[] {
  const said = new Set<string>();
  const unique = lines
    .map((line, at) => ({ ...line, text: withoutVerdict(sentence(line.text)), at }))
    .filter(({ text }) => text !== '' && !said.has(text) && said.add(text));
  const kept: typeof unique = [];
  let seconds = 0;
  for (const line of [...unique].sort((a, b) => a.rank - b.rank || a.at - b.at)) {
    const takes = secondsToSay(line.text);
    if (seconds + takes > LONGEST_PROMPT) continue;
    seconds += takes;
    kept.push(line);
  }
  return kept.sort((a, b) => a.at - b.at).map((line) => line.text);
}

function earconFor(happened: Happened, around: Around): EarconName | null {
  if (happened.asked !== null || happened.refused !== null) return 'question';
  if (happened.statements.some((s) => s.kind === 'not-understood' && !s.chatter)) {
    return 'not-understood';
  }
  if (newFindings(around).length > 0) return 'finding';
  if (happened.statements.some(counts)) return 'understood';
  return happened.events.some((e) => UNDERSTOOD_EVENTS.has(e.what.kind)) ? 'understood' : null;
}

const UNDERSTOOD_EVENTS: ReadonlySet<string> = new Set([
  'walk-begun',
  'held',
  'resumed',
  'finished',
  'decided',
  'signed',
  'circumstance-set',
  'station-set',
  'finding-placed',
]);

/** Whether a statement does anything, so that silence means "not counted" (R2). */
function counts(statement: Statement): boolean {
  if (statement.kind === 'not-understood' || statement.kind === 'two-candidates') return false;
  return statement.kind !== 'observation' || statement.force === 'result';
}

function commandsIn(happened: Happened): CommandName[] {
  return happened.statements.flatMap((s) => (s.kind === 'command' ? [s.command] : []));
}

function checkName(catalogue: Catalogue, id: string): string {
  return placeOf(catalogue, id)?.check.name ?? id;
}

function stationName(catalogue: Catalogue, id: string | null): string | null {
  return id === null ? null : (catalogue.stations.find((s) => s.id === id)?.name ?? id);
}

/** The walk begins: cautions, what is carried, and where to go. */
function begun(happened: Happened, { after }: Around, { catalogue }: ReplySettings): Line[] {
  const begin = happened.events.find((e) => e.what.kind === 'walk-begun');
  if (begin?.what.kind !== 'walk-begun') return [];
  const { squawks } = begin.what;
  const first = after.open[0]?.station ?? catalogue.stations[0]?.id ?? null;
  return [
    ...catalogue.cautions.map((text) => exception(text, 1)),
    ...(squawks.length === 0
      ? []
      : [
          exception(
            list(
              `${squawks.length} open:`,
              squawks.map((s) => s.text),
              5,
            ),
            2,
          ),
        ]),
    exception(`Listening. Begin at the ${stationName(catalogue, first) ?? 'aircraft'}`, 3),
  ];
}

/** Answers to orders. They are spoken in every setting: the pilot asked. */
function ordered(happened: Happened, around: Around, settings: ReplySettings): Line[] {
  const { after } = around;
  const { catalogue } = settings;
  const order = (text: string, rank = 0): Line => ({ text, rank, from: 'order' });
  const here = after.open.filter((o) => o.station === after.station);
  const last = after.lastCompleted;
  const completed = last === null ? null : `Last completed: ${checkName(catalogue, last)}`;
  const lines = commandsIn(happened).flatMap((command): Line[] => {
    switch (command) {
      case 'left':
        return [order(left(after.open.map((o) => o.text)))];
      case 'left-here':
        return [
          order(
            left(
              here.map((o) => o.text),
              ' here',
            ),
          ),
        ];
      case 'where': {
        const at = stationName(catalogue, after.station);
        const next = here[0]?.text ?? after.open[0]?.text;
        return [
          order(at === null ? 'No station yet' : `You are at the ${at}`),
          ...(completed === null ? [] : [order(completed, 1)]),
          ...(next === undefined ? [] : [order(`Next: ${next}`, 2)]),
        ];
      }
      case 'read-back':
        return [order(readBackAll(after.findings, catalogue))];
      case 'next': {
        const next = after.open[0];
        return [order(next === undefined ? 'Nothing is left' : `Next: ${next.text}`)];
      }
      case 'help':
        return [order(HELP)];
      default:
        return [];
    }
  });
  for (const { what } of happened.events) {
    if (what.kind === 'held') lines.push(exception('Held', 1));
    // FSF ALAR briefing note 1.5: after an interruption the last completed item is repeated.
    if (what.kind === 'resumed') {
      if (completed !== null) lines.push(order(completed, 0));
      lines.push(
        order(left(here.length > 0 ? here.map((o) => o.text) : after.open.map((o) => o.text)), 1),
      );
    }
    if (what.kind === 'finished') {
      lines.push(order(finishLine(after), 0));
    }
  }
  return lines;
}

function left(texts: readonly string[], where = ''): string {
  if (texts.length === 0) return `Nothing is left${where}`;
  return list(`${texts.length} left${where}:`, texts);
}

/** Worst first, what does not fit is counted; the decision is the pilot's (R9). */
function finishLine(after: Coverage): string {
  if (after.open.length === 0) {
    const standing = after.findings.filter((f) => f.settled !== 'taken-back').length;
    const findings =
      standing === 0 ? 'no finding' : standing === 1 ? 'one finding' : `${standing} findings`;
    return `Finished. Every required check is spoken for, ${findings}. The decision is yours`;
  }
  return list(
    `Finished with ${after.open.length} open:`,
    after.open.map((o) => o.text),
  );
}

/** Findings that are new, or read differently than before. */
function newFindings({ before, after }: Around): Finding[] {
  const key = (f: Finding) =>
    JSON.stringify([f.check, f.instances, f.conditions, f.value, f.severity, f.settled]);
  const known = new Map((before?.findings ?? []).map((f) => [f.id, key(f)]));
  return after.findings.filter((f) => f.settled !== 'taken-back' && known.get(f.id) !== key(f));
}

function found(happened: Happened, around: Around, { catalogue }: ReplySettings): Line[] {
  const gone = around.after.findings.filter(
    (f) =>
      f.settled === 'taken-back' &&
      around.before?.findings.some((b) => b.id === f.id && b.settled !== 'taken-back') === true,
  );
  const opened = happened.events.some((e) => e.what.kind === 'walk-begun');
  return [
    ...(opened ? [] : newFindings(around)).flatMap((finding) => [
      // The question for its severity names it already.
      ...(happened.asked?.kind === 'severity' && happened.asked.about === finding.id
        ? []
        : [exception(readBack(finding, catalogue), 2)]),
      ...severitySentence(finding, happened.asked).map((text) => exception(text, 2)),
    ]),
    ...gone.map((finding) => exception(`Taken back: ${readBack(finding, catalogue)}`, 2)),
  ];
}

/** Checks that a finding has just made necessary. */
function demanded(around: Around, { catalogue }: ReplySettings): Line[] {
  const { before, after } = around;
  const known = new Set(
    (before?.checks ?? []).filter((c) => c.required.by === 'follow-up').map((c) => c.check),
  );
  const fresh = after.checks.filter((c) => c.required.by === 'follow-up' && !known.has(c.check));
  if (fresh.length === 0) return [];
  const names = fresh.map((c) => checkName(catalogue, c.check));
  const decides = signCautions(around, catalogue).some((text) => /maintenance decides/i.test(text));
  return [
    exception(list('Now also:', names, 4), 1),
    ...(decides ? [] : [exception('Maintenance decides', 1)]),
  ];
}

/** Cautions of the station just reached, of the check that is next or was just announced, and of a sign. */
function cautions(happened: Happened, around: Around, { catalogue }: ReplySettings): Line[] {
  const { before, after } = around;
  const texts: string[] = [];
  if (after.station !== null && before?.station !== after.station) {
    texts.push(catalogue.stations.find((s) => s.id === after.station)?.caution ?? '');
  }
  const next = nextHere(after);
  if (next !== null && (before === null || nextHere(before)?.check !== next.check)) {
    texts.push(placeOf(catalogue, next.check)?.check.caution ?? '');
  }
  for (const s of happened.statements) {
    if (s.kind === 'observation' && s.force === 'intention' && s.about.kind === 'check') {
      texts.push(placeOf(catalogue, s.about.check)?.check.caution ?? '');
    }
  }
  texts.push(...signCautions(around, catalogue));
  return texts.filter((t) => t !== '').map((text) => exception(text, 0));
}

function nextHere(coverage: Coverage): CheckCoverage | null {
  const open = coverage.open.find((o) => o.check !== null && o.station === coverage.station);
  return coverage.checks.find((c) => c.check === open?.check) ?? null;
}

function signCautions(around: Around, catalogue: Catalogue): string[] {
  return newFindings(around).flatMap((finding) =>
    finding.conditions.map(({ sign }) => (sign === null ? '' : signCaution(catalogue, sign))),
  );
}

function signCaution(catalogue: Catalogue, id: string): string {
  const own = catalogue.stations.flatMap((s) => s.checks).flatMap((c) => c.signs);
  for (const sign of [...catalogue.signs, ...own]) {
    if (typeof sign !== 'string' && sign.id === id) return sign.caution ?? '';
  }
  return '';
}

/** R6: a check that came to be in question without anything being asked. */
function contradicted(happened: Happened, around: Around, { catalogue }: ReplySettings): Line[] {
  if (happened.asked !== null) return [];
  return changed(around)
    .filter((c) => c.standing === 'question' && c.reasons.some((r) => r.rule === 'R6'))
    .map((c) => exception(`${checkName(catalogue, c.check)}: in question; the worse stands`, 3));
}

function changed({ before, after }: Around): CheckCoverage[] {
  const was = new Map((before?.checks ?? []).map((c) => [c.check, c]));
  return after.checks.filter((c) => was.get(c.check)?.standing !== c.standing);
}

function notUnderstood(happened: Happened): Line[] {
  return happened.statements.some((s) => s.kind === 'not-understood' && !s.chatter)
    ? [exception('Say again', 4)]
    : [];
}

function decided(happened: Happened): Line[] {
  return happened.events.flatMap(({ what }): Line[] => {
    if (what.kind === 'decided') {
      const authority = what.authority === null ? '' : `, limits set by ${what.authority}`;
      const words = { fly: 'fly', defer: 'defer', ground: 'ground it', 'hand-over': 'hand over' };
      return [exception(`Your decision is written: ${words[what.decision]}${authority}`, 1)];
    }
    return what.kind === 'signed' ? [exception(`Signed by ${what.name}`, 1)] : [];
  });
}

/** Said only when everything is: what now stands how, and what a statement set. */
function confirmed(happened: Happened, around: Around, { catalogue }: ReplySettings): Line[] {
  const say = (text: string, rank = 6): Line => ({ text, rank, from: 'confirmation' });
  const lines: Line[] = [];
  const spoken = changed(around).filter((c) => c.standing === 'spoken' && c.statements.length > 0);
  if (spoken.length > 3) lines.push(say(`${spoken.length} checks spoken for`));
  else if (spoken.length > 0) {
    lines.push(
      say(
        `${joined(
          spoken.map((c) => checkName(catalogue, c.check)),
          'and',
        )}: spoken for`,
      ),
    );
  }
  for (const c of changed(around)) {
    if (c.standing === 'part' && c.statements.length > 0) lines.push(say(partLine(c, catalogue)));
    if (c.standing === 'set-aside') lines.push(say(`${checkName(catalogue, c.check)}: set aside`));
  }
  for (const { what } of happened.events) {
    if (what.kind === 'circumstance-set') {
      const words = CIRCUMSTANCE_WORDS[what.circumstance];
      lines.push(say(what.holds ? sentence(words) : `Not ${words}`));
    }
  }
  if (around.after.station !== around.before?.station && around.after.station !== null) {
    lines.push(say(stationName(catalogue, around.after.station) ?? '', 7));
  }
  return lines;
}

/** "Drive belts: slack is left." */
function partLine(coverage: CheckCoverage, catalogue: Catalogue): string {
  const place = placeOf(catalogue, coverage.check);
  if (place === null) return '';
  const { check } = place;
  const { aspects, instances, measures, acts } = coverage.missing;
  const wanting = [
    ...new Set([
      ...aspects.map(({ aspect }) => check.aspects.find((a) => a.id === aspect)?.name ?? aspect),
      ...measures.map(
        ({ measure }) => check.measures.find((m) => m.id === measure)?.name ?? measure,
      ),
      ...instances.map((i) => nameAt(check, [i])),
      ...acts,
    ]),
  ].map((w) => w.toLowerCase());
  return list(`${check.name}: left`, wanting, 4);
}
