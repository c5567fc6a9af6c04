import type { Scene } from '#shared/scene';
import type { Observation, Statement } from '#shared/statement';
import { canWait } from '#shared/doubt';
import { FIRST_SCENE } from '#shared/scene';
import { SAID, TAKEN_BACK, TOLD, TURNS, type Done, type Talk } from '#shared/talk';
import type { Roster } from '../matches/roster.ts';
import { settled } from '../scores/belief.ts';

/** The scene after an utterance was heard: a new turn, and the belief moved by its words. */
export function heardIn(scene: Scene, heard: string, text: string, belief: number[]): Scene {
  const { talk } = scene;
  const was = talk.turns.at(-1)?.heard === heard ? talk.was : talk.belief;
  const turn = { heard, text, said: {} };
  return { ...scene, talk: { ...talk, turns: [...talk.turns, turn].slice(-TURNS), belief, was } };
}

/** The scene before an utterance that is in it already: the log has its words before they are read (R10). */
export function unheard(scene: Scene, heard: string): Scene {
  const { talk } = scene;
  if (talk.turns.at(-1)?.heard !== heard) return scene;
  const turns = talk.turns.filter((t) => t.heard !== heard);
  return { ...scene, talk: { ...talk, turns, belief: talk.was } };
}

/** The scene after a statement: the same whether it was just read or comes from the log. */
export function followed(scene: Scene, statement: Statement, roster: Roster): Scene {
  return remembered(moved(scene, statement, roster), statement, roster);
}

function moved(scene: Scene, statement: Statement, roster: Roster): Scene {
  switch (statement.kind) {
    case 'observation':
      return observed(scene, statement, roster);
    case 'two-candidates':
      return {
        ...scene,
        last: statement.said,
        lastId: statement.id,
        talk: statement.candidates.reduce(
          (talk, c) => noted(talk, c.check, SAID.asked, [], roster),
          scene.talk,
        ),
      };
    case 'arrival': {
      const station = roster.byKey.get(`station:${statement.station}`);
      const { talk } = scene;
      return {
        ...scene,
        station: statement.station,
        check: null,
        instances: [],
        last: null,
        talk: {
          ...talk,
          at: statement.station,
          belief: station === undefined ? talk.belief : settled(talk.belief, station.stationIndex),
        },
      };
    }
    case 'set-aside':
      return {
        ...scene,
        station: roster.byKey.get(statement.check)?.station.id ?? scene.station,
        check: statement.check,
        instances: statement.instances,
        lastId: statement.id,
      };
    case 'retraction':
      return { ...scene, lastId: null, last: null, said: unsaid(scene, statement.of) };
    case 'clearance':
      return scene;
    case 'rating':
      return { ...scene, lastId: statement.id };
    case 'command':
      return statement.command === 'begin' ? { ...FIRST_SCENE, squawked: scene.squawked } : scene;
    case 'circumstance':
    case 'not-understood':
      return scene;
  }
}

const counts = (o: Observation): boolean =>
  o.force === 'result' && (o.verdict !== null || o.conditions.length > 0 || o.values.length > 0);

function observed(scene: Scene, o: Observation, roster: Roster): Scene {
  const question =
    scene.question !== null && o.answers === scene.question.id ? null : scene.question;
  const found = o.conditions.some((c) => c.present) || o.verdict?.good === false;
  const well = o.verdict?.good === true || o.conditions.some((c) => !c.present);
  const doubt = o.doubtful !== null;
  const what =
    o.force !== 'result'
      ? SAID.talk
      : SAID.result |
        (well && !doubt ? SAID.good : 0) |
        (found ? SAID.finding : 0) |
        (doubt ? SAID.asked : 0);
  const base = { ...scene, question };
  if (o.about.kind === 'unplaced') return counts(o) ? { ...base, last: o, lastId: o.id } : base;
  if (o.about.kind === 'station') {
    const talk = noted(scene.talk, `station:${o.about.station}`, what, [], roster);
    if (o.force !== 'result') return { ...base, talk };
    const { station } = o.about;
    return { ...base, talk, station, check: null, instances: [], last: o, lastId: o.id };
  }
  // What is settled for a station behind the speaker carries nobody back to it.
  const recap = scene.question?.kind === 'recap' && o.answers === scene.question.id;
  const { check, which } = o.about;
  const instances = which.how === 'plural' ? [] : which.instances;
  const talk = noted(scene.talk, check, what, instances, roster);
  // Teaching, the past and hearsay may wander: they move the speaker nowhere.
  if (o.force !== 'result') return { ...base, talk };
  const done = scene.said[check] ?? [];
  const said =
    counts(o) && which.how !== 'plural'
      ? { ...scene.said, [check]: [...new Set([...done, ...instances])] }
      : scene.said;
  if (recap) return { ...base, said };
  // Nor does an answer that comes late: where the speaker is now was told since.
  const asked = o.answers === null ? undefined : scene.talk.told.findLast((t) => t.id === o.amends);
  const home = roster.byKey.get(check)?.station.id ?? scene.station;
  const same = asked?.about.kind === 'check' && asked.about.check === check;
  const stays = same && home !== scene.station;
  return {
    ...base,
    talk: stays ? { ...talk, belief: scene.talk.belief, at: scene.talk.at } : talk,
    station: stays ? scene.station : home,
    check,
    instances,
    said,
    last: o,
    lastId: counts(o) || doubt ? o.id : scene.lastId,
  };
}

