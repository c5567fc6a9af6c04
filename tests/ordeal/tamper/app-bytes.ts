import type { Page } from 'playwright-core';
import { judgeRead, read, STEP_MS, type AppOpened, type Read } from './app.ts';
import type { Outcome } from './routes.ts';
import type { Specimen } from './specimen.ts';

/** One bit of one byte of a file. */
export interface Change {
  readonly at: number;
  readonly bit: number;
}

/** Changes that one page tries before it is asked whether anything of the walk is there after all. */
const AT_ONCE = 40;

/** What the page is given and gives back: the sentences that were told, one for each change. */
interface Asked {
  readonly file: string;
  readonly changes: readonly Change[];
}

/**
 * Chooses one changed file after the other in the list of walks, as somebody
 * would, and reads what the app says. A file of which nothing was taken leaves the
 * record as it was, so the next one is brought into the same page; after one of
 * which anything was taken the sheet is read, and the page is given up for a new one.
 * Gives how many were not tried.
 */
export async function bytesThroughApp(
  { browser, at }: AppOpened,
  specimen: Specimen,
  honest: Read,
  changes: readonly Change[],
  /** Milliseconds since 1970 after which no more are begun. */
  end: number,
  note: (change: Change, outcome: Outcome) => void,
): Promise<number> {
  const file = Buffer.from(specimen.file).toString('base64');
  let left = changes;
  let failed = 0;
  while (left.length > 0 && Date.now() < end) {
    const context = await browser.newContext();
    context.setDefaultTimeout(STEP_MS);
    try {
      const page = await context.newPage();
      await page.goto(`${at}#/walks`);
      await page.locator('.drop input[type=file]').waitFor({ state: 'attached' });
      let fresh = true;
      while (left.length > 0 && fresh && Date.now() < end) {
        const asked = left.slice(0, AT_ONCE);
        const told = await chosen(page, { file, changes: asked });
        const empty = (await page.locator('.walk-list li').count()) === 0;
        for (const [i, change] of asked.slice(0, told.length).entries()) {
          const last = i === told.length - 1;
          const refused = isRefused(told[i] ?? '') && (empty || !last);
          fresh &&= refused;
          note(change, refused ? 'refused' : await byItself(change));
          left = left.slice(1);
        }
      }
      failed = 0;
    } catch (error) {
      // On a busy machine a page may not come in time: a new one is opened, twice.
      failed += 1;
      if (failed > 2) throw error;
    } finally {
      await context.close();
    }
  }

  return left.length;

  /** In a browser that knows nothing yet, with the sheet. */
  async function byItself({ at: place, bit }: Change): Promise<Outcome> {
    const changed = specimen.file.slice();
    changed[place] = (changed[place] ?? 0) ^ bit;
    return judgeRead(honest, await read(browser, at, specimen.walk, [changed]));
  }
}

/** It was refused in words, and not one event was taken. */
export function isRefused(told: string): boolean {
  const nothing = /Nothing was restored\.|Events: 0 restored, 0 here already\./.test(told);
  return nothing && !/Kept aside/.test(told);
}

/** Runs in the page, since a round for each change would take longer than what it measures. Ends after the first that is not refused. */
function chosen(page: Page, asked: Asked): Promise<readonly string[]> {
  return page.evaluate(async ({ file, changes }) => {
    const bytes = Uint8Array.from(atob(file), (c) => c.charCodeAt(0));
    const find = <T extends HTMLElement>(what: string) => document.querySelector<T>(what);
    const until = async <T>(look: () => T | null): Promise<T> => {
      for (;;) {
        const found = look();
        if (found !== null) return found;
        await new Promise((resolve) => setTimeout(resolve, 2));
      }
    };
    const told: string[] = [];
    for (const { at, bit } of changes) {
      const data = bytes.slice();
      data[at] = (data[at] ?? 0) ^ bit;
      const given = new DataTransfer();
      given.items.add(new File([data], 'changed.zip', { type: 'application/zip' }));
      const input = await until(() => find<HTMLInputElement>('.drop input[type=file]'));
      input.files = given.files;
      input.dispatchEvent(new Event('change', { bubbles: true }));
      const text = (await until(() => find('.told .notice p'))).textContent ?? '';
      told.push(text);
      (await until(() => find('.told .press'))).click();
      await until(() => (find('.told .notice p') === null ? true : null));
      const nothing = /Nothing was restored\.|Events: 0 restored, 0 here already\./.test(text);
      if (!nothing || text.includes('Kept aside')) break;
    }
    return told;
  }, asked);
}
