import { assembled } from './assemble.ts';
import type { Drafted, Part } from './draft.ts';
import { isName, stated } from './items.ts';

/** What begins a station or a check, where it is said at the head of an utterance or behind a pause. */
const STATION = /^(?:(?:new|next|another)\s+)?station\b[\s,:]*/i;
const CHECK = /^(?:(?:new|next|another)\s+)?(?:check|item)\b[\s,:]*/i;
const CAUTION = /^(?:caution|warning)\b[\s,:]*/i;

/**
 * A draft out of what was dictated on the way round the aircraft, an utterance
 * a line: "new station, left wing; check, pitot tube, cover off and clear".
 * What says neither station nor check is a check of the station, when it reads as one.
 */
export function draftFromTalk(utterances: readonly string[]): Drafted {
  const parts = utterances.flatMap((said, i) =>
    said
      .split(
        /\s*[;.]\s+|\s+(?=(?:new|next|another) (?:station|check)\b)|,\s*(?=(?:new |next )?station\b)/i,
      )
      .map((clause) => clause.trim().replace(/[.;]$/, ''))
      .filter((clause) => clause !== '')
      .map((clause) => partOf(clause, [i + 1])),
  );
  const draft = assembled(parts, utterances.join('\n'));
  return draft.stations.length > 0
    ? { ok: true, draft }
    : {
        ok: false,
        error:
          'No check was heard. Say "new station" and its name, then "check", the thing, and what is done with it; your words are still here.',
      };
}

function partOf(clause: string, lines: readonly number[]): Part {
  const station = STATION.exec(clause);
  if (station !== null && isName(clause.slice(station[0].length)))
    return { kind: 'station', name: clause.slice(station[0].length), lines };
  const caution = CAUTION.exec(clause);
  if (caution !== null) return { kind: 'caution', text: clause.slice(caution[0].length), lines };
  const check = CHECK.exec(clause);
  const rest = check === null ? clause : clause.slice(check[0].length);
  const comma = rest.indexOf(',');
  const named =
    comma > 0 && isName(rest.slice(0, comma))
      ? { name: rest.slice(0, comma), action: rest.slice(comma + 1).trim() }
      : stated(rest);
  if (named !== null) return { kind: 'check', item: { ...named, lines } };
  if (check !== null && isName(rest))
    return { kind: 'check', item: { name: rest, action: '', lines } };
  return { kind: 'left', text: clause, lines };
}
