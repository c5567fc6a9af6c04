import type { Page } from 'playwright-core';

/** Where something is on a page. */
export type Find = (page: Page) => ReturnType<Page['locator']>;

/** What can be ordered by voice, and the same by hand. */
export interface ByHand {
  /** As it is said. */
  readonly say: string;
  /** What the grammar makes of it: a command by its name, anything else by its kind. */
  readonly is: string;
  readonly screen: string;
  /** What is to be opened first. */
  readonly first?: Find;
  /** What is pressed. */
  readonly press?: Find;
  /** What the house is then asked for. */
  readonly calls?: string;
  /** Where the press leads. */
  readonly leads?: string;
  /** For what is asked aloud: where the answer stands on the screen, with no press at all. */
  readonly stands?: Find;
}

const button = (name: string | RegExp) => (page: Page) =>
  page.getByRole('button', { name, exact: true }).first();
const toStations = (page: Page) => page.getByRole('button', { name: /Engine right side/ });
const toCheck = (page: Page) => page.locator('ul.here button', { hasText: 'Right magneto' });

export const BY_HAND: readonly ByHand[] = [
  {
    say: 'begin the walk',
    is: 'begin',
    screen: 'Begin',
    press: button('Begin the walk'),
    calls: 'begin',
  },
  {
    say: 'discard this walk',
    is: 'discard',
    screen: 'Finish',
    first: button('Discard this walk'),
    press: (page) => page.getByRole('dialog').getByRole('button', { name: 'Discard it' }),
    calls: 'discard',
  },
  { say: 'hold', is: 'hold', screen: 'Walk', press: button('Hold'), calls: 'hold' },
  {
    say: 'resume',
    is: 'resume',
    screen: 'Walk, on hold',
    press: button('Resume'),
    calls: 'resume',
  },
  {
    say: 'finish the walk',
    is: 'finish',
    screen: 'Finish',
    press: button(/^Finish with/),
    calls: 'finish',
  },
  {
    say: "what's left",
    is: 'left',
    screen: 'Walk',
    press: (page) => page.getByRole('link', { name: 'Finish the walk' }),
    leads: '#/finish',
  },
  {
    say: "what's left here",
    is: 'left-here',
    screen: 'Walk',
    stands: (page) => page.getByRole('list', { name: 'Left here' }),
  },
  {
    say: 'where am i',
    is: 'where',
    screen: 'Walk',
    stands: (page) => page.getByRole('heading', { level: 1 }),
  },
  {
    say: 'read that back',
    is: 'read-back',
    screen: 'Walk',
    stands: (page) => page.getByRole('region', { name: 'Last heard' }).locator('.made'),
  },
  {
    say: "what's next",
    is: 'next',
    screen: 'Walk',
    stands: (page) => page.locator('ul.here li').first(),
  },
  {
    say: 'say again',
    is: 'repeat',
    screen: 'Walk, a question',
    stands: (page) => page.getByRole('region', { name: 'Question' }).getByRole('heading'),
  },
  {
    say: 'yes',
    is: 'yes',
    screen: 'Walk, a question',
    press: button('Upper bearing'),
    calls: 'answer',
  },
  {
    say: 'no',
    is: 'no',
    screen: 'Walk, a question',
    press: button('Lower bearing'),
    calls: 'answer',
  },
  // What can be said is told by the field in which it can be typed.
  {
    say: 'help',
    is: 'help',
    screen: 'Walk',
    stands: (page) => page.getByRole('textbox', { name: 'Type instead of speaking' }),
  },
  {
    say: 'take that back',
    is: 'retraction',
    screen: 'Walk',
    press: button('That was wrong'),
    calls: 'wrong',
  },
  {
    say: 'now the tail boom',
    is: 'arrival',
    screen: 'Walk',
    first: toStations,
    press: (page) => page.getByRole('dialog').getByRole('button', { name: /Tail boom/ }),
    calls: 'goTo',
  },
  {
    say: 'right magneto good',
    is: 'observation',
    screen: 'Walk',
    first: toCheck,
    press: (page) => page.getByRole('dialog').getByRole('button', { name: 'Good, by touch' }),
    calls: 'settle',
  },
  {
    say: 'skip the right magneto, it is not fitted',
    is: 'set-aside',
    screen: 'Walk',
    first: toCheck,
    press: (page) => page.getByRole('dialog').getByRole('button', { name: 'Not fitted' }),
    calls: 'setAside',
  },
  {
    say: "it's night",
    is: 'circumstance',
    screen: 'Walk',
    first: (page) => page.locator('.today-now summary'),
    press: (page) => page.getByRole('checkbox', { name: 'Night' }),
    calls: 'setCircumstance',
  },
  {
    say: 'defer it',
    is: 'rating',
    screen: 'Finish, the decision',
    press: (page) =>
      page
        .getByRole('group', { name: /^How bad/ })
        .getByRole('button')
        .first(),
    calls: 'rate',
  },
];
