import type { Act, Catalogue } from '#shared/catalogue';
import type { DraftCheck, Item } from './draft.ts';
import { bare, tidy } from './items.ts';
import { measuresIn } from './measured.ts';
import { ASPECTS } from './trade.ts';

const ACTS: readonly (readonly [RegExp, Act])[] = [
  [
    /\b(free|freely|freedom|move(ment|s)?|full travel|play|rotate|opens|retracts?|operates?)\b/i,
    'move',
  ],
  [/\b(tight|feel|security|tension|slack|loose)\b/i, 'feel'],
  [/\b(listen|noise|sound)\b/i, 'listen'],
];

const SIDES = 'left|right|upper|lower|front|rear|forward|aft|inboard|outboard';
const BOTH_SIDES = new RegExp(
  `\\b(${SIDES})\\s*(?:and|&|/|,|\\+)\\s*(${SIDES})\\b|\\b(l)\\s*(?:and|&|/|\\+)\\s*(r)\\b`,
  'i',
);
const COUNTED = /\((?:all\s+)?(\d{1,2})\b[^)]*\)|\bx\s*(\d{1,2})\b/i;
/** More places of one thing than this are no count but a number of something else. */
const MOST_PLACES = 12;

/** One check out of a thing and its action, with everything that was guessed said in a sentence. */
export function checkOf(item: Item, stationSides: readonly string[]): DraftCheck {
  const guesses: string[] = [];
  const { places, rest } = placesIn(item.name);
  const all = places.length > 0 ? places : stationSides;
  if (all.length > 0) guesses.push(`made at each of ${all.length} places: ${all.join(', ')}`);
  const name = tidy(bare(rest)) || tidy(item.name);
  const { measures, unitless } = measuresIn(`${item.action} ${bracketsOf(item.name)}`, name);
  for (const m of measures) guesses.push(`“${m.said}” is ${limitWords(m.low, m.high)} ${m.unit}`);
  if (unitless !== null)
    guesses.push(
      `“${unitless}” is a limit without a unit: say of what, and give the measure a unit`,
    );
  const named = ASPECTS.filter(([p]) => p.test(item.action)).map(([, aspect]) => aspect);
  // One aspect is what any result speaks for anyhow; two have to be spoken for each.
  const aspects = named.length > 1 && /\b(and|,|&|\/)/.test(item.action) ? named : [];
  if (aspects.length > 0) guesses.push(`${aspects.join(' and ')} each have to be spoken for`);
  const acts = ACTS.filter(([p]) => p.test(item.action)).map(([, act]) => act);
  if (measures.length > 0) acts.push('measure');
  const done: Act[] = acts.length === 0 ? ['look'] : [...new Set<Act>(['look', ...acts])];
  if (done.length > 1) guesses.push(`done by ${done.join(', ')}`);
  return {
    name,
    lines: item.lines,
    action: item.action,
    aspects,
    acts: done,
    places: all,
    measures,
    caution: null,
    guesses,
  };
}

function bracketsOf(name: string): string {
  return [...name.matchAll(/\(([^)]*)\)/g)].map((m) => m[1] ?? '').join(' ');
}

/** Sides or a count in a name, and the name without them. "left tyre" alone is a name and no repeat. */
export function placesIn(name: string): { places: readonly string[]; rest: string } {
  const sides = BOTH_SIDES.exec(name);
  if (sides !== null) {
    const pair = [sides[1] ?? 'left', sides[2] ?? 'right'].map((s) => s.toLowerCase());
    const rest = name
      .replace(new RegExp(`[\\s,(]*${sides[0].replace(/[+/&]/g, '\\$&')}\\)?`, 'i'), ' ')
      .trim();
    return { places: [...new Set(pair)], rest: rest.replace(/^[,\s]+/, '') };
  }
  const count = COUNTED.exec(name);
  const n = Number(count?.[1] ?? count?.[2] ?? 0);
  if (n >= 2 && n <= MOST_PLACES)
    return {
      places: Array.from({ length: n }, (_, i) => String(i + 1)),
      rest: name.replace(COUNTED, ' '),
    };
  return { places: [], rest: name };
}

