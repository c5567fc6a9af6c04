import { lexicon } from '../lexicon.ts';
import { placeWordsOf } from '../matches/heardas.ts';
import type { Member } from '../matches/roster.ts';
import { stem } from '../names.ts';
import type { Observation, Statement } from '#shared/statement';
import type { Token } from '../tokens.ts';
import type { Turning } from './moves.ts';
import type { Parted } from './parted.ts';
import { placesSaid } from './placed.ts';
import { amending } from './restated.ts';
import { notSo } from './retracted.ts';

/**
 * "Actually the left aileron", "no, it's the rear one", "wrong side": the same thing, at its other
 * side or place. Nothing else may be said beside it: with "too" it is another fault (R4).
 */
export function otherSide(
  t: Turning,
  last: Observation,
  parted: Parted,
  moved: (to: Member) => Observation,
): Statement[] | null {
  if (last.about.kind !== 'check') return null;
  const member = t.roster.byKey.get(last.about.check);
  if (member === undefined) return null;
  const rest = placesOnly(t, last, member, parted.is);
  if (rest === null) return null;
  const named = rest.length < parted.is.length || parted.other;
  // A name behind no more than an "actually" puts right what was just told, and nothing before it.
  if (named && !parted.plain && !isJustTold(t, last)) return null;
  if (!parted.not.every((x) => isOwn(member, x))) return null;
  if (rest.length === 0) return parted.other ? theOther(t, last, member, moved, parted) : null;
  const { which } = last.about;
  const own = placesSaid(member, rest);
  if (own !== null) {
    if (which.how === 'named' && own.join() === which.instances.join()) return null;
    return [at(t, last, member, own)];
  }
  const sides = placeWordsOf(rest).sides;
  const twin = twinAt(t, member, sides);
  if (twin === null) return null;
  return named ? unsure(t, last, moved(twin), parted) : [moved(twin)];
}

/** The one that has its name at the sides that are said; null where none has, or several. */
export function twinAt(
  t: Turning,
  member: Member,
  sides: readonly (string | null)[],
): Member | null {
  const twins = twinsOf(t, member).filter((m) =>
    sides.every((side) => side !== null && isAt(m, side) && !isAt(member, side)),
  );
  return twins.length === 1 ? (twins[0] ?? null) : null;
}

/** Words of sides and places that are said of it, and nothing else; null where more is. */
export function placesOnly(
  t: Turning,
  last: Observation,
  member: Member,
  is: readonly Token[],
): Token[] | null {
  const { having } = lexicon().corrections;
  const again = toldAgain(t, last);
  const marks = placeWordsOf(is);
  const isPlace = (x: Token, i: number): boolean =>
    (marks.sides[i] ?? marks.orders[i] ?? marks.counts[i] ?? null) !== null ||
    marks.all[i] === true ||
    member.instanceWords.some((own) => own.includes(stem(x.word)));
  const names = new Set(member.names.flat());
  const rest = is.filter((x, i) => isPlace(x, i) && !again.has(x));
  const known = is.every(
    (x, i) => isPlace(x, i) || names.has(stem(x.word)) || again.has(x) || having.includes(x.word),
  );
  return known ? rest : null;
}

/** Words that name the fault again which was told of it. */
export function toldAgain({ inputs, words }: Turning, last: Observation): ReadonlySet<Token> {
  const told = new Set(last.conditions.filter((c) => c.present).map((c) => c.condition));
  const { having } = lexicon().corrections;
  const again = inputs.conditions.filter((c) => c.denials === 0 && told.has(c.id));
  return new Set(
    words.tokens.filter(
      (x, i) =>
        again.some((c) => i >= c.from && i < c.to) || (again.length > 0 && having.includes(x.word)),
    ),
  );
}

/** Of two the one that was not said. */
function theOther(
  t: Turning,
  last: Observation,
  member: Member,
  moved: (to: Member) => Observation,
  parted: Parted,
): Statement[] | null {
  if (last.about.kind !== 'check') return null;
  const { instances } = last.about.which;
  if (member.instances.length === 2) {
    const left = member.instances.filter((i) => !instances.includes(i));
    return left.length === 1 ? [at(t, last, member, left)] : null;
  }
  const twins = twinsOf(t, member);
  const [twin] = twins;
  return twins.length === 1 && twin !== undefined ? unsure(t, last, moved(twin), parted) : null;
}

const twinsOf = ({ roster }: Turning, member: Member): Member[] =>
  member.twins.flatMap((i) => {
    const twin = roster.members[i];
    return twin === undefined || twin.check === null ? [] : [twin];
  });

const isAt = (m: Member, side: string): boolean => m.sides.has(side) || m.stationSides.has(side);
const isOwn = (m: Member, { word }: Token): boolean => {
  const [side] = placeWordsOf([{ word, at: 0, gap: 0, asks: false, raw: word }]).sides;
  return (
    m.names.flat().includes(stem(word)) ||
    m.instanceWords.some((own) => own.includes(side ?? stem(word))) ||
    isAt(m, side ?? stem(word))
  );
};

function at(t: Turning, last: Observation, member: Member, own: readonly string[]): Observation {
  if (last.about.kind !== 'check') return last;
  const how = own.length === member.instances.length ? ('all' as const) : ('named' as const);
  const about = { ...last.about, which: { how, instances: [...own] } };
  return amending(t, last, { about }, `corrected: it was ${own.join(' and ')}`);
}

/**
 * A good that is moved by no more than an "actually" and a name may be what is looked at next: what
 * was called good is open again, and the other waits and is asked about when the station is left
 * (R1). A fault counts at once (R4).
 */
function unsure(
  t: Turning,
  last: Observation,
  said: Observation,
  { plain, points, other }: Parted,
): Statement[] {
  const ill = said.conditions.some((c) => c.present) || said.verdict?.good === false;
  if (ill || said.verdict?.good !== true || t.breath === true || plain || points || other)
    return [said];
  return [
    notSo(t, said.span, last, 'corrected: it was another one'),
    {
      ...said,
      amends: null,
      doubtful: 'a correction may be meant, or what comes next',
      waits: true,
    },
  ];
}

/** Whether it was told in this utterance or the one before. */
export function isJustTold({ scene, heard }: Turning, last: Observation): boolean {
  const before = scene.talk.turns.findLast((turn) => turn.heard !== heard.id);
  return last.heard === heard.id || last.heard === before?.heard;
}
