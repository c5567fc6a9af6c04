/** Every screen in a situation worth looking at: name, case of the double, address. */
export const SCREENS: readonly { name: string; of: string; at: string; waits: string }[] = [
  { name: 'Begin', of: 'begin', at: '/', waits: '.go' },
  { name: 'Walk', of: 'walk', at: '/walk', waits: '.hands' },
  { name: 'Walk, a question', of: 'ask', at: '/walk', waits: '.ask-options' },
  { name: 'Walk, on hold', of: 'held', at: '/walk', waits: '.is-held' },
  { name: 'Finish', of: 'walk', at: '/finish', waits: '.finish-go' },
  { name: 'Finish, the decision', of: 'finished', at: '/finish', waits: '.decide' },
  { name: 'Sheet', of: 'walk', at: '/sheet/w-full', waits: '.sheet-foot' },
  { name: 'Debrief', of: 'walk', at: '/debrief/w-full', waits: '.timeline' },
  {
    name: 'Side by side',
    of: 'begin',
    at: '/several/w-full,w-earlier,w-first',
    waits: '.multiples',
  },
  { name: 'Walks', of: 'begin', at: '/walks', waits: '.walk-list' },
  { name: 'Squawks', of: 'begin', at: '/squawks', waits: '.squawk-group' },
  { name: 'Squawk', of: 'begin', at: '/squawk', waits: '.quick' },
  { name: 'Settings', of: 'begin', at: '/settings', waits: '.settings' },
];

export const SIZES: readonly (readonly [width: number, height: number])[] = [
  [390, 844],
  [844, 390],
  [820, 1180],
  [1280, 800],
];
export const THEMES = ['light', 'dark'] as const;

export function addressOf(url: string, screen: (typeof SCREENS)[number], theme: string): string {
  return `${url}?case=${screen.of}&theme=${theme}#${screen.at}`;
}
