import type { Heard } from '#shared/heard';
import { listeners, type Ear, type EarParts, type Off } from './ear.ts';
import { belongsTo, isSameWords, withOther } from './paired.ts';
import { realWait, type Wait } from './scripted.ts';

export interface PairParts extends EarParts {
  /** What is listened to first: its words are the utterance. */
  readonly first: Ear;
  /** What listens beside it, or one sentence why nothing does. Asked at each start. */
  second(): Promise<Ear | string>;
  readonly wait?: Wait;
}

/**
 * Seconds that words of the first wait for the second one, while it still hears
 * or computes the same sound. Not measured with a browser's recogniser: ours
 * takes 0.24 s of silence and some 0.5 s of computing for an utterance of 3.5 s
 * (tests/bench/LISTENING.md), so it mostly is done by then. Longer: every tone
 * comes later where noise keeps the second one hearing. Shorter: a slow device
 * never has two ears, and one alone decides.
 */
export const SECOND_WAITED = 1;
/**
 * Seconds that words of the second wait for the first, which has shown none.
 * Judged, not measured. Longer: an order that only the second heard, "hold",
 * comes later. Shorter: words of the first that come after it are weighed
 * against an utterance that has gone out.
 */
export const FIRST_WAITED = 3;
/** The same while the first shows words that are not final yet: a session ends after some 8 s of silence at the latest. */
export const FIRST_WAITED_SPEAKING = 10;
/**
 * Seconds before the first's words came in which something that the second
 * began to hear is the next utterance: recognisers need at least so much quiet
 * to end one. Judged. Too long: a short word is heard by one ear alone; too
 * short: the next sentence holds this one up.
 */
export const BEGUN_LATE = 0.5;
/** Seconds for which an utterance is known after it went out, for what comes late. */
const REMEMBERED = 30;

/** Words of the second, which wait for those of the first. */
interface Waiting {
  readonly heard: Heard;
  /** When they came. */
  readonly at: number;
  cancel: Off;
}

/**
 * Two recognisers on one sound, as one ear. The first one's words go out with
 * the second's beside them, as another reading; what only one of them heard
 * goes out too. What they say is settled by the reader, not here.
 */
