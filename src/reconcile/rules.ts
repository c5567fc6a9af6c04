import type { Reason, Rule, Standing } from '#shared/coverage';
import { ONCE } from '#shared/catalogue';
import { joined } from '#shared/speech';
import { wordsOf, type Entry } from './ledger.ts';
import type { Tally } from './tally.ts';
import { lackingText, placesText, quoted } from './words.ts';

/** One ground for a rule to apply: a sentence, and the statements behind it. */
export interface Ground {
  readonly text: string;
  readonly entries: readonly Entry[];
}

export interface Row {
  readonly rule: Rule;
  /** The standing it gives; null for a row that only explains. */
  readonly then: Standing | null;
  /** Grounds on which it applies; none when it does not. */
  readonly when: (tally: Tally) => readonly Ground[];
}

/**
 * How a check stands. Read from the top: the first row that applies and gives a
 * standing decides; every row that applies gives its reason. What is doubtful
 * stands above what counts, so that a check is never called spoken for while
 * something about it has to be asked.
 */
export const ROWS: readonly Row[] = [
  { rule: 'R6', then: 'question', when: contradicted },
  { rule: 'R6', then: 'question', when: setAsideWithFault },
  { rule: 'R5', then: 'question', when: doubted },
  { rule: 'R5', then: 'question', when: nearlyTied },
  { rule: 'R8', then: 'question', when: valueUntold },
  { rule: 'R1', then: 'set-aside', when: setAsideAllowed },
  { rule: 'R5', then: 'part', when: perhapsGood },
  { rule: 'R5', then: 'part', when: pluralAlone },
  { rule: 'R1', then: 'part', when: actWithoutResult },
  { rule: 'R1', then: 'part', when: partLacking },
  { rule: 'R8', then: 'part', when: valueLacking },
  { rule: 'R1', then: 'part', when: actLacking },
  { rule: 'R7', then: 'spoken', when: coveredByBlanket },
  { rule: 'R1', then: 'spoken', when: spokenByName },
  { rule: 'R8', then: null, when: valueOutside },
  { rule: 'R3', then: null, when: faultFound },
  { rule: 'R7', then: null, when: blanketRefused },
  { rule: 'R1', then: null, when: setAsideRefused },
  { rule: 'R6', then: null, when: noLongerCounts },
  { rule: 'R1', then: 'unspoken', when: nothingSaid },
];

const NO_GROUND: readonly Ground[] = [];

/** The standing of a check and every reason for it, the deciding one first. */
export function judge(tally: Tally): { standing: Standing; reasons: Reason[] } {
  let standing: Standing | null = null;
  const deciding: Reason[] = [];
  const others: Reason[] = [];
  for (const row of ROWS) {
    if (row.then === 'unspoken' && standing !== null) continue;
    const grounds = row.when(tally);
    if (grounds.length === 0) continue;
    const decides = row.then !== null && (standing === null || standing === row.then);
    if (decides) standing = row.then;
    (decides ? deciding : others).push(...grounds.map((g) => reason(row.rule, g)));
  }
  deciding.push(...others);
  return { standing: standing ?? 'unspoken', reasons: deciding };
}

function reason(rule: Rule, { text, entries }: Ground): Reason {
  return {
    rule,
    text,
    events: entries.map((e) => e.placed?.event ?? e.event),
    words: entries.length === 0 ? null : entries.map(wordsOf).join(' … '),
  };
}

function contradicted(t: Tally): readonly Ground[] {
  return t.contradictions.map(({ bad, good }) => ({
    text: `${quoted(wordsOf(bad.entry))} was followed by ${quoted(wordsOf(good.entry))}; the worse reading stands until it is settled.`,
    entries: [bad.entry, good.entry],
  }));
}

