import type { Services, WalkView } from '#screens';
import type { Finding } from '#shared/coverage';
import type { Statement } from '#shared/statement';
import type { Store } from '#store';
import { houseFor, testWorld } from '../wire/house.ts';

/** What came of one utterance, as a pilot would notice it. */
export interface Came {
  readonly words: string;
  /** What Talkround said back. */
  readonly spoken: string;
  /** The question that waits now, in full. */
  readonly question: string | null;
  readonly statements: readonly Statement[];
  readonly view: WalkView;
}

/** A pilot on a walk of the whole house: says things, and looks at the sheet. */
export interface Pilot {
  readonly house: Services;
  readonly store: Store;
  say(words: string): Promise<Came>;
  view(): WalkView;
  standing(check: string): string | undefined;
  /** Findings that count. */
  findings(): readonly Finding[];
  /** Checks that a finding demands. */
  demanded(): readonly string[];
}

const settle = () => new Promise((resolve) => setTimeout(resolve, 5));

/** Begins a walk of a starter catalogue; the pilot stands at no station yet. */
export async function pilotOn(
  catalogue = 'training-helicopter',
  given: {
    readonly aircraft?: string;
    readonly name?: string;
    readonly within?: Pick<Pilot, 'house' | 'store'> & { readonly spoken: string[] };
    readonly world?: ReturnType<typeof testWorld>;
    /** An author's file of a catalogue that is no starter: it is given out first. */
    readonly source?: string;
  } = {},
): Promise<Pilot & { spoken: string[]; world: ReturnType<typeof testWorld> }> {
  const world = given.world ?? testWorld('2026-03-01T08:00:00Z');
  const { house, store, spoken } = given.within ?? (await houseFor(world));
  if (given.source !== undefined) {
    const draft = await house.workshop?.begin({ from: 'text', text: given.source });
    if (draft?.ok !== true) throw new Error(draft?.error ?? 'There is no workshop.');
    const out = await house.workshop?.publish(draft.value, 'A. Author', 'For a walk of a test');
    if (out?.ok !== true) throw new Error(out?.error ?? 'There is no workshop.');
  }
  const begun = await house.begin({
    aircraft: given.aircraft ?? 'Rowan 2',
    catalogue,
    circumstances: [],
    pilot: given.name ?? 'A. Pilot',
    instructor: null,
    hours: 100,
    ear: 'typed',
  });
  if (!begun.ok) throw new Error(begun.error);
  await settle();
  const view = () => {
    const now = house.walk.get();
    if (now === null) throw new Error('No walk is in progress.');
    return now;
  };
  return {
    house,
    store,
    spoken,
    world,
    view,
    standing: (check) => view().coverage.checks.find((c) => c.check === check)?.standing,
    findings: () => view().coverage.findings.filter((f) => f.settled !== 'taken-back'),
    demanded: () =>
      view().coverage.checks.flatMap((c) => (c.required.by === 'follow-up' ? [c.check] : [])),
    async say(words) {
      world.pass(5);
      spoken.length = 0;
      const before = (await store.walk(view().id)).length;
      const outcome = await house.say(words);
      await settle();
      if (!outcome.ok) throw new Error(outcome.error);
      const events = (await store.walk(view().id)).slice(before);
      return {
        words,
        spoken: spoken.join(' '),
        question: view().question?.text ?? null,
        statements: events.flatMap((e) => (e.what.kind === 'stated' ? [e.what.statement] : [])),
        view: view(),
      };
    },
  };
}