export function pairEar(parts: PairParts): Ear {
  const { first } = parts;
  const wait = parts.wait ?? realWait;
  const out = listeners();
  let second: Ear | null = null;
  /** Whether the second one listens now. */
  let both = false;
  let wanted = false;
  let held = false;
  let firstDown = false;
  let scene: Parameters<Ear['expect']>[0] | null = null;
  let partial = '';
  let ownPartial = '';
  let state: 'listening' | 'hearing' | null = null;
  let said = '';
  /** Since when the second one hears something; null: it does not. */
  let hearingSince: number | null = null;
  let queue: { heard: Heard; late: boolean; cancel: Off }[] = [];
  let pool: Waiting[] = [];
  let losts: { from: number; to: number; cancel: Off }[] = [];
  /** What went out with the words of one alone. */
  let gone: { heard: Heard; by: 'first' | 'second'; at: number }[] = [];
  let offs: Off[] = [];

  function now(): number {
    return parts.seconds();
  }

  function remember(heard: Heard, by: 'first' | 'second'): void {
    gone = [...gone.filter((g) => now() - g.at < REMEMBERED), { heard, by, at: now() }];
  }

  /** An utterance of the first, with what the second made of the same sound. */
  function emit(heard: Heard): void {
    const mine = pool.filter((w) => belongsTo(w.heard, heard));
    for (const { cancel } of mine) cancel();
    pool = pool.filter((w) => !mine.includes(w));
    const before = gone.filter((g) => g.by === 'second' && belongsTo(g.heard, heard));
    if (mine.length > 0) {
      remember(heard, 'first');
      out.heard(
        withOther(
          heard,
          mine.map((w) => w.heard),
        ),
      );
      return;
    }
    if (before.length === 0) {
      remember(heard, 'first');
      out.heard(heard);
      return;
    }
    // Later than it was waited for: the second's words have gone out by themselves.
    const told = withOther(
      heard,
      before.map((g) => g.heard),
      true,
    );
    if (!isSameWords(heard, told)) out.heard(told);
  }

  /** Lets out, in order, what need not wait any longer. */
  function decide(): void {
    // Being closed, each waits for the last words of the other.
    if (!wanted) return;
    for (let head = queue[0]; head !== undefined; head = queue[0]) {
      const began = hearingSince;
      const busy = both && began !== null && began < (head.heard.to ?? now()) - BEGUN_LATE;
      if (busy && !head.late) return;
      head.cancel();
      queue = queue.slice(1);
      emit(head.heard);
    }
  }

  function alone({ heard }: Pick<Waiting, 'heard'>): void {
    pool = pool.filter((w) => w.heard !== heard);
    const first = gone.filter((g) => g.by === 'first' && belongsTo(heard, g.heard));
    if (first.length > 0) {
      // Too late to be waited for: what the first said counts, and only a fault is new (R4).
      const told = withOther(
        heard,
        first.map((g) => g.heard),
        true,
      );
      if (!isSameWords(heard, told)) out.heard(told);
      return;
    }
    remember(heard, 'second');
    out.heard(heard);
  }

  function fromFirst(heard: Heard): void {
    losts = losts.filter((l) => {
      const same = heard.from === null || heard.to === null || l.from < heard.to;
      if (same) l.cancel();
      return !same;
    });
    const entry = {
      heard,
      late: false,
      cancel: wait(SECOND_WAITED, () => {
        entry.late = true;
        decide();
      }),
    };
    queue.push(entry);
    decide();
  }

  function fromSecond(heard: Heard): void {
    if (firstDown) {
      remember(heard, 'second');
      out.heard(heard);
      return;
    }
    const came = gone.some((g) => g.by === 'first' && belongsTo(heard, g.heard));
    if (came && !queue.some((q) => belongsTo(heard, q.heard))) {
      alone({ heard });
      return;
    }
    const entry: Waiting = { heard, at: now(), cancel: wait(FIRST_WAITED, () => overdue(entry)) };
    pool.push(entry);
    // The state that ends the hearing comes behind the words; what waits for them need not wait for it.
    hearingSince = null;
    decide();
  }

  /** The first has not answered: unless it is still being spoken to, the second's words go out alone. */
  function overdue(entry: Waiting): void {
    const left = entry.at + FIRST_WAITED_SPEAKING - now();
    if (partial !== '' && left > 0) entry.cancel = wait(Math.min(1, left), () => overdue(entry));
    else alone(entry);
  }

  function flush(): void {
    for (const { heard, cancel } of queue.splice(0)) {
      cancel();
      emit(heard);
    }
    for (const entry of [...pool]) {
      entry.cancel();
      alone(entry);
    }
    for (const { cancel } of losts.splice(0)) cancel();
  }

  function tell(): void {
    if (state === null) return;
    const beside = both && second !== null ? ` ${second.name} listens beside it.` : '';
    const either = state === 'hearing' || hearingSince !== null ? 'hearing' : 'listening';
    out.state(either, `${said}${beside}`);
  }

  function oneEar(why: string): void {
    both = false;
    hearingSince = null;
    out.notice({ kind: 'one-ear', sentence: `Only one recogniser listens. ${why}` });
    decide();
    tell();
  }

  function attachFirst(): void {
    offs.push(
      first.onHeard(fromFirst),
      first.onPartial((text) => {
        partial = text;
        out.partial(text === '' ? ownPartial : text);
      }),
      first.onLevel(out.level),
      first.onNotice((notice) => {
        // Words of the other one are worth more than the news that this one has none.
        if (notice.kind === 'lost' && (pool.length > 0 || hearingSince !== null)) return;
        out.notice(notice);
      }),
      first.onState((to, sentence, trouble) => {
        if (to === 'listening' || to === 'hearing') {
          state = to;
          said = sentence;
          tell();
          return;
        }
        state = null;
        if (to === 'trouble') {
          firstDown = true;
          flush();
        }
        // Closed together, below.
        if (to !== 'stopped') out.state(to, sentence, trouble);
      }),
    );
  }

  function attachSecond(ear: Ear): void {
    offs.push(
      ear.onHeard(fromSecond),
      ear.onPartial((text) => {
        ownPartial = text;
        if (partial === '') out.partial(text);
      }),
      ear.onLevel(out.level),
      ear.onNotice((notice) => {
        if (notice.kind === 'lost') lost(notice);
      }),
      ear.onState((to, sentence) => {
        if (to === 'trouble') {
          oneEar(sentence);
          return;
        }
        both = to === 'listening' || to === 'hearing' || to === 'held';
        hearingSince = to === 'hearing' ? (hearingSince ?? now()) : null;
        decide();
        tell();
      }),
    );
  }

  /** The second made no words of something: news only where the first makes none either. */
  function lost(notice: Parameters<typeof out.notice>[0]): void {
    const entry = {
      from: notice.from ?? now(),
      to: notice.to ?? now(),
      cancel: wait(FIRST_WAITED, () => {
        losts = losts.filter((l) => l !== entry);
        if (partial === '') out.notice(notice);
      }),
    };
    hearingSince = null;
    // The first was quicker: its words are this sound.
    const known = gone.some((g) => g.by === 'first' && (g.heard.to ?? 0) > entry.from);
    if (known || queue.some((q) => (q.heard.to ?? 0) > entry.from)) entry.cancel();
    else losts.push(entry);
    decide();
  }

  async function openSecond(): Promise<void> {
    const opened = await parts.second().catch(() => 'The other one does not answer.');
    if (!wanted) return;
    if (typeof opened === 'string') {
      oneEar(opened);
      return;
    }
    second = opened;
    attachSecond(opened);
    if (scene !== null) opened.expect(scene);
    await opened.start();
    if (wanted && held) opened.pause();
  }

  return {
    kind: first.kind,
    name: first.name,
    sendsAway: first.sendsAway,
    get beside() {
      return both ? (second?.name ?? null) : null;
    },
    async start() {
      if (wanted) return;
      wanted = true;
      held = false;
      firstDown = false;
      attachFirst();
      // The first is not held up by the other one's loading.
      void openSecond();
      await first.start();
    },
    async stop() {
      if (!wanted) return;
      wanted = false;
      await Promise.all([first.stop(), second?.stop()]);
      flush();
      for (const off of offs) off();
      offs = [];
      second = null;
      both = false;
      hearingSince = null;
      state = null;
      gone = [];
      partial = '';
      ownPartial = '';
      out.partial('');
      out.state('stopped', 'Listening is closed.');
    },
    pause() {
      held = true;
      first.pause();
      second?.pause();
    },
    resume() {
      held = false;
      first.resume();
      second?.resume();
    },
    expect(to) {
      scene = to;
      first.expect(to);
      second?.expect(to);
    },
    ...out.on,
  };
}
