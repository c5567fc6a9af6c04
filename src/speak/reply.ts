import type { Catalogue } from '#shared/catalogue';
import type { CheckCoverage } from '#shared/coverage';
import type { Happened } from '#shared/happened';
import { nameAt, placeOf } from '#shared/names';
import { LONGEST_PROMPT, joined, secondsToSay, sentence } from '#shared/speech';
import type { Statement } from '#shared/statement';
import { CIRCUMSTANCE_WORDS } from '#shared/circumstance';
import { cautions, demanded } from './cautions.ts';
import type { EarconName } from './earcon.ts';
import { readBack, severitySentence } from './findings.ts';
import {
  changed,
  checkName,
  exception,
  newFindings,
  stationName,
  type Around,
  type Line,
  type ReplySettings,
} from './lines.ts';
import { begun, commandsIn, ordered } from './orders.ts';
import { list, withoutVerdict } from './wording.ts';

/** What to sound, and what to say after it. */
export interface Reply {
  readonly earcon: EarconName | null;
  /** Sentences, together at most LONGEST_PROMPT seconds. */
  readonly say: readonly string[];
  /** The pilot asked to hear the last reply again. */
  readonly again: boolean;
  /** It says that the walk is held; true once a hold when the caller passes it on as `toldHeld`. */
  readonly toldHeld?: true;
}

/** Said once a hold, to somebody who gives results while none counts. */
const HELD = 'The walk is held; say resume';

/**
 * What to say back. Pure: the same happening gives the same words.
 *
 * When not all of it can be said in one go, the question stays, then what is
 * dangerous, then findings; the rest is on the screen.
 */
export function replyTo(happened: Happened, around: Around, settings: ReplySettings): Reply {
  if (happened.dropped !== null) return { earcon: null, say: [], again: false };
  const { talk } = settings;
  const unheard = inHold(happened, around);
  const told = unheard && around.toldHeld !== true;
  const lines = [
    ...(happened.refused === null ? [] : [exception(happened.refused, 0)]),
    ...(told ? [{ text: HELD, rank: 0, from: 'order' as const }] : []),
    ...begun(happened, around, settings),
    ...ordered(happened, around, settings),
    ...found(happened, around, settings),
    ...demanded(around, settings),
    ...cautions(happened, around, settings),
    ...mandatory(happened, around, settings),
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
    earcon: unheard ? (told ? 'not-understood' : null) : earconFor(happened, around),
    say: fitted(wanted),
    again: commandsIn(happened).includes('repeat'),
    ...(told ? { toldHeld: true } : {}),
  };
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

/**
 * A result given while the walk is held, which changed nothing. The tone for
 * "understood" would be a lie; silence every time would leave a pilot who forgot
 * the hold to walk on uncounted. A fault is kept (R4) and sounds as a finding.
 */
function inHold(happened: Happened, around: Around): boolean {
  const { before, after } = around;
  return (
    before?.held === true &&
    after.held &&
    happened.asked === null &&
    happened.statements.some((s) => s.kind === 'observation' && s.force === 'result') &&
    newFindings(around).length === 0 &&
    changed(around).length === 0
  );
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
  'discarded',
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
    ...takenBack(happened),
    // Older statements do not say what they took back.
    ...(happened.statements.some((s) => s.kind === 'retraction' && s.words !== undefined)
      ? []
      : gone.map((finding) => exception(`Taken back: ${readBack(finding, catalogue)}`, 2))),
    ...(happened.statements.some((s) => s.kind === 'clearance') ? [exception(CLEARED, 2)] : []),
  ];
}

/** It is kept as told, and nothing is concluded from it (R9). */
const CLEARED = 'Noted as said: cleared by maintenance. What it demanded is no longer demanded';

/** What was taken back is said in the pilot's own words: it may have been another thing than meant. */
function takenBack(happened: Happened): Line[] {
  const words = happened.statements.flatMap((s) =>
    s.kind === 'retraction' && s.words !== undefined ? [s.words] : [],
  );
  return [...new Set(words)].map((w) => exception(`Taken back: ${shortened(w)}`, 2));
}

/** Words that are said again at most; the rest is on the screen. */
const MOST_SAID = 12;
function shortened(words: string): string {
  const list = words.split(/\s+/);
  return list.length <= MOST_SAID ? words : `${list.slice(0, MOST_SAID).join(' ')} …`;
}

/** A mandatory safety item is confirmed aloud as such, once it is spoken for. */
function mandatory(happened: Happened, around: Around, { catalogue }: ReplySettings): Line[] {
  if (happened.statements.length === 0) return [];
  return changed(around).flatMap((c): Line[] => {
    const check = placeOf(catalogue, c.check)?.check;
    if (check?.mandatory !== true || c.standing !== 'spoken' || c.statements.length === 0)
      return [];
    const aspects = joined(
      check.aspects.map((a) => a.name),
      'and',
    );
    return [exception(`Safety item confirmed: ${check.name} ${aspects}`.trim(), 1)];
  });
}

/** R6: a check that came to be in question without anything being asked. */
function contradicted(happened: Happened, around: Around, { catalogue }: ReplySettings): Line[] {
  if (happened.asked !== null) return [];
  return changed(around)
    .filter((c) => c.standing === 'question' && c.reasons.some((r) => r.rule === 'R6'))
    .map((c) => exception(`${checkName(catalogue, c.check)}: in question; the worse stands`, 3));
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