function setAsideWithFault(t: Tally): readonly Ground[] {
  const faults = t.readings.filter((r) => r.abnormal).map((r) => r.entry);
  if (t.setAside === null || faults.length === 0) return [];
  return [
    {
      text: `A fault was found, then the check was set aside: ${quoted(wordsOf(t.setAside))}.`,
      entries: [...faults, t.setAside],
    },
  ];
}

function doubted(t: Tally): readonly Ground[] {
  return t.doubtful.map((entry) => {
    const why = entry.said.kind === 'observation' ? entry.said.doubtful : null;
    return {
      text: `${quoted(wordsOf(entry))} is not counted before it is settled${why === null ? '' : `: ${why}`}.`,
      entries: [entry],
    };
  });
}

/** Nothing speaks against it, and it counts for nothing: it is half said, and asked about with what is left. */
function perhapsGood(t: Tally): readonly Ground[] {
  return t.perhaps.map((entry) => ({
    text: `${quoted(wordsOf(entry))} may have been said to be good, and does not count before it is said clearly.`,
    entries: [entry],
  }));
}

function nearlyTied(t: Tally): readonly Ground[] {
  return t.nearTies.map((entry) => ({
    text: `${quoted(wordsOf(entry))} could mean this check or another.`,
    entries: [entry],
  }));
}

const TROUBLE_WORDS = {
  'no-unit': 'was said without its unit',
  'wrong-unit': 'was said in a unit that does not fit',
  'no-measure': 'belongs to nothing that is measured here',
} as const;

function valueUntold(t: Tally): readonly Ground[] {
  return t.untold.map(({ reading, words, measure }) => {
    const trouble = reading.untold.find((u) => u.value.span.words === words)?.value.trouble;
    const what =
      trouble !== null && trouble !== undefined
        ? TROUBLE_WORDS[trouble]
        : measure === null
          ? 'could belong to more than one measure'
          : 'cannot be held against its limit';
    return { text: `${quoted(words)} ${what}.`, entries: [reading.entry] };
  });
}

function setAsideAllowed(t: Tally): readonly Ground[] {
  if (t.setAside === null || !t.spot.check.optional || t.missing.instances.length > 0) return [];
  const said = t.setAside.said;
  const why = said.kind === 'set-aside' ? said.reason : '';
  return [
    {
      text: `Set aside${why === '' ? '' : `: ${why}`}. The catalogue allows it.`,
      entries: [t.setAside],
    },
  ];
}

function setAsideRefused(t: Tally): readonly Ground[] {
  if (t.setAside === null || t.spot.check.optional) return [];
  return [
    {
      text: `${quoted(wordsOf(t.setAside))}: the catalogue does not allow this check to be set aside, so it stays open.`,
      entries: [t.setAside],
    },
  ];
}

function pluralAlone(t: Tally): readonly Ground[] {
  if (t.missing.instances.length === 0) return NO_GROUND;
  return t.readings.flatMap((r) => {
    const about = r.entry.said.kind === 'observation' ? r.entry.said.about : null;
    const alone = about?.kind === 'check' && about.which.how === 'plural' && r.at.length === 0;
    if (!alone) return [];
    return [
      {
        text: `${quoted(wordsOf(r.entry))} does not say which of the ${t.spot.instances.length}.`,
        entries: [r.entry],
      },
    ];
  });
}

function actWithoutResult(t: Tally): readonly Ground[] {
  if (t.complete) return [];
  return t.readings
    .filter((r) => r.actOnly)
    .map((r) => ({
      text: `${quoted(wordsOf(r.entry))} says that it was done, not what was found.`,
      entries: [r.entry],
    }));
}

const NOTHING = { aspects: [], instances: [], measures: [], acts: [] };

function partLacking(t: Tally): readonly Ground[] {
  if (!t.touched) return [];
  const lacking = lackingText(t.spot, { ...t.missing, measures: [], acts: [] });
  if (lacking.length === 0) {
    // Named and answered, and yet nothing of it can be counted.
    const bare = t.missing.instances.includes(ONCE) && !t.readings.some((r) => r.actOnly);
    return bare
      ? [{ text: 'What was said does not say how it is.', entries: t.readings.map((r) => r.entry) }]
      : [];
  }
  return [
    {
      text: `${lacking.join('; ')} unspoken.`,
      entries: t.readings.map((r) => r.entry),
    },
  ];
}

