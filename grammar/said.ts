import type { Act, Check, Sign } from '#shared/catalogue';
import type { Severity } from '#shared/severity';
import type { ConditionSaid, Verdict } from '#shared/statement';
import { aspectsOf, type AspectMap } from './aspects.ts';
import type { Clause } from './clauses.ts';
import { lexicon, type VerdictEntry } from './lexicon.ts';
import { stem, type CheckEntry } from './names.ts';
import { numberAt } from './numbers.ts';
import type { Sense, SensePiece } from './pieces.ts';
import { denialOf } from './scope.ts';
import { phraseWords, spanOf, wordsIn, type Token } from './tokens.ts';
import { Trie } from './trie.ts';

/** What a clause says about one check. */
export interface Said {
  readonly verdict: Verdict | null;
  readonly conditions: ConditionSaid[];
  readonly acts: Act[];
  readonly severity: Severity | null;
  readonly doubt: string | null;
  readonly why: string[];
}

type Degree = 'slight' | 'moderate' | 'severe';
let degrees: Trie<Degree> | null = null;
let acts: Trie<Act> | null = null;
let placeWords: Trie<'at' | 'on'> | null = null;
let verdictById: Map<string, VerdictEntry> | null = null;

function tries(): {
  degrees: Trie<Degree>;
  acts: Trie<Act>;
  places: Trie<'at' | 'on'>;
  verdicts: Map<string, VerdictEntry>;
} {
  if (degrees === null || acts === null || placeWords === null || verdictById === null) {
    const lex = lexicon();
    degrees = new Trie();
    for (const d of ['slight', 'moderate', 'severe'] as const)
      for (const p of lex.degrees[d]) degrees.add(phraseWords(p), d);
    acts = new Trie();
    for (const [act, say] of Object.entries(lex.acts) as [Act, string[]][])
      for (const p of say) acts.add(phraseWords(p), act);
    placeWords = new Trie();
    for (const kind of ['at', 'on'] as const)
      for (const p of lex.places[kind]) placeWords.add(phraseWords(p), kind);
    verdictById = new Map(lex.verdicts.map((v) => [v.id, v]));
  }
  return { degrees, acts, places: placeWords, verdicts: verdictById };
}

export function verdictEntry(id: string): VerdictEntry | undefined {
  return tries().verdicts.get(id);
}

const speaksHere = (p: SensePiece): boolean =>
  p.senses.some((s) => s.kind === 'condition' || s.kind === 'verdict');

/**
 * Denial of one predicate inside its clause (R3). A denial does not reach past a
 * name that begins something new, nor past a verdict; behind its word it reaches
 * back only over a plain list ("cracks or dents: none").
 */
export function deniedIn(
  clause: Clause,
  target: SensePiece,
  tokens: readonly Token[],
): { count: number; cue: string | null; near: boolean } {
  let low = clause.from;
  let high = clause.to;
  const preds = clause.preds.filter(speaksHere);
  for (const item of [...clause.items, ...clause.places]) {
    if (item.to <= target.from && preds.some((p) => p.to <= item.from))
      low = Math.max(low, item.to);
    if (item.from >= target.to) high = Math.min(high, item.from);
  }
  for (const pred of preds) {
    if (pred.to <= target.from && pred.senses.every((s) => s.kind === 'verdict'))
      low = Math.max(low, pred.to);
  }
  // Behind: stop at the first word that is neither part of a list nor a copula.
  for (let i = target.to; i < high; i += 1) {
    const word = tokens[i]?.word ?? '';
    const inPred = preds.some((p) => p.from <= i && i < p.to);
    if (
      inPred ||
      /^(and|or|nor|is|are|was|were|there|any|no|not|none|nil|zero|at|all|has|been|seen|found|visible|present|evident|negative|absent|noted|can|i|see|that|to|be|do|did)$/.test(
        word,
      )
    )
      continue;
    high = i;
    break;
  }
  const words = tokens.slice(low, high).map((t) => t.word);
  const denial = denialOf(words, { from: target.from - low, to: target.to - low });
  const distance = denial.at === null ? 99 : target.from - low - denial.at.to;
  const between =
    denial.at !== null &&
    preds.some((p) => p.from >= (denial.at?.to ?? 0) + low && p.to <= target.from);
  return { count: denial.count, cue: denial.cue, near: distance >= 0 && distance <= 2 && !between };
}