/** What was decided, entered in the last turn and for good. */
function noted(
  talk: Talk,
  key: string,
  what: number,
  places: readonly string[],
  roster: Roster,
): Talk {
  const turns = talk.turns.map((turn, i) => {
    if (i < talk.turns.length - 1) return turn;
    const old = turn.said[key];
    const row = {
      what: (old?.what ?? 0) | what,
      places: [...new Set([...(old?.places ?? []), ...places.filter((p) => p !== 'once')])],
    };
    return { ...turn, said: { ...turn.said, [key]: row } };
  });
  const member = roster.byKey.get(key);
  const result = (what & SAID.result) !== 0 && member !== undefined;
  return {
    ...talk,
    turns,
    ever: { ...talk.ever, [key]: (talk.ever[key] ?? 0) | what },
    belief:
      result && talk.belief.length > 0 ? settled(talk.belief, member.stationIndex) : talk.belief,
    at: result && talk.at !== null && talk.at !== member.station.id ? null : talk.at,
  };
}

/** Places counted by a statement that was taken back are open again. */
function unsaid(scene: Scene, of: string): Scene['said'] {
  const gone = scene.talk.done.flatMap((d) => d.statements).find((s) => s.id === of);
  if (gone === undefined || gone.check === null) return scene.said;
  const rest = (scene.said[gone.check] ?? []).filter((i) => !gone.places.includes(i));
  return { ...scene.said, [gone.check]: rest };
}

/** What can be taken back, what happened to the aircraft, and which doubts wait. */
function remembered(scene: Scene, s: Statement, roster: Roster): Scene {
  const { talk } = scene;
  if (s.kind === 'command') return scene;
  if (s.kind === 'retraction')
    return {
      ...scene,
      talk: {
        ...talk,
        done: talk.done
          .map((d) => ({ ...d, statements: d.statements.filter((x) => x.id !== s.of) }))
          .filter((d) => d.statements.length > 0),
        events: talk.events
          .filter((e) => e.statement !== s.of)
          .map((e) => (e.cleared === s.of ? { ...e, cleared: null } : e)),
        waiting: talk.waiting.filter((o) => o.id !== s.of),
      },
    };
  if (!changes(s)) return scene;
  const done = doneWith(talk, s);
  if (s.kind === 'clearance') {
    const events = talk.events.map((e) => (e.statement === s.of ? { ...e, cleared: s.id } : e));
    return { ...scene, talk: { ...talk, done, events } };
  }
  const own = s.kind === 'two-candidates' ? s.said : s.kind === 'observation' ? s : null;
  const told = own === null ? talk.told : [...talk.told, { ...own, id: s.id }].slice(-TOLD);
  if (s.kind !== 'observation') return { ...scene, talk: { ...talk, done, told } };
  return {
    ...scene,
    talk: {
      ...talk,
      done,
      told,
      events: [...talk.events.filter((e) => e.statement !== s.amends), ...happenedIn(s, roster)],
      waiting: waitingWith(talk.waiting, s, roster),
    },
  };
}

/** Whether the sheet is another one after a statement. */
function changes(s: Statement): boolean {
  if (s.kind === 'observation') return counts(s) || (s.force === 'result' && s.doubtful !== null);
  return ['two-candidates', 'rating', 'set-aside', 'circumstance', 'clearance'].includes(s.kind);
}

function doneWith({ done, turns }: Talk, s: Statement): Done[] {
  const about =
    s.kind === 'two-candidates' ? s.said.about : s.kind === 'observation' ? s.about : null;
  const row = {
    id: s.id,
    check: about?.kind === 'check' ? about.check : s.kind === 'set-aside' ? s.check : null,
    places:
      about?.kind === 'check' ? about.which.instances : s.kind === 'set-aside' ? s.instances : [],
  };
  const last = done.at(-1);
  // What is taken back is told whole, and not only the words that made a statement.
  const said = turns.findLast((t) => t.heard === s.heard && t.text.includes(s.span.words));
  const words = said?.text ?? s.span.words;
  const rows =
    last?.heard === s.heard
      ? [
          ...done.slice(0, -1),
          {
            ...last,
            words: last.words.includes(words) ? last.words : `${last.words} ${words}`,
            statements: [...last.statements, row],
          },
        ]
      : [...done, { heard: s.heard, words, statements: [row] }];
  return rows.slice(-TAKEN_BACK);
}

/** What happened to the whole aircraft: signs of the catalogue that may be told anywhere. */
function happenedIn(o: Observation, { catalogue }: Roster): Talk['events'] {
  if (o.force !== 'result' || o.doubtful !== null) return [];
  return o.conditions.flatMap((c) =>
    !c.present
      ? []
      : c.happened === true
        ? [{ statement: o.id, sign: c.span.words, cleared: null }]
        : c.sign !== null && catalogue.signs.some((s) => s.anywhere && s.id === c.sign)
          ? [{ statement: o.id, sign: c.sign, cleared: null }]
          : [],
  );
}

/** A doubt waits until its check is spoken of without one. */
function waitingWith(
  waiting: readonly Observation[],
  o: Observation,
  { catalogue }: Roster,
): Observation[] {
  const clear = o.doubtful === null && counts(o);
  const rest = waiting.filter((w) => w.id !== o.amends && !(clear && covers(o, w)));
  return canWait(catalogue, o) ? [...rest, o] : rest;
}

/** Whether one observation speaks of the check and the places of another. */
function covers(o: Observation, w: Observation): boolean {
  if (o.about.kind !== 'check' || w.about.kind !== 'check' || o.about.check !== w.about.check)
    return false;
  const { which } = w.about;
  const said = o.about.which;
  return (
    said.how === 'all' ||
    which.instances.length === 0 ||
    which.instances.some((i) => said.instances.includes(i))
  );
}
