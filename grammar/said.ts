import type { Act, Check, Sign } from '#shared/catalogue';
import type { Severity } from '#shared/severity';
import type { ConditionSaid, Verdict } from '#shared/statement';
import { aspectsOf, type AspectMap } from './aspects.ts';
import type { Clause } from './clauses.ts';
import { deniedIn } from './denied.ts';
import { degreeNear, extentNear, placeOf } from './details.ts';
import { joint } from './joints.ts';
import { lexicon, type VerdictEntry } from './lexicon.ts';
import { stem, type CheckEntry } from './names.ts';
import type { Sense, SensePiece } from './pieces.ts';
import { speaking } from './predicates.ts';
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

let acts: Trie<Act> | null = null;
let verdictById: Map<string, VerdictEntry> | null = null;

function actTrie(): Trie<Act> {
  if (acts !== null) return acts;
  acts = new Trie();
  for (const [act, say] of Object.entries(lexicon().acts) as [Act, string[]][])
    for (const p of say) acts.add(phraseWords(p), act);
  return acts;
}

export function verdictEntry(id: string): VerdictEntry | undefined {
  verdictById ??= new Map(lexicon().verdicts.map((v) => [v.id, v]));
  return verdictById.get(id);
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
  let off: SensePiece | null = null;
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
          (p) => p.from < i + phrase.words.length && p.to > i && speaking(p),
        );
        if (!covered) aspectsNamed.push({ aspect: phrase.aspect, at: i });
      }
    }
  }
  for (const piece of clause.preds) {
    for (const s of piece.senses) if (s.kind === 'severity') severity = s.severity;
    if (clause.places.some((p) => p.from <= piece.from && piece.to <= p.to)) continue;
    const pick = pickSense(piece, check, named, clause.items.length > 0);
    if (pick === null) continue;
    if (pick === 'off') {
      off = piece;
      continue;
    }
    if (pick === 'both') {
      doubt = `"${spanOf(tokens, raw, piece.from, piece.to).words}": good, or a finding?`;
      continue;
    }
    if (check !== null) {
      const aspect = namesAspect(check, piece.from, piece.to, tokens, clause);
      if (aspect !== null && pick.kind === 'condition') {
        aspectsNamed.push({ aspect, at: piece.from });
        why.push(`"${spanOf(tokens, raw, piece.from, piece.to).words}" names the aspect ${aspect}`);
        continue;
      }
    }
    const denied = deniedIn(clause, piece, tokens);
    const wanted = check === null ? null : wantedBy(check, tokens, piece);
    if (wanted !== null && denied.count === 0) {
      const good = verdictEntry('good');
      if (good !== undefined) goods.push({ piece, entry: good });
      aspectsNamed.push({ aspect: wanted, at: piece.from - 1 });
      continue;
    }
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
    } else if (verdict.aspect === 'removed' && check !== null && isWorked(check, map))
      // "The landing light's out": nothing there is meant to be taken off.
      doubt = `"${spanOf(tokens, raw, piece.from, piece.to).words}": taken off, or not working`;
    else goods.push({ piece, entry: verdict });
  }
  if (off !== null && conditions.length + goods.length + bads.length === 0)
    doubt ??= `"${spanOf(tokens, raw, off.from, off.to).words}": removed, or missing?`;
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

/**
 * The sense that fits the check: its own sign first, an aspect that it declares, then
 * the general one. "Both" where the words are good on one of its aspects and a finding
 * on another ("dry", of an oil level and of leaks), or may be either and fit neither.
 */
function pickSense(
  piece: SensePiece,
  check: Check | null,
  named: boolean,
  beside: boolean,
): ConditionSense | VerdictSense | 'both' | 'off' | null {
  const conditions = piece.senses.filter((s): s is ConditionSense => s.kind === 'condition');
  const own = conditions.find(
    (s) => s.sign !== null && check !== null && (s.checks === null || s.checks.includes(check.id)),
  );
  if (own !== undefined) return own;
  const map = check === null ? null : aspectsOf(check);
  const fits = (s: ConditionSense): number => map?.fit(s.id) ?? 0;
  const plain = conditions.filter(
    (s) =>
      (s.sign === null || s.checks === null || check === null) &&
      (s.either === undefined || fits(s) === 2),
  );
  const said = piece.senses.filter((s): s is VerdictSense => s.kind === 'verdict');
  // "Took off", "open", "moves": good of what is named beside it and has an aspect for it, else not a verdict.
  const verdicts = said.filter((s) => s.beside !== true);
  const fit = (beside ? said : verdicts).find((s) => {
    const kind = verdictEntry(s.id)?.aspect;
    return map !== null && kind !== undefined && map.of(kind).length > 0;
  });
  if (fit !== undefined) return plain.some((s) => s.either !== undefined) ? 'both' : fit;
  const general = verdicts.find((s) => verdictEntry(s.id)?.aspect === undefined);
  if (general !== undefined) return general;
  const strong = bestOf(plain, fits, named);
  const usable = verdicts.filter((v) => !v.weak || named);
  const about = usable.find((s) => {
    const entry = verdictEntry(s.id);
    return (
      map !== null &&
      entry?.aspect !== undefined &&
      speaksFor(map, entry.aspect, entry.opposite).length > 0
    );
  });
  if (about !== undefined && strong?.either === undefined) return about;
  // A word that is a condition and a verdict ("open"): a finding unless the check declares the verdict's aspect.
  if (strong?.weak === true && usable.length > 0 && check?.aspects.length === 0)
    return usable[0] ?? null;
  const picked = strong ?? usable[0] ?? null;
  const open =
    picked === null &&
    named &&
    map !== null &&
    map.ids.length > 0 &&
    conditions.some((s) => s.either === 'asks');
  // "The aileron is off": good of a cover, and of nothing else.
  const off =
    map !== null && map.general !== null && picked?.kind === 'verdict' && picked.id === 'removed';
  if (off) return 'off';
  return open ? 'both' : picked;
}

/**
 * Of a word that is several conditions ("blown", of a lamp and of a tyre) the one that
 * the check has an aspect for; words that mean it everywhere before those that need a name.
 */
function bestOf(
  plain: readonly ConditionSense[],
  fits: (s: ConditionSense) => number,
  named: boolean,
): ConditionSense | undefined {
  const strong = plain.filter((s) => !s.weak);
  const pool = named ? [...strong, ...plain.filter((s) => s.weak)] : strong;
  for (const wanted of [2, 1]) {
    const found = pool.find((s) => fits(s) === wanted);
    if (found !== undefined) return found;
  }
  return pool[0];
}

/** "Gear lever down", where the author asks for "down": the aspect that the word itself is, or null. */
function wantedBy(check: Check, tokens: readonly Token[], piece: SensePiece): string | null {
  const word = tokens[piece.to - 1]?.word ?? '';
  if (piece.to !== piece.from + 1 || !joint('wanted').has(word)) return null;
  const aspect = check.aspects.find((a) => [a.name, ...a.say].includes(word));
  // "Pitot open": nothing is in it. A door that is open is another thing.
  const open = word === 'open' ? aspectsOf(check).of('blockage')[0] : undefined;
  return aspect?.id ?? open ?? null;
}

/** Something that burns or runs, and is not taken off before the flight. */
function isWorked(check: Check, map: AspectMap | null): boolean {
  if (map === null || map.of('removed').length > 0) return false;
  return (
    map.of('operation').length > 0 ||
    phraseWords(check.name).some((w) => /^(lights?|lamps?|strobes?|beacons?|horn)$/.test(w))
  );
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
  const trie = actTrie();
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