/** The place of a condition as said: from its first place word to the end of what follows. */
function placeOf(
  clause: Clause,
  target: SensePiece,
  tokens: readonly Token[],
  raw: readonly string[],
  items: readonly { from: number; to: number }[],
): { text: string; from: number; to: number } | null {
  const { places } = tries();
  const words = wordsIn(tokens);
  const stop = Math.min(
    clause.to,
    ...clause.preds
      .filter((p) => p.from >= target.to && p !== target && !inPlace(clause, p.from))
      .map((p) => p.from),
  );
  let i = target.to;
  // A number with a length before "aft of" belongs to the place.
  for (; i < Math.min(stop, target.to + 6); i += 1) {
    const hit = places.longest(words, i);
    if (hit !== null && hit.to <= stop) break;
    if (numberAt(words, i) !== null) {
      const away = words
        .slice(i, Math.min(stop, i + 5))
        .findIndex((w) =>
          /^(aft|forward|above|below|from|inboard|outboard|behind|ahead|in|up|down)$/.test(w),
        );
      if (away > 0) break;
    }
    if (/^(the|a|bit|little|right|just|about|halfway|maybe)$/.test(words[i] ?? '')) continue;
  }
  if (i >= Math.min(stop, target.to + 6)) return null;
  let end = i;
  while (end < stop && (end === i || (tokens[end]?.gap ?? 0) === 0)) end += 1;
  // "on the left tyre" names the thing and not a place on it.
  const item = items.find((it) => it.from >= i && it.to <= end);
  if (item !== undefined) {
    const rest = placeBehind(item.to, end, words, places);
    if (rest === null) return null;
    i = rest;
  }
  while (end > i && /^(and|but|so|then|or|the|a|there|it|is)$/.test(words[end - 1] ?? '')) end -= 1;
  if (end - i < 2) return null;
  return { text: spanOf(tokens, raw, i, end).words.replace(/[.,;:!?]+$/, ''), from: i, to: end };
}
function placeBehind(
  from: number,
  to: number,
  words: readonly string[],
  places: Trie<'at' | 'on'>,
): number | null {
  for (let i = from; i < to; i += 1) if (places.longest(words, i) !== null) return i;
  return null;
}
function inPlace(clause: Clause, at: number): boolean {
  return clause.places.some((p) => p.from <= at && at < p.to);
}

function degreeNear(target: SensePiece, clause: Clause, tokens: readonly Token[]): Degree | null {
  const trie = tries().degrees;
  const words = wordsIn(tokens);
  let found: Degree | null = null;
  for (let i = Math.max(clause.from, target.from - 4); i < target.from; i += 1) {
    if (
      clause.preds.some(
        (p) =>
          p !== target && p.from <= i && i < p.to && p.senses.some((s) => s.kind === 'condition'),
      )
    ) {
      found = null;
      continue;
    }
    const hit = trie.longest(words, i);
    if (hit !== null && hit.to <= target.from) {
      found = hit.item;
      i = hit.to - 1;
    }
  }
  if (found !== null) return found;
  const inside = trie.longest(words, target.from);
  if (inside !== null && inside.to <= target.to && target.to - target.from > 1) return inside.item;
  const hit = trie.longest(words, target.to);
  return hit !== null &&
    hit.to <= clause.to &&
    hit.item === 'severe' &&
    /^(badly|severely|completely|right|all|deeply|heavily)/.test(words[target.to] ?? '')
    ? hit.item
    : null;
}

