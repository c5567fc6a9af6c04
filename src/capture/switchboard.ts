import type { Heard } from '#shared/heard';
import { FIRST_SCENE, type Scene } from '#shared/scene';
import { listensSentence, substitutes, type Allowed, type Source } from './choose.ts';
import {
  listeners,
  type Ear,
  type EarParts,
  type EarState,
  type Off,
  type Trouble,
} from './ear.ts';

/**
 * One ear that stands for whichever source listens, and changes it in mid-walk
 * without losing or doubling an utterance.
 */
export interface Switchboard extends Ear {
  readonly source: Source;
  /** Changes to another source. The old one lets out what it was hearing. */
  use(source: Source, why: string): Promise<void>;
}

export interface SwitchboardOptions extends EarParts {
  readonly first: Source;
  readonly sources: readonly Source[];
  allowed(): Allowed;
  /**
   * Whether two sources may hold the microphone at once. Android's recogniser
   * and getUserMedia cannot; then the change has a gap of a few tenths.
   */
  readonly together: boolean;
  /** For the log and the screen. */
  readonly onChanged: (source: Source, why: string) => void;
}

/** Share of the shorter of two utterances that both cover, from which they are the same one. */
const SAME = 0.5;
/** Kinds of trouble in which another source would do better. */
const REPLACEABLE: ReadonlySet<Trouble | undefined> = new Set(['service', 'files']);

export function switchboard(options: SwitchboardOptions): Switchboard {
  const out = listeners();
  let source = options.first;
  let ear = source.make();
  let offs: Off[] = [];
  let wanted = false;
  let held = false;
  let scene: Scene = FIRST_SCENE;
  /** Utterances that the last source let out while the next one was listening already. */
  let overlap: Heard[] = [];
  let failed = new Set<Source['key']>();
  let changing: Promise<void> = Promise.resolve();

  function attach(to: Ear, of: Source): void {
    offs = [
      to.onHeard((heard) => {
        if (overlap.some((known) => sameTime(known, heard))) return;
        failed = new Set();
        out.heard(heard);
      }),
      to.onPartial((text) => out.partial(text)),
      to.onLevel((level) => out.level(level)),
      to.onLoading((share) => out.loading(share)),
      to.onNotice((notice) => out.notice(notice)),
      to.onState((state, sentence, trouble) => stateOf(of, state, sentence, trouble)),
    ];
  }

  function stateOf(of: Source, state: EarState, sentence: string, trouble?: Trouble): void {
    if (of !== source) return;
    if (state !== 'trouble' || !REPLACEABLE.has(trouble)) {
      out.state(state, sentence, trouble);
      return;
    }
    failed.add(of.key);
    out.state('starting', sentence);
    changing = changing.then(() => replace(of, sentence, trouble));
  }

  /** Finds something else that listens; says so where nothing does. */
  async function replace(of: Source, sentence: string, trouble?: Trouble): Promise<void> {
    if (!wanted || of !== source) return;
    for (const next of substitutes(of, options.allowed(), options.sources)) {
      if (failed.has(next.key)) continue;
      const answer = await next.probe().catch(() => ({ able: false }));
      if (!answer.able) {
        failed.add(next.key);
        continue;
      }
      await change(next, sentence);
      return;
    }
    out.state('trouble', `${sentence} Nothing else can listen; words can be typed.`, trouble);
  }

  async function change(next: Source, why: string): Promise<void> {
    const old = ear;
    const oldOffs = offs;
    const made = next.make();
    overlap = [];
    // From here on the old one's states are nobody's business; its words still are.
    source = next;
    if (!options.together) await old.stop();
    ear = made;
    attach(made, next);
    made.expect(scene);
    options.onChanged(next, `${why} ${listensSentence(next)}`);
    if (wanted) await made.start();
    if (wanted && held) made.pause();
    if (options.together) {
      const keep = old.onHeard((heard) => overlap.push(heard));
      await old.stop();
      keep();
    }
    for (const off of oldOffs) off();
  }

  attach(ear, source);
  return {
    get kind() {
      return ear.kind;
    },
    get name() {
      return source.name;
    },
    get sendsAway() {
      return source.sendsAway;
    },
    get beside() {
      return ear.beside ?? null;
    },
    get source() {
      return source;
    },
    use(next, why) {
      changing = changing.then(async () => {
        if (next.key !== source.key) await change(next, why);
      });
      return changing;
    },
    async start() {
      if (wanted) return;
      wanted = true;
      held = false;
      failed = new Set();
      await ear.start();
      await changing;
    },
    async stop() {
      wanted = false;
      await changing;
      await ear.stop();
      out.state('stopped', 'Listening is closed.');
    },
    pause() {
      held = true;
      ear.pause();
    },
    resume() {
      held = false;
      ear.resume();
    },
    expect(to) {
      scene = to;
      ear.expect(to);
    },
    ...out.on,
  };
}

/** Whether two utterances are the same stretch of sound, heard by two sources. */
function sameTime(a: Heard, b: Heard): boolean {
  if (a.from === null || a.to === null || b.from === null || b.to === null) return false;
  const common = Math.min(a.to, b.to) - Math.max(a.from, b.from);
  const shorter = Math.min(a.to - a.from, b.to - b.from);
  return shorter > 0 && common / shorter >= SAME;
}
