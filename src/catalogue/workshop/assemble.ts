import type { Draft, DraftCheck, DraftStation, LeftLine, Part } from './draft.ts';
import { checkOf, kindIn, placesIn, stationPlaces } from './guess.ts';
import { bare, tidy } from './items.ts';
import { nameIn } from './read-text.ts';

const UNNAMED = 'New catalogue';
/** Checks that came before any station. */
const FIRST_STATION = 'Aircraft';

/** Puts parts together to a draft. What belongs nowhere is left, in the order of its lines. */
export function assembled(parts: readonly Part[], text: string): Draft {
  const stations: {
    name: string;
    lines: number[];
    sides: readonly string[];
    caution: string | null;
    checks: DraftCheck[];
  }[] = [];
  const cautions: { text: string; lines: readonly number[] }[] = [];
  const titles: { text: string; lines: readonly number[] }[] = [];
  const left: LeftLine[] = [];
  for (const part of parts) {
    const here = stations.at(-1);
    switch (part.kind) {
      case 'station': {
        const { places, rest } = placesIn(part.name);
        const name = tidy(bare(rest)) || tidy(part.name);
        const same = stations.find((s) => s.name.toLowerCase() === name.toLowerCase());
        if (same === undefined)
          stations.push({ name, lines: [...part.lines], sides: places, caution: null, checks: [] });
        else {
          // The page says it again, as in a table: it goes on there, and is the latest.
          same.lines.push(...part.lines);
          stations.push(...stations.splice(stations.indexOf(same), 1));
        }
        break;
      }
      case 'check': {
        const to = here ?? { name: FIRST_STATION, lines: [], sides: [], caution: null, checks: [] };
        if (here === undefined) stations.push(to);
        to.checks.push(checkOf(part.item, to.sides));
        break;
      }
      case 'caution':
        if (here === undefined || here.caution !== null) cautions.push(part);
        else {
          here.caution = part.text;
          here.lines.push(...part.lines);
        }
        break;
      case 'title':
        titles.push(part);
        break;
      case 'left':
        for (const line of part.lines) left.push({ line, text: part.text });
    }
  }
  const name = nameIn(titles.map((t) => t.text));
  const kept = stations.filter((s) => s.checks.length > 0);
  for (const empty of stations.filter((s) => s.checks.length === 0))
    for (const line of empty.lines) left.push({ line, text: empty.name });
  const places = stationPlaces(kept.map((s) => s.name));
  return {
    name: name ?? UNNAMED,
    kind: kindIn(text),
    stations: kept.map((s, i): DraftStation => ({
      name: s.name,
      lines: s.lines,
      place: places[i] ?? { x: 50, y: 50 },
      caution: s.caution,
      checks: toldApart(s.checks),
    })),
    cautions,
    titleLines: titles.flatMap((t) => t.lines),
    left: left.sort((a, b) => a.line - b.line),
  };
}

/** Two checks of one name at one station cannot be told apart by ear: what is done there goes into the name. */
function toldApart(checks: readonly DraftCheck[]): DraftCheck[] {
  const key = (name: string) => name.toLowerCase();
  const count = new Map<string, number>();
  for (const c of checks) count.set(key(c.name), (count.get(key(c.name)) ?? 0) + 1);
  const used = new Set<string>();
  return checks.map((check) => {
    let { name } = check;
    const guesses = [...check.guesses];
    if ((count.get(key(name)) ?? 0) > 1) {
      const word = /\b(on|off|open|closed|up|down|[\p{L}]{4,})\b/iu.exec(check.action)?.[1];
      if (word !== undefined) name = `${name} ${word.toLowerCase()}`;
    }
    for (let n = 2; used.has(key(name)); n += 1) name = `${check.name} ${n}`;
    used.add(key(name));
    if (name !== check.name)
      guesses.push(`called “${name}”, because the station has two of that name`);
    return { ...check, name, guesses };
  });
}