/** "two of six", "three missing". */
function extentNear(
  target: SensePiece,
  clause: Clause,
  tokens: readonly Token[],
): ConditionSaid['extent'] {
  const words = wordsIn(tokens);
  const read = (i: number): { count: number; of: number | null; to: number } | null => {
    if (words[i] === 'a' && words[i + 1] === 'couple')
      return { count: 2, of: null, to: words[i + 2] === 'of' ? i + 3 : i + 2 };
    const one = numberAt(words, i);
    if (
      one === null ||
      one.part ||
      one.value < 1 ||
      one.value > 99 ||
      (words[i] === 'one' && words[i + 1] !== 'of')
    )
      return null;
    if (words[one.to] === 'of' || words[one.to] === 'out') {
      let k = one.to + 1;
      while (words[k] === 'of' || words[k] === 'the') k += 1;
      const all = numberAt(words, k);
      if (all !== null && all.value >= one.value)
        return { count: one.value, of: all.value, to: all.to };
    }
    return { count: one.value, of: null, to: one.to };
  };
  for (let i = Math.max(clause.from, target.from - 7); i < target.from; i += 1) {
    const r = read(i);
    if (r === null || clause.items.some((it) => it.to === i)) continue;
    // "three has dark powder" counts on from a numbered place.
    if (/^(is|has|got)$/.test(words[r.to] ?? '')) continue;
    const between = words.slice(r.to, target.from);
    if (r.of !== null || between.length <= 3) {
      if (between.some((w) => /^(psi|quarts?|inch(es)?|percent|gallons?|mm|aft|above)$/.test(w)))
        continue;
      return { count: r.count, of: r.of };
    }
  }
  const behind = read(target.to);
  if (behind !== null && behind.of !== null && behind.to <= clause.to)
    return { count: behind.count, of: behind.of };
  return null;
}

/** Whether the words name an aspect of the check and are followed by their verdict ("slack good"). */
function namesAspect(
  check: Check,
  from: number,
  to: number,
  tokens: readonly Token[],
  clause: Clause,
): string | null {
  const map = aspectsOf(check);
  const own = tokens
    .slice(from, to)
    .map((t) => stem(t.word))
    .join(' ');
  const aspect = map.phrases.find((p) => p.words.join(' ') === own)?.aspect;
  if (aspect === undefined) return null;
  let i = to;
  while (
    i < clause.to &&
    /^(is|are|looks?|and|all|both|also|seems?|feels?|still|very|nice|nicely|quite|has|been)$/.test(
      tokens[i]?.word ?? '',
    )
  ) {
    i += 1;
  }
  const next = clause.preds.find((p) => p.from === i || (p.from < i && p.to > i));
  if (next === undefined) return null;
  if (next.senses.some((s) => s.kind === 'verdict' && verdictEntry(s.id)?.aspect === undefined))
    return aspect;
  // "condition and slack good": an aspect in a row of aspects.
  const further = namesAspect(check, next.from, next.to, tokens, clause);
  return further === null ? null : aspect;
}

