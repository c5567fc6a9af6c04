import type { CDPSession, Locator, Page } from 'playwright-core';

type Role = 'button' | 'link' | 'textbox' | 'radio' | 'checkbox' | 'combobox';

/** How somebody works the page: with the keyboard alone, or with a finger. */
export interface Hands {
  press(role: Role, name: string | RegExp): Promise<void>;
  /** Into a text field, in the place of what is there. */
  write(name: string | RegExp, text: string): Promise<void>;
  /** Opens or closes a <details>. */
  unfold(name: string): Promise<void>;
  /** Puts a row of the outline one place up. */
  up(row: string): Promise<void>;
  /** Moves a station of the plan to the right. */
  aside(station: RegExp): Promise<void>;
}

/** A line to write in; one that offers words is a combobox to those who cannot see it. */
function fieldOf(page: Page, name: string | RegExp): Locator {
  return page
    .getByRole('textbox', { name, exact: true })
    .or(page.getByRole('combobox', { name, exact: true }))
    .first();
}

/** More fields than any screen has. */
const TABS = 400;

/** Keys only: nothing is clicked, and everything is reached with Tab. */
export function byKeyboard(page: Page): Hands {
  const reach = async (wanted: Locator, what: string) => {
    await wanted.waitFor();
    for (let i = 0; i < TABS; i += 1) {
      if (await wanted.evaluate((e) => e === document.activeElement)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`Tab never comes to ${what}.`);
  };
  const one = (role: Role, name: string | RegExp) =>
    page.getByRole(role, { name, exact: true }).first();
  return {
    async press(role, name) {
      const wanted = one(role, name);
      if (role === 'radio') {
        // Tab comes to a group of radio buttons, the arrows move in it.
        const group = await wanted.getAttribute('name');
        const member = page.locator(`input[type=radio][name="${group ?? ''}"]:checked`);
        await reach(member, `the radio buttons of ${String(name)}`);
        for (let i = 0; i < 40 && !(await wanted.isChecked()); i += 1)
          // Upwards and round: the way down leads over the one that asks before it is set.
          await page.keyboard.press('ArrowUp');
        return;
      }
      await reach(wanted, `the ${role} ${String(name)}`);
      await page.keyboard.press(role === 'checkbox' ? 'Space' : 'Enter');
    },
    async write(name, text) {
      await reach(fieldOf(page, name), `the field ${String(name)}`);
      await page.keyboard.press('Control+A');
      // As the clipboard gives it.
      await page.keyboard.insertText(text);
    },
    async unfold(name) {
      await reach(page.locator('summary', { hasText: name }).first(), name);
      await page.keyboard.press('Enter');
    },
    async up(row) {
      await reach(
        page.getByRole('button', { name: `Move ${row}: drag it, or use the arrow keys` }),
        `the grip of ${row}`,
      );
      await page.keyboard.press('ArrowUp');
    },
    async aside(station) {
      await reach(
        page.getByRole('button', { name: station }).and(page.locator('.pin')),
        'the station',
      );
      await page.keyboard.press('Shift+ArrowRight');
    },
  };
}

/** The longest that a hand waits for a busy page, in ms. */
const IDLE_MS = 5000;

/** Fingers only; text comes as from the keyboard on the screen. */
export async function byTouch(page: Page): Promise<Hands> {
  const wire = await page.context().newCDPSession(page);
  const one = (role: Role, name: string | RegExp) =>
    page.getByRole(role, { name, exact: true }).first();
  return {
    press: async (role, name) => {
      // A page that is still busy with the touch before gets the end of this one late, and takes
      // it for a long press, which presses nothing: people look first, and so does this hand.
      await page.evaluate(
        (ms) => new Promise<void>((done) => requestIdleCallback(() => done(), { timeout: ms })),
        IDLE_MS,
      );
      // A choice is pressed by its whole line.
      if (role === 'radio')
        await page
          .locator('label', { has: one(role, name) })
          .last()
          .tap();
      else await one(role, name).tap();
    },
    async write(name, text) {
      const field = fieldOf(page, name);
      await field.tap();
      await field.selectText();
      await page.keyboard.insertText(text);
    },
    unfold: (name) => page.locator('summary', { hasText: name }).first().tap(),
    async up(row) {
      const grip = page.getByRole('button', {
        name: `Move ${row}: drag it, or use the arrow keys`,
      });
      await grip.scrollIntoViewIfNeeded();
      const box = await grip.boundingBox();
      if (box === null) throw new Error(`${row} is not on the screen.`);
      const from = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      await drag(wire, from, { x: from.x, y: from.y - box.height });
    },
    async aside(station) {
      const pin = page.getByRole('button', { name: station }).and(page.locator('.pin'));
      await pin.scrollIntoViewIfNeeded();
      const box = await pin.boundingBox();
      if (box === null) throw new Error('The station is not on the screen.');
      const from = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      await drag(wire, from, { x: from.x + 25, y: from.y });
    },
  };
}

/** A finger that goes down, along and up, as the browser gets it from a touch screen. */
async function drag(
  wire: CDPSession,
  from: { x: number; y: number },
  to: { x: number; y: number },
): Promise<void> {
  const touch = (
    type: 'touchStart' | 'touchMove' | 'touchEnd',
    points: { x: number; y: number }[],
  ) => wire.send('Input.dispatchTouchEvent', { type, touchPoints: points });
  await touch('touchStart', [from]);
  for (let step = 1; step <= 6; step += 1) {
    const part = step / 6;
    await touch('touchMove', [
      { x: from.x + (to.x - from.x) * part, y: from.y + (to.y - from.y) * part },
    ]);
  }
  await touch('touchEnd', []);
}