function valueLacking(t: Tally): readonly Ground[] {
  if (!t.touched || t.missing.measures.length === 0) return [];
  const lacking = lackingText(t.spot, { ...NOTHING, measures: t.missing.measures });
  return [{ text: `No value for ${joined(lacking, 'and')}.`, entries: [] }];
}

function actLacking(t: Tally): readonly Ground[] {
  if (!t.touched || t.missing.acts.length === 0) return [];
  const lacking = lackingText(t.spot, { ...NOTHING, acts: t.missing.acts });
  return [
    {
      text: `Only looking was said; it asks for ${joined(lacking, 'or')}.`,
      entries: t.readings.filter((r) => r.acts.length > 0).map((r) => r.entry),
    },
  ];
}

function coveredByBlanket(t: Tally): readonly Ground[] {
  if (!t.complete) return NO_GROUND;
  return t.news
    .filter((r) => r.how === 'blanket')
    .map((r) => ({
      text: `Covered by ${quoted(wordsOf(r.entry))} over ${t.spot.station.name}, which the catalogue allows.`,
      entries: [r.entry],
    }));
}

function spokenByName(t: Tally): readonly Ground[] {
  if (!t.complete) return NO_GROUND;
  const named = t.readings.filter((r) => r.how === 'named');
  const news = named.filter((r) => t.news.includes(r));
  const shown = news.length > 0 ? news : named.slice(0, 1);
  const last = named.at(-1);
  const again = named.length - shown.length;
  return [
    ...shown.map((r) => {
      const places = r.at.length === t.spot.instances.length ? '' : placesText(r.at);
      return {
        text: `Spoken for${places === '' ? '' : ` (${places})`} by ${quoted(wordsOf(r.entry))}.`,
        entries: [r.entry],
      };
    }),
    ...(again > 0 && last !== undefined
      ? [{ text: `Said again${again === 1 ? '' : ` ${again} times`}.`, entries: [last.entry] }]
      : []),
  ];
}

function valueOutside(t: Tally): readonly Ground[] {
  return t.readings
    .filter((r) => r.values.some((v) => !v.inside))
    .map((r) => ({
      text: `${quoted(wordsOf(r.entry))} gives a value outside its limit: a finding, whatever it is called.`,
      entries: [r.entry],
    }));
}

function faultFound(t: Tally): readonly Ground[] {
  return t.readings
    .filter((r) => r.abnormal && !r.values.some((v) => !v.inside))
    .map((r) => ({ text: `A finding: ${quoted(wordsOf(r.entry))}.`, entries: [r.entry] }));
}

function blanketRefused(t: Tally): readonly Ground[] {
  if (t.complete) return [];
  const { by } = t.required;
  const why =
    by === 'follow-up'
      ? 'a follow-up'
      : by === 'squawk'
        ? 'a check with an open squawk'
        : t.spot.check.measures.length > 0
          ? 'a check that needs a value'
          : 'a check that asks to be named';
  return t.refusedBlankets.map((entry) => ({
    text: `${quoted(wordsOf(entry))} does not cover ${why}.`,
    entries: [entry],
  }));
}

function noLongerCounts(t: Tally): readonly Ground[] {
  return t.dead.map((entry) => ({
    text: `${quoted(wordsOf(entry))} was corrected or taken back later; it is kept and does not count.`,
    entries: [entry],
  }));
}

function nothingSaid(t: Tally): readonly Ground[] {
  const silent = t.readings.length + t.refusedBlankets.length === 0;
  return [
    {
      text: silent ? 'No result names it.' : 'No result that names it can be counted.',
      entries: [],
    },
  ];
}