/** What the predicates of a clause say about a check; null for something unplaced. */
export function saidOf(
  clause: Clause,
  entry: CheckEntry | null,
  tokens: readonly Token[],
  raw: readonly string[],
  named: boolean,
): Said {
  const why: string[] = [];
  const check = entry?.check ?? null;
  const signs = entry?.signs ?? [];
  const conditions: ConditionSaid[] = [];
  let doubt: string | null = null;
  let severity: Severity | null = null;
  const goods: { piece: SensePiece; entry: VerdictEntry }[] = [];
  const bads: { piece: SensePiece; entry: VerdictEntry }[] = [];
  const aspectsNamed: { aspect: string; at: number }[] = [];
  const map = check === null ? null : aspectsOf(check);
  if (check !== null && map !== null) {
    // Aspects named by words that are in no lexicon entry ("level and colour good").
    const words = wordsIn(tokens).slice(clause.from, clause.to).map(stem);
    for (const phrase of map.phrases) {
      for (let i = clause.from; i + phrase.words.length <= clause.to; i += 1) {
        if (!phrase.words.every((w, k) => words[i - clause.from + k] === w)) continue;
        if (clause.items.some((it) => it.from <= i && i < it.to)) continue;
        const covered = clause.preds.some(
          (p) => p.from < i + phrase.words.length && p.to > i && speaksHere(p),
        );
        if (!covered) aspectsNamed.push({ aspect: phrase.aspect, at: i });
      }
    }
  }
  for (const piece of clause.preds) {
    for (const s of piece.senses) if (s.kind === 'severity') severity = s.severity;
    if (clause.places.some((p) => p.from <= piece.from && piece.to <= p.to)) continue;
    const pick = pickSense(piece, check, named);
    if (pick === null) continue;
    if (check !== null) {
      const aspect = namesAspect(check, piece.from, piece.to, tokens, clause);
      if (aspect !== null && pick.kind === 'condition') {
        aspectsNamed.push({ aspect, at: piece.from });
        why.push(`"${spanOf(tokens, raw, piece.from, piece.to).words}" names the aspect ${aspect}`);
        continue;
      }
    }
    const denied = deniedIn(clause, piece, tokens);
    if (pick.kind === 'condition') {
      if (denied.count > 1) {
        doubt = `denied twice: "${denied.cue ?? ''}"`;
        continue;
      }
      const present = denied.count === 0;
      const place = present ? placeOf(clause, piece, tokens, raw, clause.items) : null;
      const said = {
        condition: pick.id,
        sign: signOf(pick, signs),
        aspects: map === null ? [] : [...map.about(pick.id)],
        present,
        degree: present ? degreeNear(piece, clause, tokens) : null,
        extent: present ? extentNear(piece, clause, tokens) : null,
        place: place?.text ?? null,
        span: spanOf(tokens, raw, piece.from, piece.to),
      };
      const twin = conditions.find(
        (c) => c.condition === said.condition && c.present === said.present,
      );
      if (twin === undefined) conditions.push(said);
      why.push(
        present
          ? `"${said.span.words}" is ${pick.id}, present`
          : `"${said.span.words}" is ${pick.id}, denied by "${denied.cue ?? ''}" (R3)`,
      );
      continue;
    }
    const verdict = verdictEntry(pick.id);
    if (verdict === undefined) continue;
    if (denied.count > 0 && denied.near) {
      if (denied.count > 1) doubt = `denied twice: "${denied.cue ?? ''}"`;
      else bads.push({ piece, entry: verdict });
    } else goods.push({ piece, entry: verdict });
  }
  for (const { piece, entry: denied } of bads) {
    const span = spanOf(tokens, raw, piece.from, piece.to);
    if (denied.actOnly) {
      doubt = `"${span.words}" was denied: not done?`;
      continue;
    }
    conditions.push({
      condition: denied.opposite,
      sign: signOf(
        { kind: 'condition', id: denied.opposite, weak: false, sign: null, checks: null },
        signs,
      ),
      aspects: map === null ? [] : [...map.about(denied.opposite)],
      present: true,
      degree: null,
      extent: null,
      place: null,
      span,
    });
    why.push(`"${span.words}" denied: ${denied.opposite}`);
  }
  return {
    verdict: verdictOf(goods, bads, check, aspectsNamed, tokens, raw, why),
    conditions,
    acts: actsIn(clause, tokens),
    severity,
    doubt,
    why,
  };
}

type ConditionSense = Extract<Sense, { kind: 'condition' }>;
type VerdictSense = Extract<Sense, { kind: 'verdict' }>;

