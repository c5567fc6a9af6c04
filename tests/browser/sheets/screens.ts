/** A screen in a situation worth looking at. */
export interface Screen {
  readonly name: string;
  /** Case of the double. */
  readonly of: string;
  /** Address behind the #. */
  readonly at: string;
  /** Something that is there once it is drawn. */
  readonly waits: string;
  /** What is pressed first there: on the first screenful, whole, in every size. */
  readonly main?: string;
}

export const SCREENS: readonly Screen[] = [
  { name: 'Begin', of: 'begin', at: '/', waits: '.go', main: '.go .press' },
  { name: 'Begin, never used', of: 'new', at: '/', waits: '.go', main: '.go .press' },
  { name: 'Begin, warned', of: 'told', at: '/', waits: '.one-told', main: '.go .press' },
  { name: 'Walk', of: 'walk', at: '/walk', waits: '.hands', main: '.hands .press:last-child' },
  {
    name: 'Walk, a question',
    of: 'ask',
    at: '/walk',
    waits: '.ask-options',
    main: '.hands .press:last-child',
  },
  {
    name: 'Walk, first use',
    of: 'first',
    at: '/walk',
    waits: '.first-use',
    main: '.hands .press:last-child',
  },
  {
    name: 'Walk, the ear loading',
    of: 'starting',
    at: '/walk',
    waits: '.is-starting',
    main: '.hands .press:last-child',
  },
  {
    name: 'Walk, photographed',
    of: 'pictured',
    at: '/walk',
    waits: '.picture img',
    main: '.hands .press:last-child',
  },
  {
    name: 'Walk, on hold',
    of: 'held',
    at: '/walk',
    waits: '.is-held',
    main: '.hands .press:last-child',
  },
  {
    name: 'Walk, demanded',
    of: 'demanded',
    at: '/walk',
    waits: '.demanded',
    main: '.hands .press:last-child',
  },
  {
    name: 'Walk, not yet kept',
    of: 'unkept',
    at: '/walk',
    waits: '.walk-now .notice',
    main: '.hands .press:last-child',
  },
  {
    name: 'Walk, not hearing',
    of: 'deaf',
    at: '/walk',
    waits: '.is-deaf',
    main: '.hands .press:last-child',
  },
  { name: 'Finish', of: 'walk', at: '/finish', waits: '.finish-go' },
  { name: 'Finish, photographed', of: 'pictured', at: '/finish', waits: '.picture img' },
  { name: 'Finish, the decision', of: 'finished', at: '/finish', waits: '.decide' },
  { name: 'Sheet', of: 'walk', at: '/sheet/w-full', waits: '.sheet-foot' },
  { name: 'Sheet, photographed', of: 'pictured', at: '/sheet/w-full', waits: '.picture img' },
  { name: 'Sheet, not signed', of: 'finished', at: '/sheet/w-left', waits: '.unsigned' },
  { name: 'Sheet, a second device', of: 'shared', at: '/sheet/w-half', waits: '.shared' },
  { name: 'Sheet, let in', of: 'guest', at: '/sheet/w-half', waits: '.shared' },
  {
    name: 'Sheet, a note after signing',
    of: 'amended',
    at: '/sheet/w-full',
    waits: '.said-beside',
  },
  { name: 'Finish, let in', of: 'guest', at: '/finish', waits: '.finish-go' },
  { name: 'Debrief', of: 'walk', at: '/debrief/w-full', waits: '.timeline' },
  {
    name: 'Side by side',
    of: 'begin',
    at: '/several/w-full,w-earlier,w-first',
    waits: '.multiples',
  },
  { name: 'Student', of: 'begin', at: '/student/M.%20Alder', waits: '.walks h2' },
  { name: 'Walks', of: 'begin', at: '/walks', waits: '.walk-list' },
  { name: 'Squawks', of: 'begin', at: '/squawks', waits: '.squawk-group' },
  { name: 'What was learned', of: 'begin', at: '/learned/Rowan%202', waits: '.learned-line' },
  { name: 'Squawk', of: 'begin', at: '/squawk', waits: '.quick' },
  { name: 'Ear check', of: 'begin', at: '/ear', waits: '.check-phrases' },
  { name: 'Settings', of: 'begin', at: '/settings', waits: '.settings' },
];

export const SIZES: readonly (readonly [width: number, height: number])[] = [
  [390, 844],
  [844, 390],
  [820, 1180],
  [1280, 800],
];
export const THEMES = ['light', 'dark'] as const;

export function addressOf(url: string, screen: Screen, theme: string): string {
  return `${url}?case=${screen.of}&theme=${theme}#${screen.at}`;
}
