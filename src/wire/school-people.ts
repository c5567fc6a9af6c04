import type { SchoolServices } from '#screens';
import { PasskeyMade, PasskeyUsed, type PasskeyWish, type SignInWish } from '#shared/passkey';
import type { Store } from '#store';
import type { InSchool, SchoolApi } from '#sync';
import type { offeredPhrases } from './offered.ts';
import { asked, attempt, done, good } from './outcome.ts';

/** Passkeys of the browser. Each rejects with one sentence where its user gave none. */
export interface BrowserPasskeys {
  make(wish: PasskeyWish): Promise<unknown>;
  use(wish: SignInWish): Promise<unknown>;
}

export interface PeopleParts {
  readonly store: Pick<Store, 'publicKey'>;
  readonly api: SchoolApi;
  readonly passkeys: BrowserPasskeys | null;
  /** What a desk calls itself. */
  readonly name: string;
  readonly offers: ReturnType<typeof offeredPhrases>;
  here(): InSchool;
  /** The school that this page comes from. */
  about(): Promise<string>;
  /** This device is in. */
  isIn(school: string): Promise<void>;
  /** A round now. */
  again(): Promise<void>;
  /** What is offered has changed. */
  offered(): Promise<void>;
}

export type PeopleServices = Pick<
  SchoolServices,
  | 'signIn'
  | 'passkeys'
  | 'addPasskey'
  | 'removePasskey'
  | 'fleet'
  | 'addAircraft'
  | 'changeAircraft'
  | 'erasePhrasesOf'
  | 'takePhrases'
  | 'leavePhrases'
>;

/** What people do at a school beside walking: sign in, keep the list of aircraft, pass on what was learned. */
export function peopleOfSchool(parts: PeopleParts): PeopleServices {
  const { api, here, offers, store, name } = parts;

  function browser(): BrowserPasskeys {
    if (parts.passkeys === null) throw new Error('This browser has no passkeys on this page.');
    return parts.passkeys;
  }

  return {
    signIn: () =>
      done(async () => {
        const [school, publicKey] = await Promise.all([parts.about(), store.publicKey()]);
        const wish = await api.askToSignIn(school, publicKey, name);
        const answer = PasskeyUsed.parse(await browser().use(wish));
        await api.signIn(school, publicKey, name, answer);
        await parts.isIn(school);
      }),
    passkeys: () => asked(() => here().passkeys()),
    addPasskey: (called) =>
      done(async () => {
        const wish = await here().askToAddPasskey();
        await here().addPasskey(called, PasskeyMade.parse(await browser().make(wish)));
      }),
    removePasskey: (id) => done(() => here().removePasskey(id)),
    fleet: () => asked(() => here().fleet()),
    addAircraft: (called, catalogue) =>
      done(async () => {
        await here().addAircraft(called, catalogue);
        await parts.again();
      }),
    changeAircraft: (id, change) =>
      done(async () => {
        await here().changeAircraft(id, change);
        await parts.again();
      }),
    erasePhrasesOf: (id) =>
      asked(async () => {
        const erased = await here().erasePhrasesOf(id);
        await parts.again();
        return erased;
      }),
    takePhrases: (aircraft) =>
      attempt(async () => {
        const taken = await offers.take(aircraft);
        await parts.offered();
        return taken.ok ? good({ text: taken.value.text }) : taken;
      }),
    leavePhrases: (aircraft) =>
      done(async () => {
        await offers.leave(aircraft);
        await parts.offered();
      }),
  };
}