/** The sense that fits the check: its own sign first, an aspect that it declares, then the general one. */
function pickSense(
  piece: SensePiece,
  check: Check | null,
  named: boolean,
): ConditionSense | VerdictSense | null {
  const conditions = piece.senses.filter((s): s is ConditionSense => s.kind === 'condition');
  const own = conditions.find(
    (s) => s.sign !== null && check !== null && (s.checks === null || s.checks.includes(check.id)),
  );
  if (own !== undefined) return own;
  const plain = conditions.filter((s) => s.sign === null || s.checks === null || check === null);
  const verdicts = piece.senses.filter((s): s is VerdictSense => s.kind === 'verdict');
  const map = check === null ? null : aspectsOf(check);
  const fit = verdicts.find((s) => {
    const kind = verdictEntry(s.id)?.aspect;
    return map !== null && kind !== undefined && map.of(kind).length > 0;
  });
  if (fit !== undefined) return fit;
  const general = verdicts.find((s) => verdictEntry(s.id)?.aspect === undefined);
  if (general !== undefined) return general;
  const strong = plain.find((s) => !s.weak) ?? (named ? plain[0] : undefined);
  const usable = verdicts.filter((v) => !v.weak || named);
  const about = usable.find((s) => {
    const entry = verdictEntry(s.id);
    return (
      map !== null &&
      entry?.aspect !== undefined &&
      speaksFor(map, entry.aspect, entry.opposite).length > 0
    );
  });
  if (about !== undefined) return about;
  // A word that is a condition and a verdict ("open"): a finding unless the check declares the verdict's aspect.
  if (strong?.weak === true && usable.length > 0 && check?.aspects.length === 0)
    return usable[0] ?? null;
  return strong ?? usable[0] ?? null;
}

/** The sign of the catalogue that a condition means at a check. */
function signOf(sense: ConditionSense, signs: readonly Sign[]): string | null {
  if (sense.sign !== null) return sense.sign;
  return signs.find((sign) => sign.conditions.includes(sense.id))?.id ?? null;
}

/** Aspects of a specific verdict: its own kind, else those its opposite condition speaks about ("clear" for "not blocked"). */
function speaksFor(map: AspectMap, kind: string, opposite: string): readonly string[] {
  const own = map.of(kind);
  return own.length > 0 ? own : map.about(opposite);
}

function verdictOf(
  goods: readonly { piece: SensePiece; entry: VerdictEntry }[],
  bads: readonly { piece: SensePiece; entry: VerdictEntry }[],
  check: Check | null,
  named: readonly { aspect: string; at: number }[],
  tokens: readonly Token[],
  raw: readonly string[],
  why: string[],
): Verdict | null {
  const all = goods.length > 0 ? goods : bads.filter((b) => !b.entry.actOnly);
  const first = all[0];
  const last = all[all.length - 1];
  if (first === undefined || last === undefined) return null;
  const span = spanOf(tokens, raw, first.piece.from, last.piece.to);
  const good = bads.filter((b) => !b.entry.actOnly).length === 0;
  const found = good ? goods : bads;
  const real = found.filter((g) => !g.entry.actOnly);
  const actOnly = real.length === 0;
  const aspects = new Set<string>();
  if (check !== null && check.aspects.length > 0) {
    const map = aspectsOf(check);
    for (const { entry, piece } of actOnly ? found : real) {
      if (entry.aspect === undefined) {
        const last = Math.max(-1, ...found.map((f) => f.piece.to).filter((to) => to <= piece.from));
        const own = named.filter((n) => n.at >= last && n.at < piece.from);
        if (own.length > 0) for (const n of own) aspects.add(n.aspect);
        else if (map.general !== null) aspects.add(map.general);
      } else for (const id of speaksFor(map, entry.aspect, entry.opposite)) aspects.add(id);
    }
  }
  why.push(
    actOnly
      ? `"${span.words}" says that it was done, not what was found`
      : `"${span.words}" is a ${good ? 'good' : 'bad'} verdict${aspects.size > 0 ? ` on ${[...aspects].join(', ')}` : ''}`,
  );
  return { good, aspects: [...aspects], actOnly, span };
}

/** Acts that the words name. */
export function actsIn(clause: Clause, tokens: readonly Token[]): Act[] {
  const trie = tries().acts;
  const words = wordsIn(tokens);
  const out = new Set<Act>();
  for (let i = clause.from; i < clause.to; i += 1) {
    if (clause.items.some((it) => it.from <= i && i < it.to)) continue;
    const hit = trie.longest(words, i);
    if (hit === null || hit.to > clause.to) continue;
    out.add(hit.item);
    i = hit.to - 1;
  }
  return [...out];
}