export function limitWords(low: number | null, high: number | null): string {
  if (low !== null && high !== null) return low === high ? `exactly ${low}` : `${low} to ${high}`;
  return low !== null ? `at least ${low}` : `at most ${String(high)}`;
}

/** Where stations of these names are likely to be, on the plan; the first that fits. x 0 left to 100 right, y 0 nose to 100 tail. */
const PLACES: readonly (readonly [RegExp, { readonly x: number; readonly y: number }])[] = [
  [
    /\b(left|port)\b.*\b(wing|gear|float|side)\b|\b(wing|gear|float|side)\b.*\b(left|port)\b/i,
    { x: 24, y: 36 },
  ],
  [
    /\b(right|starboard)\b.*\b(wing|gear|float|side)\b|\b(wing|gear|float|side)\b.*\b(right|starboard)\b/i,
    { x: 76, y: 36 },
  ],
  [/\b(tail boom|boom)\b/i, { x: 50, y: 68 }],
  [/\b(tail|empennage|fin|stabili[sz]er)\b/i, { x: 50, y: 86 }],
  [/\b(rotor head|main rotor|mast|transmission|pylon)\b/i, { x: 50, y: 40 }],
  [/\b(nose|propeller|cowling|front)\b/i, { x: 50, y: 8 }],
  [/\bengine\b/i, { x: 50, y: 14 }],
  [/\b(cabin|cockpit|interior|seat)\b/i, { x: 50, y: 26 }],
  [/\b(left|port)\b/i, { x: 30, y: 44 }],
  [/\b(right|starboard)\b/i, { x: 70, y: 44 }],
  [/\b(fuselage|hull|baggage)\b/i, { x: 50, y: 58 }],
  [/\b(undercarriage|gear|wheels?|floats?|skids?)\b/i, { x: 40, y: 46 }],
];
/** Two stations nearer than this, in plan units, cannot be told apart on the drawing. */
const APART = 7;

/** A place on the plan for each station, no two on top of each other. */
export function stationPlaces(names: readonly string[]): { x: number; y: number }[] {
  const out: { x: number; y: number }[] = [];
  names.forEach((name, i) => {
    const turn = (2 * Math.PI * i) / Math.max(1, names.length);
    const round = { x: 50 + 22 * Math.sin(turn), y: 48 - 36 * Math.cos(turn) };
    const known = PLACES.find(([p]) => p.test(name))?.[1] ?? round;
    let { x, y } = known;
    for (
      let step = 1;
      step <= 12 && out.some((o) => Math.hypot(o.x - x, o.y - y) < APART);
      step += 1
    ) {
      const side = step % 2 === 0 ? 1 : -1;
      x = known.x + side * APART * Math.ceil(step / 2) * 0.8;
      y = known.y + APART * Math.ceil(step / 2) * 0.6;
    }
    const within = (v: number) => Math.round(Math.min(96, Math.max(4, v)));
    out.push({ x: within(x), y: within(y) });
  });
  return out;
}

/** What kind of aircraft the words speak of; "other" when they do not say. */
export function kindIn(text: string): Catalogue['kind'] {
  const count = (p: RegExp) => (text.match(p) ?? []).length;
  if (count(/\b(gyroplane|gyrocopter|autogyro|pre-?rotator)\b/gi) > 0) return 'gyroplane';
  if (count(/\b(glider|sailplane|tow hook|tail dolly|air ?brakes?|release knob)\b/gi) > 0)
    return 'glider';
  if (count(/\b(helicopter|swashplate|cyclic|collective|tail rotor|skid shoes?)\b/gi) > 0)
    return 'helicopter';
  if (count(/\b(aeroplane|airplane|ailerons?|propeller|flaps?|seaplane|ultralight)\b/gi) > 0)
    return 'aeroplane';
  return 'other';
}
